package plan

import (
	"math"
	"sort"
)

// Success is the chance that it works in the end.
func (r *Rehearsal) Success() float64 {
	s := 0.0
	for _, l := range r.Leaves {
		if l.Works {
			s += l.P
		}
	}
	return s
}

// Quantile returns the value of what that is not exceeded with chance q.
func (r *Rehearsal) Quantile(q float64, what func(Leaf) float64) float64 {
	ls := append([]Leaf(nil), r.Leaves...)
	sort.SliceStable(ls, func(i, j int) bool { return what(ls[i]) < what(ls[j]) })
	sum := 0.0
	for _, l := range ls {
		if sum += l.P; sum >= q-1e-12 {
			return what(l)
		}
	}
	return math.Max(0, what(ls[len(ls)-1]))
}

// A Band is a figure with its spread: nine in ten stay above Low, nine in ten below High.
type Band struct{ Low, Mean, High float64 }

// Band returns the spread of what over the ways it can end.
func (r *Rehearsal) Band(what func(Leaf) float64) Band {
	return Band{r.Quantile(0.1, what), r.Mean(what), r.Quantile(0.9, what)}
}

// Gain is what an end leaves against stopping at once: the worth that was kept
// from being lost, less all costs.
func (r *Rehearsal) Gain(l Leaf) float64 {
	if l.Works {
		return r.loss - l.Total
	}
	return -l.Total
}

// An Outlook is what following the advice will take and bring. It is better founded than the
// figures of an Advice, and still on the careful side: where the rehearsal was
// folded, the base policy stands for the advice. More places laid out bring it up by a hundredth or two.
type Outlook struct {
	Success float64
	Money, Minutes, Days,
	Gain Band
}

// Outlook sums the rehearsal up.
func (r *Rehearsal) Outlook() Outlook {
	return Outlook{
		Success: r.Success(),
		Money:   r.Band(func(l Leaf) float64 { return l.Money }),
		Minutes: r.Band(func(l Leaf) float64 { return l.Minutes }),
		Days:    r.Band(func(l Leaf) float64 { return l.Days }),
		Gain:    r.Band(r.Gain),
	}
}

// Mean returns the expectation of what.
func (r *Rehearsal) Mean(what func(Leaf) float64) float64 {
	sum := 0.0
	for _, l := range r.Leaves {
		sum += l.P * what(l)
	}
	return sum
}
