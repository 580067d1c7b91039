package casework

import (
	"math"
	"slices"

	"fettler/internal/belief"
)

// weighed is the listed candidates with their worlds now: what a further
// finding is judged against.
type weighed struct {
	s      *sheet
	p      []float64
	now    [][]int
	worlds []belief.World
	odd    []bool // the fault the note does not know
}

func (s *sheet) worlds() *weighed {
	if s.weighed != nil {
		return s.weighed
	}
	w := &weighed{s: s}
	s.weighed = w
	sum := 0.0
	for _, c := range s.now.Candidates {
		w.p, w.now, w.odd = append(w.p, c.P), append(w.now, c.Now), append(w.odd, c.Unknown)
		w.worlds = append(w.worlds, s.e.World(c.Now))
		sum += c.P
	}
	for i := range w.p {
		w.p[i] /= sum
	}
	return w
}

// question is what sign f would tell: the mutual information, in bits, between
// it and the candidates, I = H(F) - Σ_c P(c)·H(F | c).
func (w *weighed) question(f int, odd []float64) Question {
	shows := make([]float64, len(w.p))
	yes, inner := 0.0, 0.0
	for i := range w.p {
		if w.odd[i] {
			shows[i] = odd[0]
		} else {
			shows[i] = w.s.e.Chances(w.worlds[i], f)[0]
		}
		yes += w.p[i] * shows[i]
		inner += w.p[i] * entropy(shows[i])
	}
	q := Question{Yes: yes, Bits: math.Max(0, entropy(yes)-inner), IfYes: []Chance{}, IfNo: []Chance{}}
	if yes > 0 {
		q.IfYes = w.tops(func(i int) float64 { return w.p[i] * shows[i] / yes })
	}
	if yes < 1 {
		q.IfNo = w.tops(func(i int) float64 { return w.p[i] * (1 - shows[i]) / (1 - yes) })
	}
	return q
}

func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}

// tops is the likeliest modes under new weights of the candidates.
func (w *weighed) tops(weight func(i int) float64) []Chance {
	chance := make([]float64, len(w.s.k.m.Modes))
	for i := range w.p {
		for _, m := range w.now[i] {
			chance[m] += weight(i)
		}
	}
	return w.s.top(chance)
}

// top turns chances per mode into the likeliest few, with what they are now as Before.
func (s *sheet) top(chance []float64) []Chance {
	var order []int
	for m, p := range chance {
		if p >= suspectLeast {
			order = append(order, m)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmpDown(chance[a], chance[b]) })
	out := []Chance{}
	for _, m := range order[:min(len(order), topsMost)] {
		out = append(out, Chance{Mode: s.k.m.Modes[m].ID, Title: s.k.m.Modes[m].Title, Now: chance[m], Before: s.now.Now[m]})
	}
	return out
}

// both is the chance of mode a given that mode b is there now.
func (w *weighed) both(a, b int) float64 {
	with, all := 0.0, 0.0
	for i := range w.p {
		if slices.Contains(w.now[i], b) {
			all += w.p[i]
			if slices.Contains(w.now[i], a) {
				with += w.p[i]
			}
		}
	}
	if all == 0 {
		return 0
	}
	return with / all
}
