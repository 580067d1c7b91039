package marking

import (
	"regexp"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcZener = part.Source{Text: "voltage with V for the point, on zener diodes; B and C stand for ±2 and ±5 %", Mark: part.Memory}
	reZener  = regexp.MustCompile(`^([BC])?(\d{1,3})V(\d)$`)
)

// zeners reads 5V1 and C5V6 as a zener voltage.
func zeners(tok string, s *scan) []Reading {
	m := reZener.FindStringSubmatch(tok)
	if m == nil || s.class != "" || s.ac {
		return nil
	}
	v := power10(m[2]+m[3], -len(m[3]))
	if v <= 0 {
		return nil
	}
	r := newReading(part.Zener, "letter for the point", 0.5, "V stands for the decimal point", srcZener)
	r.Value, r.Unit = v, "V"
	t := Tolerance{}
	switch m[1] {
	case "B":
		t = Symmetric(0.02)
	case "C":
		t = Symmetric(0.05)
	}
	r.tolerance(t)
	r.Text = describe(v, "V", t)
	r.within(2, 200, "zener diodes")
	r.preferred(0.05)
	r.caution(polarity[part.Zener])
	if s.watts > 0 {
		r.Watts = s.watts
		r.Text += ", " + unit.Format(s.watts, "W")
	}
	return []Reading{r}
}
