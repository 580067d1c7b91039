package marking

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"fettler/internal/part"
	"fettler/internal/part/eseries"
	"fettler/internal/part/unit"
)

// Hint is what the circuit tells before reading. Its zero value means nothing
// is known.
type Hint struct {
	Kind part.Kind // what the part looks like
	Tech Tech      // how it is mounted
	Min  float64   // least value expected, SI; 0 = open
	Max  float64   // greatest value expected, SI; 0 = open
	Year int       // this year, so that no date code lies in the future; 0 = do not check
	// Burnt says the colours may have darkened or faded: each band may then be one
	// it is commonly confused with, at a lower plausibility.
	Burnt bool
	Limit int // most readings returned; 0 = 12
}

// Tech is how the part is mounted.
type Tech string

// The two technologies; the zero value is "not known".
const (
	AnyTech Tech = ""
	SMD     Tech = "surface mount"
	Leaded  Tech = "leaded"
)

// Reading is one way to read a marking. Figures that the marking does not give
// are zero.
type Reading struct {
	Kind   part.Kind
	Scheme string // the rule it was read by
	Text   string // the reading in words

	Value   float64 // main figure in Unit
	Unit    string  // "Ω", "F", "H", "Hz", "A", "V", "°C"; "" when there is no main figure
	TolLow  float64 // lower tolerance as a fraction, negative
	TolHigh float64 // upper tolerance as a fraction
	TolF    float64 // ± tolerance in farad, where the letter means picofarads
	Series  string  // smallest preferred series holding the value; "" = none

	VoltsDC    float64 // rated voltage
	VoltsAC    float64
	Amps       float64
	Watts      float64
	TempMaxC   float64
	TempMinC   float64
	TCppm      float64 // temperature coefficient, ppm/K
	DiscMM     float64 // disc diameter
	Class      string  // suppression class, such as X2 or X1Y2
	Dielectric string  // such as X7R
	Speed      string  // fuse speed letter
	Breaking   string  // fuse breaking-capacity letter
	Dates      []Date  // all the dates a date code may mean

	Plausibility float64  // 0..1, see the package comment
	Reasons      []string // what speaks for and against
	Cautions     []string // what can hurt if this is got wrong
	Source       part.Source

	weight float64
	tech   Tech
}

func newReading(k part.Kind, scheme string, weight float64, why string, src part.Source) Reading {
	return Reading{Kind: k, Scheme: scheme, weight: weight, Source: src, Reasons: []string{why}}
}

// times weighs the reading; a factor of one adds nothing but the reason.
func (r *Reading) times(f float64, why string) {
	r.weight *= f
	if why != "" {
		r.Reasons = append(r.Reasons, why)
	}
}

func (r *Reading) caution(s string) { r.Cautions = append(r.Cautions, s) }

func (r *Reading) tolerance(t Tolerance) {
	r.TolLow, r.TolHigh, r.TolF = t.Low, t.High, t.Farad
}

// preferred weighs the value by its membership of the series made for its
// tolerance: the strongest sign of a code read the right way round.
func (r *Reading) preferred(tol float64) {
	of := eseries.Of(r.Value)
	if len(of) == 0 {
		r.times(0.03, fmt.Sprintf("%s is in no E series", unit.Format(r.Value, r.Unit)))
		return
	}
	r.Series = of[0].String()
	want := eseries.ForTolerance(tol)
	if tol <= 0 {
		want = eseries.E24
	}
	switch {
	case want.Contains(r.Value):
		r.times(1, fmt.Sprintf("a preferred value of %s", want))
	case want > eseries.E24 && eseries.E24.Contains(r.Value):
		r.times(0.8, "a preferred value of E24, which tight parts are made in too")
	case of[0] <= eseries.E24 && want < of[0]:
		r.times(0.5, fmt.Sprintf("in %s, finer than its tolerance needs", r.Series))
	default:
		r.times(0.12, fmt.Sprintf("only in %s, odd for its tolerance", r.Series))
	}
}

// within weighs the value by the range such parts are made in.
func (r *Reading) within(lo, hi float64, what string) {
	switch {
	case r.Value >= lo && r.Value <= hi:
	case r.Value >= lo/30 && r.Value <= hi*30:
		r.times(0.15, fmt.Sprintf("%s usually run from %s to %s", what, unit.Format(lo, r.Unit), unit.Format(hi, r.Unit)))
	default:
		r.times(0.01, fmt.Sprintf("far outside what %s are made in (%s to %s)", what, unit.Format(lo, r.Unit), unit.Format(hi, r.Unit)))
	}
}

// apply weighs by what the caller expects.
func (h Hint) apply(r *Reading, tech Tech) {
	if h.Kind != part.Unknown && r.Kind != part.Unknown {
		switch {
		case h.Kind == r.Kind:
			r.times(1, "it is the kind of part expected")
		case related(h.Kind, r.Kind):
			r.times(0.4, fmt.Sprintf("a %s was expected, which is close", h.Kind))
		default:
			r.times(0.01, fmt.Sprintf("a %s was expected", h.Kind))
		}
	}
	if h.Tech != AnyTech && tech != AnyTech && h.Tech != tech {
		r.times(0.1, fmt.Sprintf("this code is usual on %s parts", tech))
	}
	if r.Unit == "" || r.Value <= 0 || !(h.Min > 0 || h.Max > 0) {
		return
	}
	switch {
	case h.Min > 0 && r.Value < h.Min*(1-1e-9):
		r.times(0.03, fmt.Sprintf("below the %s expected", unit.Format(h.Min, r.Unit)))
	case h.Max > 0 && r.Value > h.Max*(1+1e-9):
		r.times(0.03, fmt.Sprintf("above the %s expected", unit.Format(h.Max, r.Unit)))
	default:
		r.times(1, "within the range expected")
	}
}

func related(a, b part.Kind) bool {
	resistors := a == part.Resistor || a == part.FusibleResistor
	return a.Capacitor() && b.Capacitor() || resistors && (b == part.Resistor || b == part.FusibleResistor)
}

// rank turns weights into plausibilities and orders the readings.
func rank(rs []Reading, limit int) []Reading {
	rs = merge(rs)
	const other = 0.02
	sum := other
	for _, r := range rs {
		sum += r.weight
	}
	for i := range rs {
		rs[i].Plausibility = rs[i].weight / sum
	}
	slices.SortStableFunc(rs, func(a, b Reading) int {
		return cmp.Or(cmp.Compare(b.Plausibility, a.Plausibility), cmp.Compare(a.Text, b.Text), cmp.Compare(a.Scheme, b.Scheme))
	})
	if limit <= 0 {
		limit = 12
	}
	return rs[:min(limit, len(rs))]
}

// merge keeps one of several routes to the same reading, the likeliest.
func merge(rs []Reading) []Reading {
	at := map[string]int{}
	var out []Reading
	for _, r := range rs {
		key := string(r.Kind) + "|" + r.Scheme + "|" + r.Text
		i, seen := at[key]
		switch {
		case !seen:
			at[key] = len(out)
			out = append(out, r)
		case r.weight > out[i].weight:
			out[i] = r
		}
	}
	return out
}

// power10 is digits·10^exp rounded once, so that 47 and 2 is exactly 4700.
func power10(digits string, exp int) float64 {
	v, err := strconv.ParseFloat(digits+"e"+strconv.Itoa(exp), 64)
	if err != nil {
		return 0
	}
	return v
}

// describe is "4.7 kΩ ±5 %".
func describe(v float64, u string, t Tolerance) string {
	s := unit.Format(v, u)
	if p := t.String(); p != "" {
		s += " " + p
	}
	return s
}
