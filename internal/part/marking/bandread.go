package marking

import (
	"fmt"
	"slices"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcColour = part.Source{Text: "IEC 60062:2016, colour code", Mark: part.Read}
	srcGrey   = part.Source{Text: "IEC 60062:2016, grey tolerance ±0.01 %; older charts say ±0.05 %", Mark: part.Memory}
	srcCoil   = part.Source{Text: "EIA colour code on inductors, µH", Mark: part.Memory}
)

// row is one arrangement of bands to decode, with what it cost to get there.
type row struct {
	cs     []Colour
	weight float64
	why    []string
}

// readBands gives every reading of a row of bands, from both ends, for
// resistors and moulded inductors.
func readBands(cs []Colour, h Hint) ([]Reading, error) {
	if slices.Equal(cs, []Colour{Black}) {
		r := newReading(part.Resistor, "colour bands", 0.9, "a single black band is a wire link in a resistor's body", part.Source{Text: "IEC 60062", Mark: part.Memory})
		r.Unit, r.Text = "Ω", "0 Ω link"
		h.apply(&r, Leaded)
		return []Reading{r}, nil
	}
	if len(cs) < 3 || len(cs) > 6 {
		return nil, fmt.Errorf("%s: too few or too many bands for a reading (%d); give three to six, with ? for one that cannot be made out", names(cs), len(cs))
	}
	if n := count(cs, Unseen); n > 2 {
		return nil, fmt.Errorf("%d of the bands cannot be made out: too many readings remain; measure the part or look for its twin on the board", n)
	}
	var out []Reading
	for _, rw := range arrangements(cs, h.Burnt) {
		if r, ok := resistorBands(rw); ok {
			h.apply(&r, Leaded)
			out = append(out, r)
		}
		if r, ok := inductorBands(rw); ok {
			h.apply(&r, Leaded)
			out = append(out, r)
		}
		if r, ok := fourPlusTC(rw); ok {
			h.apply(&r, Leaded)
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s is impossible from either end: the first bands must be digits, the last a tolerance; look again at the colours", names(cs))
	}
	return out, nil
}

// arrangements fills in unseen bands, exchanges mistaken colours, and gives each
// result in both directions.
func arrangements(cs []Colour, burnt bool) []row {
	rows := []row{{cs: cs, weight: 1}}
	for i, c := range cs {
		if c == Unseen {
			rows = substitute(rows, i, allColours(), 1.0/float64(Unseen), "taken as")
		}
	}
	if burnt && len(rows) <= 200 {
		base := rows
		for i, c := range cs {
			if c != Unseen {
				rows = append(rows, substitute(base, i, mistaken[c], 0.08, c.String()+" taken as darkened or faded")...)
			}
		}
	}
	var out []row
	for _, r := range rows {
		fwd := row{r.cs, r.weight * 0.65, r.why}
		back := row{reversed(r.cs), r.weight * 0.35, append(slices.Clone(r.why), "read from the other end")}
		if slices.Equal(fwd.cs, back.cs) {
			out = append(out, row{r.cs, r.weight, append(slices.Clone(r.why), "reads the same from both ends")})
			continue
		}
		out = append(out, fwd, back)
	}
	return out
}

func substitute(rows []row, i int, with []Colour, weight float64, why string) []row {
	var out []row
	for _, r := range rows {
		for _, c := range with {
			n := row{slices.Clone(r.cs), r.weight * weight, append(slices.Clone(r.why), fmt.Sprintf("band %d %s %s", i+1, why, c))}
			n.cs[i] = c
			out = append(out, n)
		}
	}
	return out
}

func resistorBands(rw row) (Reading, bool) {
	v, err := DecodeBands(rw.cs)
	if err != nil || v.Ohms == 0 {
		return Reading{}, false
	}
	r := newReading(part.Resistor, fmt.Sprintf("%d colour bands", len(rw.cs)), rw.weight, names(rw.cs), srcColour)
	r.Reasons = append(r.Reasons, rw.why...)
	r.Value, r.Unit, r.TCppm = v.Ohms, "Ω", v.TCppm
	r.tolerance(Symmetric(v.Tolerance))
	r.Text = describe(v.Ohms, "Ω", Symmetric(v.Tolerance))
	if v.TCppm > 0 {
		r.Text += fmt.Sprintf(", %g ppm/K", v.TCppm)
	}
	bandOdds(&r, rw.cs)
	if _, err := DecodeBands(reversed(rw.cs)); err != nil {
		what, _, _ := strings.Cut(err.Error(), ";")
		r.times(1, "from the other end it is impossible: "+what)
	}
	r.preferred(v.Tolerance)
	r.within(0.1, 22e6, "resistors with bands")
	return r, true
}

// bandOdds weighs the shape of the row: where colours usually stand.
func bandOdds(r *Reading, cs []Colour) {
	if cs[0] == Black {
		r.times(0.02, "a first band of black (a leading zero) is not used")
	}
	n := 3 // index of the tolerance band
	if len(cs) >= 5 {
		n = 4
	}
	if len(cs) > n {
		t := cs[n]
		odds := table[t].tolOdds
		if len(cs) == 4 && t == Gold {
			r.times(1, "gold, ±5 %, is the usual last band")
		} else if odds < 0.1 {
			r.times(odds, fmt.Sprintf("a tolerance of ±%s is rare", unit.Format(table[t].tol, "%")))
		} else {
			if len(cs) == 4 && odds < 1 || len(cs) == 4 && t == Brown {
				odds *= 0.3
			}
			if len(cs) >= 5 && (t == Gold || t == Silver) {
				odds *= 0.25
			}
			r.times(odds, "")
		}
		if t == Grey {
			r.Source = srcGrey
		}
	}
	if len(cs) == 3 {
		r.times(0.5, "three bands, ±20 %: old or very cheap, or a fourth band has worn off")
	}
	if len(cs) == 6 && r.TCppm != 100 && r.TCppm != 50 {
		r.times(0.3, fmt.Sprintf("%g ppm/K is less usual than 50 or 100", r.TCppm))
	}
}

// fourPlusTC reads five bands as the old form: four, then a temperature
// coefficient or a reliability level, which only parts with a gold or silver fourth
// band were given.
func fourPlusTC(rw row) (Reading, bool) {
	if len(rw.cs) != 5 || rw.cs[3] != Gold && rw.cs[3] != Silver {
		return Reading{}, false
	}
	v, err := DecodeBands(rw.cs[:4])
	if err != nil || v.Ohms == 0 {
		return Reading{}, false
	}
	r := newReading(part.Resistor, "4 colour bands and a fifth", rw.weight*0.12, names(rw.cs), part.Source{Text: "older use: fifth band for temperature coefficient or reliability", Mark: part.Memory})
	r.Reasons = append(append(r.Reasons, rw.why...), "gold or silver fourth, as on a four-band part; the fifth would be a temperature coefficient or reliability level")
	r.Value, r.Unit = v.Ohms, "Ω"
	r.tolerance(Symmetric(v.Tolerance))
	r.Text = describe(v.Ohms, "Ω", Symmetric(v.Tolerance))
	if rw.cs[0] == Black {
		r.times(0.02, "a first band of black (a leading zero) is not used")
	}
	r.preferred(v.Tolerance)
	r.within(0.1, 22e6, "resistors with bands")
	return r, true
}

func inductorBands(rw row) (Reading, bool) {
	if len(rw.cs) != 4 && len(rw.cs) != 3 {
		return Reading{}, false
	}
	tol := Symmetric(0.20)
	cs := rw.cs
	if len(cs) == 4 {
		if cs[3] != Black {
			t := table[cs[3]].tol
			if t != 0.05 && t != 0.1 {
				return Reading{}, false
			}
			tol = Symmetric(t)
		}
		cs = cs[:3]
	}
	v, err := DecodeBands(cs)
	if err != nil || v.Ohms == 0 {
		return Reading{}, false
	}
	r := newReading(part.Inductor, "colour bands on an inductor", rw.weight*0.08, names(rw.cs)+" in µH", srcCoil)
	r.Reasons = append(append(r.Reasons, rw.why...), "moulded inductors look like fat resistors, often green or blue-green, and measure a few ohms or less")
	d, exp, err := mantissa(v.Ohms, 2)
	if err != nil {
		return Reading{}, false
	}
	r.Value, r.Unit = power10(d, exp-6), "H"
	r.tolerance(tol)
	r.Text = describe(r.Value, "H", tol)
	if rw.cs[0] == Black {
		r.times(0.1, "a first band of black is unusual")
	}
	r.preferred(0.1)
	r.within(0.1e-6, 100e-3, "moulded inductors")
	return r, true
}

func reversed(cs []Colour) []Colour {
	out := slices.Clone(cs)
	slices.Reverse(out)
	return out
}

func count(cs []Colour, c Colour) int {
	n := 0
	for _, x := range cs {
		if x == c {
			n++
		}
	}
	return n
}

func allColours() []Colour {
	out := make([]Colour, Unseen)
	for i := range out {
		out[i] = Colour(i)
	}
	return out
}
