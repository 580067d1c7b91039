package library_test

import (
	"slices"
	"testing"

	"fettler/internal/note"
)

// A fault that shows in nothing somebody would bring a device in for is never
// suspected. What one brings about counts as its own. Common practice, no source.
func TestEveryFaultShowsInASymptom(t *testing.T) {
	everyModel(t, func(m *note.Model) {
		e := take(t, m.ID).e
		sound := e.World(nil)
		for i := range m.Modes {
			bad, best := e.World(follows(m, i)), 0.0
			for f := range m.Findings {
				if m.Findings[f].Check < 0 {
					for o, p := range e.Chances(bad, f) {
						best = max(best, p-e.Chances(sound, f)[o])
					}
				}
			}
			if best < 0.25 {
				t.Errorf("%s: %s (%s) raises no symptom by more than %.0f %%", m.ID, m.Modes[i].ID, m.Modes[i].Title, 100*best)
			}
		}
	})
}

// follows is mode i with what it mostly brings about.
func follows(m *note.Model, i int) []int {
	out := []int{i}
	for k := range m.Modes {
		if slices.ContainsFunc(m.Modes[k].Causes, func(c note.Cause) bool { return c.Mode == i && c.Chance >= 0.5 }) {
			out = append(out, k)
		}
	}
	return out
}
