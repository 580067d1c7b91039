package notecraft

import (
	"context"
	"fmt"
	"sort"
	"strings"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A TrialResult is how one test case of a note came out.
type TrialResult struct {
	Device string
	Trial  note.Trial
	Place  int       // place of the first suspect that was expected, from 1; 0 if there is none
	Chance float64   // its chance
	First  []Suspect // the suspects that came first, at least as many as Trial.Within, at most five more
	Passed bool
}

// TrialsOf runs the trials of one device.
func TrialsOf(ctx context.Context, m *note.Model) ([]TrialResult, error) {
	e, err := belief.New(m, belief.Options{Candidates: 1})
	if err != nil {
		return nil, fmt.Errorf("the trials of %s: %w", m.ID, err)
	}
	before, err := e.Posterior(ctx, belief.Evidence{})
	if err != nil {
		return nil, fmt.Errorf("the trials of %s: %w", m.ID, err)
	}
	var out []TrialResult
	for _, t := range m.Trials {
		r, err := runTrial(ctx, e, before, t)
		if err != nil {
			return out, fmt.Errorf("the trial %q of %s: %w", t.Title, m.ID, err)
		}
		out = append(out, r)
	}
	return out, nil
}

func runTrial(ctx context.Context, e *belief.Engine, before *belief.Belief, t note.Trial) (TrialResult, error) {
	m := e.Model()
	var ev belief.Evidence
	for _, g := range t.Given {
		ev.Seen = append(ev.Seen, belief.Observation{Finding: g.Finding, Value: g.Value, Number: g.Reading})
	}
	after, err := e.Posterior(ctx, ev)
	if err != nil {
		return TrialResult{}, err
	}
	var all []Suspect
	for i := range after.First {
		all = append(all, Suspect{i, before.First[i], after.First[i]})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].Posterior > all[j].Posterior })
	r := TrialResult{Device: m.ID, Trial: t}
	for k, s := range all {
		if expects(t, m.Modes[s.Mode].ID) {
			r.Place, r.Chance = k+1, s.Posterior
			break
		}
	}
	within := max(1, t.Within)
	r.Passed = r.Place > 0 && r.Place <= within
	r.First = all[:min(len(all), max(within, min(r.Place, within+5)))]
	return r, nil
}

// expects tells whether the trial is content with the mode.
func expects(t note.Trial, mode string) bool {
	for _, x := range t.Expect {
		if mode == x || strings.HasPrefix(mode, x+".") {
			return true
		}
	}
	return false
}
