package partdesk

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/part"
	"fettler/internal/part/combine"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
	"fettler/internal/part/unit"
)

// A CombineAsk is a value wanted from what is at hand.
type CombineAsk struct {
	Element string // one of CombineElements
	Value   string // "4k7"
	Rating  string // "0.25 W", "25 V", "1 A"; "" any
	Parts   int    // most parts, 0: 3
	Typed   string // further parts at hand, parted by commas: "22k 1/4 W, 4 × 1k"
	NoShelf bool   // only what is typed
}

type element struct {
	of    combine.Element
	kinds []part.Kind
	value fit.Param
	rate  fit.Param
	unit  string
}

var elements = map[string]element{
	"resistors":  {combine.Resistors, []part.Kind{part.Resistor}, fit.Resistance, fit.Power, "Ω"},
	"capacitors": {combine.Capacitors, []part.Kind{part.Film, part.Ceramic, part.Electrolytic}, fit.Capacitance, fit.VoltsDC, "F"},
	"inductors":  {combine.Inductors, []part.Kind{part.Inductor}, fit.Inductance, fit.Current, "H"},
}

// CombineElements lists what can be combined.
func CombineElements() []string { return []string{"resistors", "capacitors", "inductors"} }

// CombineElement says what a value is of: "12k" of resistors, "3.3 µF" of capacitors, "22 µH" of inductors.
func CombineElement(value string) string {
	for _, name := range []string{"capacitors", "inductors"} {
		u := elements[name].unit
		if v, err := unit.Parse(value, u); err == nil && v > 0 && strings.HasSuffix(strings.TrimSpace(value), u) {
			return name
		}
	}
	if v := strings.TrimRight(strings.TrimSpace(value), "0123456789"); strings.ContainsAny(v, "pnµu") {
		return "capacitors"
	}
	return "resistors"
}

// Combined is ways to make a value.
type Combined struct {
	Element string    `json:"element"`
	Wanted  string    `json:"wanted"`
	Ways    []Network `json:"ways"` // closest first
	Tried   int       `json:"tried"`
	Left    int       `json:"left"` // different values at hand that were too many to try
	Far     bool      `json:"far"`  // none comes within a fifth
	Caution string    `json:"caution"`
}

// A Network is one way to make a value.
type Network struct {
	Words  string   `json:"words"` // "(22 kΩ ∥ 22 kΩ) + 1 kΩ"
	Value  string   `json:"value"`
	Error  float64  `json:"error"` // (value − wanted) / wanted
	Off    string   `json:"off"`   // the same in words: "exact", "+2.3 %"
	Low    string   `json:"low"`   // all parts at their low limit
	High   string   `json:"high"`
	Rating string   `json:"rating"` // what the whole may carry, "" not known
	Parts  []NetUse `json:"parts"`
	Notes  []string `json:"notes"`
}

// A NetUse is one piece of a network.
type NetUse struct {
	Name  string  `json:"name"`
	Line  string  `json:"line"` // of the shelf, "" typed
	Place string  `json:"place"`
	Share float64 `json:"share"` // of power, voltage or current
}

// farOff is an error, as a fraction, beyond which a network is shown only if none is closer.
const farOff = 0.2

func offWords(e float64) string {
	if math.Abs(e) < 0.0005 {
		return "exact"
	}
	return fmt.Sprintf("%+.1f %%", 100*e)
}

// mostValues bounds the different values that are tried.
const mostValues = 120

type atHand struct {
	combine.Stock
	line, place string
}

// Combine makes a value from what is at hand.
func (d *Desk) Combine(ctx context.Context, a CombineAsk) (*Combined, error) {
	el, ok := elements[a.Element]
	if !ok {
		return nil, failure.New(failure.BadInput, "take one of "+strings.Join(CombineElements(), ", "), "%q cannot be combined", failure.Clip(a.Element))
	}
	want, err := unit.Parse(a.Value, el.unit)
	if err != nil || !(want > 0) {
		return nil, failure.New(failure.BadInput, "write it as in: "+map[string]string{"Ω": "4k7", "F": "3.3 µF", "H": "22 µH"}[el.unit], "%q is no value for %s", failure.Clip(a.Value), a.Element)
	}
	g := combine.Goal{Element: el.of, Value: want, MaxParts: a.Parts, Best: 8, Close: 0.002}
	if g.Rating, err = typed(a.Rating, el.of.RatingUnit(), "the rating", "25 "+el.of.RatingUnit()); err != nil {
		return nil, err
	}
	all, err := d.atHandFor(ctx, el, a)
	if err != nil {
		return nil, err
	}
	out := &Combined{Element: a.Element, Wanted: unit.Format(want, el.unit), Ways: []Network{},
		Caution: "never build a mains suppression capacitor or a fusible resistor from others: they are replaced like for like"}
	all, out.Left = nearest(all, want)
	out.Tried = len(all)
	stocks := make([]combine.Stock, len(all))
	for i := range all {
		stocks[i] = all[i].Stock
	}
	found, err := combine.Find(ctx, stocks, g)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, &failure.Error{Code: failure.NotFound, Text: err.Error(), Next: "add parts, or ask for less", Err: err}
	}
	out.Far = math.Abs(found[0].Error) > farOff
	for _, n := range found {
		if math.Abs(n.Error) > farOff && len(out.Ways) > 0 {
			break
		}
		x := Network{Words: n.Text, Value: unit.Format(n.Value, el.unit), Error: n.Error, Off: offWords(n.Error), Low: unit.Format(n.Low, el.unit), High: unit.Format(n.High, el.unit), Parts: []NetUse{}, Notes: list(n.Notes)}
		if n.Rating > 0 {
			x.Rating = unit.Format(n.Rating, el.of.RatingUnit())
		}
		for _, p := range n.Parts {
			x.Parts = append(x.Parts, NetUse{Name: all[p.Stock].Name, Line: all[p.Stock].line, Place: all[p.Stock].place, Share: p.Share})
		}
		out.Ways = append(out.Ways, x)
	}
	return out, nil
}

// atHandFor collects what there is, equal parts of a place together.
func (d *Desk) atHandFor(ctx context.Context, el element, a CombineAsk) ([]atHand, error) {
	var out []atHand
	index := map[string]int{}
	add := func(name string, figures map[fit.Param]float64, count int, line, place string) {
		v := figures[el.value]
		if !(v > 0) || count <= 0 {
			return
		}
		s := combine.Stock{Name: name, Value: v, Tolerance: figures[fit.Tolerance], Rating: figures[el.rate], Count: count}
		key := fmt.Sprint(v, s.Tolerance, s.Rating)
		if i, ok := index[key]; ok {
			out[i].Count += count
			return
		}
		index[key] = len(out)
		out = append(out, atHand{s, line, place})
	}
	if !a.NoShelf {
		all, err := d.bench.PartsAtHand(ctx, el.kinds...)
		if err != nil {
			return nil, err
		}
		for _, l := range all {
			add(l.Name, l.Figures, l.Count, l.ID, l.Place)
		}
	}
	for _, t := range strings.FieldsFunc(a.Typed, func(r rune) bool { return r == '\n' || r == ';' }) {
		for _, piece := range splitTyped(t) {
			n, rest := stock.SplitCount(piece)
			p := stock.Read(string(el.kinds[0]) + " " + rest)
			if v, err := unit.Parse(rest, el.unit); err == nil && v > 0 {
				p.Figures[el.value] = v // a bare figure
			}
			if !(p.Figures[el.value] > 0) || n > stock.MostCount {
				return nil, failure.New(failure.BadInput, "write it as in: 4 × 22k 1/4 W", "%q is no part with a value", failure.Clip(piece))
			}
			add(rest, p.Figures, n, "", "")
		}
	}
	if len(out) == 0 {
		return nil, failure.New(failure.NotFound, "put some on the shelf, or type what is at hand", "there are no %s at hand", a.Element)
	}
	return out, nil
}

// splitTyped parts a line at commas that are not decimal ones.
func splitTyped(s string) []string {
	var out []string
	from := 0
	digit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	for i := 0; i <= len(s); i++ {
		if i < len(s) && (s[i] != ',' || digit(i-1) && digit(i+1)) {
			continue
		}
		if p := strings.TrimSpace(s[from:i]); p != "" {
			out = append(out, p)
		}
		from = i + 1
	}
	return out
}

// nearest keeps what lies closest to the value wanted, in ratio: a part a thousand
// times larger or smaller changes the whole by a thousandth.
func nearest(all []atHand, want float64) ([]atHand, int) {
	if len(all) <= mostValues {
		return all, 0
	}
	slices.SortStableFunc(all, func(a, b atHand) int {
		return cmp.Compare(ratio(a.Value, want), ratio(b.Value, want))
	})
	return all[:mostValues], len(all) - mostValues
}

func ratio(a, b float64) float64 { return max(a/b, b/a) }
