package plan

import (
	"fmt"
	"math/rand/v2"

	"fettler/internal/note"
)

// randomDevice is a small device with access levels, several faults, damage that
// follows damage, shared and failing repairs, and noisy checks.
func randomDevice(rng *rand.Rand, modes, checks, repairs int) *note.Model {
	m := &note.Model{ID: "random", Units: []note.Unit{{}}, Currency: "EUR"}
	m.Access = []note.Access{{ID: "outside", Behind: -1, Tries: rng.IntN(2) == 0},
		{ID: "open", OpenMinutes: 2 + 8*rng.Float64(), CloseMinutes: 2 + 8*rng.Float64(), Tries: rng.IntN(2) == 0},
		{ID: "out", Behind: 1, OpenMinutes: 2 + 12*rng.Float64(), CloseMinutes: 2 + 12*rng.Float64()}}
	broken := note.Finding{ID: "broken", Check: -1, Leak: 0.01}
	for i := range modes {
		m.Parts = append(m.Parts, note.Part{})
		x := note.Mode{ID: fmt.Sprint(i), Part: i, Odds: (0.1 + rng.ExpFloat64()) * 0.26 / float64(modes)}
		if i > 0 && rng.IntN(4) == 0 {
			x.Causes = []note.Cause{{Mode: rng.IntN(i), Chance: 0.4 + 0.5*rng.Float64()}}
		}
		m.Modes = append(m.Modes, x)
		broken.Trigger = append(broken.Trigger, note.Trigger{Mode: i, Chance: 0.9 + 0.1*rng.Float64()})
	}
	m.Findings = []note.Finding{broken}
	for c := range checks {
		f := note.Finding{ID: fmt.Sprint("f", c), Check: c, Leak: 0.1 * rng.Float64()}
		for range 1 + rng.IntN(3) {
			f.Trigger = append(f.Trigger, note.Trigger{Mode: rng.IntN(modes), Chance: 0.5 + 0.5*rng.Float64()})
		}
		m.Findings = append(m.Findings, f)
		m.Checks = append(m.Checks, note.Check{ID: fmt.Sprint("c", c), Minutes: 1 + 6*rng.Float64(), Access: rng.IntN(3), Findings: []int{c + 1}})
	}
	for r := range repairs {
		x := note.Repair{ID: fmt.Sprint("r", r), Harms: -1, Minutes: 5 + 25*rng.Float64(), Price: 20 * rng.Float64(), Access: rng.IntN(3)}
		x.Clears = append(x.Clears, note.Clear{Mode: r % modes, Success: 0.75 + 0.25*rng.Float64()})
		for range rng.IntN(3) {
			x.Clears = append(x.Clears, note.Clear{Mode: rng.IntN(modes), Success: 0.75 + 0.25*rng.Float64()})
		}
		m.Repairs = append(m.Repairs, x)
	}
	return m
}
