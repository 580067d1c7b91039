package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// A yard is a small problem solved here without any of the package: fault sets
// with chances, actions that surely clear sets of faults at a price, tests that
// tell surely whether a fault is in a set, and the price of trying the whole.
type yard struct {
	faults []uint // sets of faults, bit by bit
	p      []float64
	clears []uint
	price  []float64
	tells  []uint // check: positive if a fault of this set is there (single faults only)
	look   []float64
	try    float64
	loss   float64
	memo   map[[3]uint]float64
}

// value is the least expected cost when the sets still possible are alive and
// the actions in done are made and tried, and some more are made and not tried.
func (y *yard) value(alive, tried, made uint) float64 {
	k := [3]uint{alive, tried, made}
	if v, ok := y.memo[k]; ok {
		return v
	}
	best := y.loss
	left := func(acts uint) (mass, fails float64, still uint) {
		cleared := uint(0)
		for a := range y.clears {
			if acts>>a&1 == 1 {
				cleared |= y.clears[a]
			}
		}
		for i, f := range y.faults {
			if alive>>i&1 == 1 {
				mass += y.p[i]
				if f&^cleared != 0 {
					fails += y.p[i]
					still |= 1 << i
				}
			}
		}
		return mass, fails, still
	}
	if made != tried {
		mass, fails, still := left(made)
		v := y.try
		if fails > 0 {
			v += fails / mass * y.value(still, made, made)
		}
		best = math.Min(best, v)
	}
	for a := range y.clears {
		if made>>a&1 == 0 {
			best = math.Min(best, y.price[a]+y.value(alive, tried, made|1<<a))
		}
	}
	if made == tried { // looks are made between rounds
		for c, set := range y.tells {
			yes, pYes, mass := uint(0), 0.0, 0.0
			for i, f := range y.faults {
				if alive>>i&1 == 1 {
					mass += y.p[i]
					if f&set != 0 {
						yes |= 1 << i
						pYes += y.p[i]
					}
				}
			}
			if yes != 0 && yes != alive {
				best = math.Min(best, y.look[c]+pYes/mass*y.value(yes, tried, made)+(1-pYes/mass)*y.value(alive&^yes, tried, made))
			}
		}
	}
	y.memo[k] = best
	return best
}

// model is the same problem as a note and a belief.
func (y *yard) model(faults int) (*note.Model, *belief.Belief) {
	m := &note.Model{ID: "yard", Parts: []note.Part{{}}, Units: []note.Unit{{}}, TryMinutes: math.Max(y.try, 1e-9), Access: []note.Access{{Behind: -1, Tries: true}}}
	broken := note.Finding{Check: -1}
	for i := range faults {
		m.Modes = append(m.Modes, note.Mode{ID: string(rune('A' + i)), Odds: 0.1})
		broken.Trigger = append(broken.Trigger, note.Trigger{Mode: i, Chance: 1})
	}
	m.Findings = []note.Finding{broken}
	for a, set := range y.clears {
		r := note.Repair{Harms: -1, Price: y.price[a]}
		for i := range faults {
			if set>>i&1 == 1 {
				r.Clears = append(r.Clears, note.Clear{Mode: i, Success: 1})
			}
		}
		m.Repairs = append(m.Repairs, r)
	}
	for c, set := range y.tells {
		f := note.Finding{Check: c}
		for i := range faults {
			if set>>i&1 == 1 {
				f.Trigger = append(f.Trigger, note.Trigger{Mode: i, Chance: 1})
			}
		}
		m.Findings = append(m.Findings, f)
		m.Checks = append(m.Checks, note.Check{Minutes: y.look[c], Findings: []int{c + 1}})
	}
	b := &belief.Belief{}
	for i, f := range y.faults {
		var now []int
		for k := range faults {
			if f>>k&1 == 1 {
				now = append(now, k)
			}
		}
		b.Candidates = append(b.Candidates, belief.Candidate{First: now, Now: now, P: y.p[i]})
	}
	return m, b
}

// compare runs the search until it is closed and returns it with the optimum.
func (y *yard) compare(t *testing.T, faults int) (once, closed *plan.Advice, want float64) {
	t.Helper()
	y.memo = map[[3]uint]float64{}
	want = y.value(1<<len(y.faults)-1, 0, 0)
	m, b := y.model(faults)
	s := plan.Settings{Worth: y.loss, Rate: 60}
	once = advise(t, m, b, s, plan.Effort{})
	closed = advise(t, m, b, s, plan.Effort{Expansions: 20_000})
	if !near(closed.Best.Total, want, 1e-3*want) || closed.Lower > want+1e-3 {
		t.Errorf("the search says %.4f to %.4f, enumeration %.4f", closed.Lower, closed.Best.Total, want)
	}
	if once.Best.Total < want-1e-3 {
		t.Errorf("one-step look-ahead promises %.4f, less than the least possible %.4f", once.Best.Total, want)
	}
	return once, closed, want
}

func drawYard(rng *rand.Rand, faults int) *yard {
	y := &yard{loss: 1e5}
	sum := 0.0
	for i := range faults {
		y.faults = append(y.faults, 1<<i)
		y.p = append(y.p, 0.1+rng.ExpFloat64())
		sum += y.p[i]
	}
	for i := range y.p {
		y.p[i] /= sum
	}
	return y
}
