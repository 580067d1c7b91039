package belief_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A sign that a part causes by itself has to be looked at again once that part has been
// repaired, and one that it causes by way of a condition too; others stand.
func TestLookStandsUntilItsCauseIsRepaired(t *testing.T) {
	m := &note.Model{ID: "stands", Modes: modes(0.1, "A", "B")}
	m.Conditions = []note.Condition{{ID: "rail", States: []string{"good", "bad"}}}
	m.Modes[0].Effects = []note.Effect{{Cond: 0, State: 1}}
	m.Findings = []note.Finding{
		{ID: "by A", Kind: note.Sign, Trigger: []note.Trigger{{Mode: 0, Chance: 0.8}}},
		{ID: "by B", Kind: note.Sign, Trigger: []note.Trigger{{Mode: 1, Chance: 0.8}}},
		{ID: "by the rail", Kind: note.Sign, Trigger: []note.Trigger{{Mode: -1, Cond: 0, States: 2, Chance: 0.8}}},
	}
	m.Repairs = []note.Repair{{ID: "new A", Clears: []note.Clear{{Mode: 0, Success: 0.9}}, Harms: -1}, {ID: "new A, may break B", Clears: []note.Clear{{Mode: 0, Success: 0.9}}, Harms: 1, Harm: 0.1}}
	seen := []belief.Observation{{Finding: 0}, {Finding: 1}, {Finding: 2}}
	for name, c := range map[string]struct {
		acts []belief.Act
		want map[int]bool
	}{
		"nothing done":       {nil, map[int]bool{0: true, 1: true, 2: true}},
		"another repair":     {[]belief.Act{{Repair: -1}}, map[int]bool{0: true, 1: true, 2: true}},
		"A repaired":         {[]belief.Act{{Repair: 0}}, map[int]bool{1: true}},
		"A, and B in danger": {[]belief.Act{{Repair: 1}}, map[int]bool{}},
	} {
		got, err := engine(t, m, belief.Options{}).Stands(belief.Evidence{Seen: seen, Acts: c.acts})
		if diff := cmp.Diff(c.want, got); err != nil || diff != "" {
			t.Errorf("%s (-want +got):\n%s%v", name, diff, err)
		}
	}
}
