package casework

import (
	"fmt"
	"math"
	"slices"

	"fettler/internal/belief"
)

const (
	suspectLeast = 0.003 // chance below which a mode is counted but not listed
	suspectsMost = 30
	reasonsMost  = 5
	reasonLeast  = 1.15 // a factor nearer to one is no reason
	refsMost     = 5
	storiesMost  = 6
)

// suspects lists the modes by their chance now, with reasons.
func (s *sheet) suspects() ([]Suspect, int) {
	var order []int
	for i := range s.k.m.Modes {
		if s.now.Now[i] >= suspectLeast || s.now.First[i] >= 10*suspectLeast {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if c := cmpDown(s.now.Now[a], s.now.Now[b]); c != 0 {
			return c
		}
		return cmpDown(s.now.First[a], s.now.First[b])
	})
	order = order[:min(len(order), suspectsMost)]
	out := make([]Suspect, len(order))
	for n, i := range order {
		out[n] = s.suspect(i, s.why[i])
	}
	return out, len(s.k.m.Modes) - len(order)
}

func (s *sheet) suspect(i int, why []belief.Weight) Suspect {
	m := s.k.m
	x := &m.Modes[i]
	p := &m.Parts[x.Part]
	out := Suspect{Chance: s.chance(i), Arrival: s.now.First[i], Prior: s.prior.First[i], Name: x.Name, Class: string(x.Class), Subclass: x.Subclass,
		Part: p.Title, Kind: p.Kind, Mark: p.Mark, Value: p.Value, Basis: x.Basis, Usual: usualWords(s.prior.First[i], x.Basis), Reasons: s.reasons(why), Checks: []Ref{}, Repairs: []Ref{}}
	if p.Unit >= 0 && p.Unit < len(m.Units) {
		out.Unit = m.Units[p.Unit].Title
	}
	for _, t := range s.k.tells()[i] {
		if len(out.Checks) < refsMost {
			out.Checks = append(out.Checks, Ref{m.Checks[t.check].ID, m.Checks[t.check].Title})
		}
	}
	for r := range m.Repairs {
		for _, c := range m.Repairs[r].Clears {
			if c.Mode == i {
				out.Repairs = append(out.Repairs, Ref{m.Repairs[r].ID, m.Repairs[r].Title})
			}
		}
	}
	return out
}

func (s *sheet) chance(mode int) Chance {
	return Chance{Mode: s.k.m.Modes[mode].ID, Title: s.k.m.Modes[mode].Title, Now: s.now.Now[mode], Before: s.before.Now[mode]}
}

// reasons are the observations that moved a suspect most. An earlier look that a
// later one replaced moves nothing and so drops out.
func (s *sheet) reasons(why []belief.Weight) []Reason {
	out := []Reason{}
	for _, w := range why {
		if len(out) == reasonsMost || math.Max(w.Factor, 1/w.Factor) < reasonLeast {
			break
		}
		l := s.c.Looks[w.Seen]
		f := &s.k.m.Findings[s.c.Evidence.Seen[w.Seen].Finding]
		out = append(out, Reason{Event: l.Event, Finding: f.ID, Words: l.Value.phrase(f.Title) + l.Value.colon() + factorWords(w.Factor), Factor: w.Factor})
	}
	return out
}

// factorWords says a factor on the odds as one says it.
func factorWords(f float64) string {
	switch {
	case f >= 1000:
		return "over 1000 × likelier"
	case f >= 1:
		return figures(f) + " × likelier"
	case f <= 0.001:
		return "over 1000 × less likely"
	}
	return figures(1/f) + " × less likely"
}

func figures(f float64) string {
	if f < 10 {
		return fmt.Sprintf("%.1f", f)
	}
	return fmt.Sprintf("%.0f", f)
}

// percent says a chance as one says it.
func percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1 %"
	case p < 1 && p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func (s *sheet) stories() []Story {
	out := []Story{}
	for _, c := range s.now.Candidates {
		if len(out) == storiesMost || c.P < suspectLeast {
			break
		}
		out = append(out, Story{P: c.P, Faults: s.modeRefs(c.First), Now: s.modeRefs(c.Now), Unknown: c.Unknown})
	}
	return out
}

func (s *sheet) modeRefs(modes []int) []Ref {
	out := []Ref{}
	for _, i := range modes {
		out = append(out, Ref{s.k.m.Modes[i].ID, s.k.m.Modes[i].Title})
	}
	return out
}
