package library_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/library"
)

// Every trial of every shipped note comes out as its author expects, with the
// priors as they are shipped: tempered by the records. What a trial expects is
// common practice, no source: what a good repairer would look at first.
func TestTrials(t *testing.T) {
	ctx := context.Background()
	lib, err := library.Load(ctx)
	if err != nil {
		t.Fatal(err)
	}
	trials, devices := 0, 0
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Error(err)
			continue
		}
		if len(m.Trials) == 0 {
			continue
		}
		devices++
		e, err := belief.New(m, belief.Options{Candidates: 1})
		if err != nil {
			t.Errorf("%s: %v", d.ID, err)
			continue
		}
		for _, trial := range m.Trials {
			trials++
			if err := tryOne(ctx, e, trial); err != nil {
				t.Errorf("%s%s, trial %q: %v", trial.Where, d.ID, trial.Title, err)
			}
		}
	}
	t.Logf("%d trials of %d devices", trials, devices)
}

// tryOne gives the engine what the trial gives, and looks where the expected suspect stands.
func tryOne(ctx context.Context, e *belief.Engine, trial note.Trial) error {
	m := e.Model()
	var ev belief.Evidence
	for _, g := range trial.Given {
		ev.Seen = append(ev.Seen, belief.Observation{Finding: g.Finding, Value: g.Value, Number: g.Reading})
	}
	b, err := e.Posterior(ctx, ev)
	if err != nil {
		return err
	}
	order := make([]int, len(m.Modes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b2 int) int {
		switch {
		case b.First[a] > b.First[b2]:
			return -1
		case b.First[a] < b.First[b2]:
			return 1
		}
		return 0
	})
	within := max(trial.Within, 1)
	var first []string
	for i, mode := range order {
		id := m.Modes[mode].ID
		if i < within+2 {
			first = append(first, fmt.Sprintf("%s %.2f", id, b.First[mode]))
		}
		for _, want := range trial.Expect {
			if id == want || strings.HasPrefix(id, want+".") || strings.HasPrefix(id, want) {
				if i < within {
					return nil
				}
			}
		}
	}
	return fmt.Errorf("expected %s among the first %d, got %s", strings.Join(trial.Expect, " or "), within, strings.Join(first, ", "))
}
