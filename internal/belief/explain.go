package belief

import (
	"context"
	"math"
	"sort"
)

// A Weight is what one observation did to one suspect: the factor by which the
// odds of the mode are larger with it than without it, all else being known.
type Weight struct {
	Seen   int // index into Evidence.Seen
	Factor float64
}

// Why returns, for the mode, the factor each observation contributed to its
// odds, strongest first. now asks about the mode's presence after the repairs
// rather than on arrival. Factors are leave-one-out, so they need not multiply
// up: two observations that say the same thing each look dispensable.
func (e *Engine) Why(ctx context.Context, ev Evidence, mode int, now bool) ([]Weight, error) {
	all, err := e.WhyAll(ctx, ev, now)
	if err != nil {
		return nil, err
	}
	return all[mode], nil
}

// WhyAll is Why for every mode at once.
func (e *Engine) WhyAll(ctx context.Context, ev Evidence, now bool) ([][]Weight, error) {
	with, err := e.marginal(ctx, ev, now)
	if err != nil {
		return nil, err
	}
	out := make([][]Weight, len(e.m.Modes))
	for i := range ev.Seen {
		without, err := e.marginal(ctx, ev.Without(i), now)
		if err != nil {
			return nil, err
		}
		for m := range out {
			out[m] = append(out[m], Weight{i, odds(with[m]) / odds(without[m])})
		}
	}
	for m := range out {
		sort.SliceStable(out[m], func(a, b int) bool {
			return math.Abs(math.Log(out[m][a].Factor)) > math.Abs(math.Log(out[m][b].Factor))
		})
	}
	return out, nil
}

func (e *Engine) marginal(ctx context.Context, ev Evidence, now bool) ([]float64, error) {
	s, err := e.sweep(ctx, ev)
	if err != nil {
		return nil, err
	}
	first, last := s.marginals()
	if now {
		return last, nil
	}
	return first, nil
}

// odds are kept off 0 and 1 so that factors stay finite.
func odds(p float64) float64 {
	const tiny = 1e-12
	p = math.Min(math.Max(p, tiny), 1-tiny)
	return p / (1 - p)
}

// A Conflict is a pair of observations that the known faults do not explain
// together: Lift is how much likelier each is, under them, given the other.
type Conflict struct {
	A, B int // indexes into Evidence.Seen
	Lift float64
}

// Strained tells whether the belief rests on evidence that the known faults do
// not explain together: an unknown fault has become the likeliest story, or
// explains the evidence far better than all known ones.
func (b *Belief) Strained() bool {
	return b.Unknown > 0.4 || b.LogUnknown-b.LogEvidence > math.Log(20)
}

// Conflicts returns the pairs of observations, least compatible first, whose
// joint chance under the known faults is less than a third of what it would be
// if they were independent.
func (e *Engine) Conflicts(ctx context.Context, ev Evidence) ([]Conflict, error) {
	single := make([]float64, len(ev.Seen))
	for i, o := range ev.Seen {
		s, err := e.sweep(ctx, Evidence{Seen: []Observation{o}, Acts: ev.Acts})
		if err != nil {
			return nil, err
		}
		single[i] = s.logZ - e.prior
	}
	var out []Conflict
	for i := range ev.Seen {
		for j := range i {
			pair := Evidence{Seen: []Observation{ev.Seen[j], ev.Seen[i]}, Acts: ev.Acts}
			s, err := e.sweep(ctx, pair)
			if err != nil {
				return nil, err
			}
			if lift := math.Exp(s.logZ - e.prior - single[i] - single[j]); lift < 1.0/3 {
				out = append(out, Conflict{A: j, B: i, Lift: lift})
			}
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Lift < out[b].Lift })
	return out, nil
}
