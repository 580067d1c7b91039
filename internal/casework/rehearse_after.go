package casework

import (
	"context"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/plan"
)

// usualSteps is what the plan is laid out to after the results of a check, all
// together. Two and a half times as many change what it promises by a hundredth on the
// loudspeaker of the shipped notes, and take twice as long.
const usualSteps = 60

// rehearseAfter lays out the plan after each result of the check that is
// advised. It returns nil if a result cannot be put down as evidence.
func (s *sheet) rehearseAfter(ctx context.Context, r rehearser, steps int) (*plan.Rehearsal, error) {
	first := s.advice.Best
	if steps <= 0 {
		steps = usualSteps
	}
	out := &plan.Rehearsal{Root: &plan.Step{Move: first.Move, Cost: first.Cost, P: 1, Total: first.Total, Tops: s.likeliest()}}
	for _, res := range first.Results {
		next, err := s.afterResult(ctx, r, res)
		if err != nil || next == nil {
			return nil, err
		}
		x, err := r.RehearseFrom(ctx, next.now, next.sit, max(5, int(float64(steps)*res.P)), next.advice.Best.Move)
		if err != nil {
			return nil, err
		}
		scale(x.Root, res.P)
		out.Root.Branches = append(out.Root.Branches, plan.Branch{Result: res, Next: x.Root})
		out.Folded += res.P * x.Folded
		for _, l := range x.Leaves {
			out.Leaves = append(out.Leaves, plan.Leaf{P: l.P * res.P, Works: l.Works, Total: l.Total + first.Cost.Total, Days: l.Days + first.Cost.Days,
				Money: l.Money + first.Cost.Money, Minutes: l.Minutes + first.Cost.Minutes + first.Cost.Access})
		}
	}
	return out, nil
}

// seen is an outcome as evidence.
func (s *sheet) seen(v plan.Value) (belief.Observation, bool) {
	f := &s.k.m.Findings[v.Finding]
	told := s.told(v)
	value, err := readValue(f, told.Text)
	if err != nil {
		return belief.Observation{}, false
	}
	o, err := value.observe(s.k.m, v.Finding, len(s.c.Evidence.Acts))
	return o, err == nil
}

// likeliest are the likeliest suspects now.
func (s *sheet) likeliest() []plan.Suspect {
	out := []plan.Suspect{}
	for i, p := range s.now.Now {
		out = append(out, plan.Suspect{Mode: i, P: p})
	}
	slices.SortStableFunc(out, func(a, b plan.Suspect) int { return cmpDown(a.P, b.P) })
	return out[:min(len(out), topsMost)]
}

// scale makes all chances of a plan those of a plan that is only come to with chance p.
func scale(x *plan.Step, p float64) {
	if x == nil {
		return
	}
	x.P *= p
	for _, b := range x.Branches {
		scale(b.Next, p)
	}
}
