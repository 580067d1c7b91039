package marking

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// Suppression classes of IEC 60384-14.
var classes = map[string]string{
	"X1": "across the line, pulses above 2.5 kV up to 4 kV",
	"X2": "across the line, pulses up to 2.5 kV; the usual one",
	"X3": "across the line, pulses up to 1.2 kV",
	"Y1": "line to earth or across the isolation barrier (double insulation), up to 500 V AC, tested with 8 kV",
	"Y2": "line to earth (basic insulation), 150 to 300 V AC, tested with 5 kV",
	"Y3": "line to earth, 150 to 250 V AC, no pulse test",
	"Y4": "line to earth, below 150 V AC, tested with 2.5 kV",
}

var srcClass = part.Source{Text: "IEC 60384-14, classes of suppression capacitors", Mark: part.Memory}

// suppressors reads an inscription that names a suppression class.
func suppressors(tok string, s *scan) []Reading {
	if s.class == "" {
		return nil
	}
	values := capValues(tok)
	if tok == "" {
		values = []capValue{{weight: 0.5, scheme: "suppression class", why: "only the class can be made out"}}
	}
	var out []Reading
	for _, c := range values {
		r := newReading(part.Suppression, c.scheme, 1.2*c.weight, c.why, srcClass)
		r.Class = s.class
		r.Text = "class " + s.class
		if c.farad > 0 {
			t := c.tol
			if s.tol.High > 0 {
				t = s.tol
			}
			r.Value, r.Unit = c.farad, "F"
			r.tolerance(t)
			r.Text = describe(c.farad, "F", t) + ", " + r.Text
			r.preferred(math.Max(0.05, t.width(c.farad)))
			if s.class[0] == 'Y' || strings.Contains(s.class, "Y") {
				r.within(10e-12, 100e-9, "Y capacitors")
			} else {
				r.within(1e-9, 10e-6, "X capacitors")
			}
		}
		if s.volts > 0 {
			r.VoltsAC = s.volts
			r.Text += ", " + unit.Format(s.volts, "V") + " AC"
		}
		for i := 0; i+2 <= len(s.class); i += 2 {
			r.Reasons = append(r.Reasons, s.class[i:i+2]+": "+classes[s.class[i:i+2]])
		}
		r.caution(fmt.Sprintf("safety part between mains and person or mains and fire: replace by the same class (%s), approved, same capacitance, never by an ordinary capacitor", s.class))
		out = append(out, r)
	}
	return out
}
