package casework

import (
	"context"
	"maps"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// What follows a result of the advised check is worked out as it will be once the result is written
// down: the belief anew, the advice anew. The planner's own look ahead is coarser and names another move
// every second time. The likeliest results are worked out for every view, the others with the plan laid out.
const (
	foretoldMost  = 2
	foretoldLeast = 0.25
)

// foretell is what will be advised after the likeliest results of the advised check.
func (s *sheet) foretell(ctx context.Context, a Adviser) ([]plan.Move, error) {
	if s.advice == nil || len(s.advice.Ranking) == 0 || s.advice.Best.Kind != plan.Check {
		return nil, nil
	}
	var out []plan.Move
	for _, r := range s.advice.Best.Results { // likeliest first
		if len(out) == foretoldMost || r.P < foretoldLeast {
			break
		}
		next, err := s.afterResult(ctx, a, r)
		if err != nil || next == nil {
			return out, err
		}
		out = append(out, next.advice.Best.Move)
	}
	return out, nil
}

// A sequel is where the case stands after a result of the advised check.
type sequel struct {
	now    *belief.Belief
	sit    plan.Situation
	advice *plan.Advice
}

// afterResult is what follows a result of the advised check; nil if it cannot be put down as evidence.
func (s *sheet) afterResult(ctx context.Context, a Adviser, r plan.Result) (*sequel, error) {
	check := &s.k.m.Checks[s.advice.Best.Index]
	ev := s.ev
	for _, v := range r.Values {
		o, ok := s.seen(v)
		if !ok {
			return nil, nil
		}
		ev = ev.With(o)
	}
	out := &sequel{}
	var err error
	if out.now, err = s.e.Posterior(ctx, ev); err != nil {
		return nil, err
	}
	if out.sit, err = s.afterCheck(check, ev); err != nil {
		return nil, err
	}
	if out.advice, err = a.Advise(ctx, out.now, out.sit); err != nil {
		return nil, err
	}
	if out.advice, _ = s.prefer(out.advice); out.advice == nil || len(out.advice.Ranking) == 0 {
		return nil, nil
	}
	return out, nil
}

// afterCheck is where the case stands once a check has been made.
func (s *sheet) afterCheck(check *note.Check, ev belief.Evidence) (plan.Situation, error) {
	sit := s.sit
	sit.Access, _ = reach(s.k.m, s.c.Access, check.Access, check.Live)
	sit.Known = maps.Clone(s.sit.Known)
	for _, f := range check.Findings { // what was left out would be left out again
		sit.Known[f] = true
	}
	stands, err := s.e.Stands(ev)
	if err != nil {
		return sit, err
	}
	for f := range stands {
		sit.Known[f] = true
	}
	return sit, nil
}

// then is what follows the i-th result of a move: as it will be advised where that has been worked out, else by the
// planner's look ahead.
func (s *sheet) then(m plan.Move, i int, next plan.Move) string {
	if m.Kind == plan.Check && s.advice != nil && m == s.advice.Best.Move && i < len(s.foretold) {
		next = s.foretold[i]
	}
	return s.moveTitle(next)
}
