package belief_test

import (
	"slices"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A contact cleaned seventy times that still crackles is listed as what it is: there when it
// came, and there now. The listed candidates add up to the chances.
func TestRepairedMoreThanSixtyThreeTimes(t *testing.T) {
	m := &note.Model{ID: "crackler", Modes: modes(1, "contact", "lead")}
	m.Findings = []note.Finding{{ID: "crackles", Kind: note.Sign, Leak: 0.001, Trigger: []note.Trigger{{Mode: 0, Chance: 0.9}}}}
	m.Repairs = []note.Repair{{ID: "clean", Harms: -1, Clears: []note.Clear{{Mode: 0, Success: 0.02}}}}
	ev := belief.Evidence{Seen: []belief.Observation{{Value: 1, Epoch: 70}}, Acts: make([]belief.Act, 70)}
	b, err := engine(t, m, belief.Options{Unknown: -1}).Posterior(t.Context(), ev)
	if err != nil {
		t.Fatal(err)
	}
	first, now, all := 0.0, 0.0, 0.0
	for _, c := range b.Candidates {
		all += c.P
		if slices.Contains(c.First, 0) {
			first += c.P
		}
		if slices.Contains(c.Now, 0) {
			now += c.P
		}
	}
	if !near(first/all, b.First[0], 1e-3) || !near(now/all, b.Now[0], 1e-3) || b.Now[0] < 0.9 {
		t.Errorf("listed: %.4f on arrival, %.4f now; by the sums: %.4f, %.4f", first/all, now/all, b.First[0], b.Now[0])
	}
}
