package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fettler/internal/belief"
)

// plain is the yardstick of the yardstick: dynamic programming over every
// sequence of moves, with nothing cut. It shares with the planner what a move
// does to a belief, and nothing of the search.
type plain struct {
	p    *Planner
	memo map[key]float64
}

func (x *plain) value(b lot, at place) float64 {
	k := x.p.near(b, at)
	if v, ok := x.memo[k]; ok {
		return v
	}
	p := x.p
	best := p.tariff.loss()
	if pass := p.worlds.passing(b); pass > least {
		l := p.tariff.test(at.access)
		v := l.cost.Total + pass*p.tariff.time(p.tariff.closing(l.to))
		if pass < 1-1e-12 {
			v += (1 - pass) * x.value(p.worlds.failed(b), place{access: l.to, done: at.done, asked: at.asked})
		}
		best = math.Min(best, v)
	}
	for _, r := range p.helping(b, at) {
		l := p.tariff.repair(r, at.access)
		best = math.Min(best, l.cost.Total+x.value(p.worlds.repair(b, r), place{access: l.to, done: at.done.with(r), asked: at.asked}))
	}
	for c := range p.tariff.m.Checks {
		if at.asked.has(c) {
			continue
		}
		l := p.tariff.check(c, at.access)
		v := l.cost.Total
		for r, pr := range p.worlds.chances(b, c) {
			if pr > 1e-9 {
				v += pr * x.value(p.worlds.learnt(b, c, r), place{access: l.to, done: at.done, asked: at.asked.with(c)})
			}
		}
		best = math.Min(best, v)
	}
	x.memo[k] = best
	return best
}

// follow is the true expected cost of deciding anew at every place with the
// given number of expansions, to the end.
func follow(p *Planner, b lot, at place, expansions int, memo map[key]float64) float64 {
	k := p.near(b, at)
	if v, ok := memo[k]; ok {
		return v
	}
	p.met, p.bounding = map[key]*node{}, expansions > 0
	root := p.node(b, at, 0)
	p.think(root)
	p.refine(context.Background(), root, Effort{Expansions: expansions})
	v := p.tariff.loss()
	if a := p.chosen(root); a != nil {
		v = a.cost.Total
		for _, x := range a.next {
			if x.n.end {
				v += x.p * x.n.upper.total
			} else {
				v += x.p * follow(p, p.lotOf(x.n), x.n.at, expansions, memo)
			}
		}
	}
	memo[k] = v
	return v
}

// drawn is a random device that was brought in as broken, and a bench for it.
func drawn(t testing.TB, rng *rand.Rand, modes, checks, repairs int) (*Planner, lot, place) {
	t.Helper()
	m := randomDevice(rng, modes, checks, repairs)
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.Posterior(context.Background(), belief.Evidence{Seen: []belief.Observation{{Finding: 0, Value: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(e, Settings{Rate: 10 + 20*rng.Float64(), Worth: 20 + 100*rng.Float64()})
	if err != nil {
		t.Fatal(err)
	}
	p.carry = 12
	root, err := p.start(context.Background(), b, Situation{})
	if err != nil {
		t.Fatal(err)
	}
	return p, root.b, root.at
}

// best runs the search until it is proven to be within gap of the least cost.
func best(p *Planner, b lot, at place, gap float64, expansions int) *node {
	p.met, p.bounding = map[key]*node{}, true
	root := p.node(b, at, 0)
	p.expand(root)
	p.refine(context.Background(), root, Effort{Expansions: expansions, Gap: gap})
	return root
}

// The search run to the end agrees with plain dynamic programming.
func TestSearchConvergesToDynamicProgramming(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 1))
	for range 40 {
		p, b, at := drawn(t, rng, 2+rng.IntN(4), 1+rng.IntN(3), 1+rng.IntN(3))
		want := (&plain{p, map[key]float64{}}).value(b, at)
		n := best(p, b, at, 0, 200_000)
		if math.Abs(n.upper.total-want) > 1e-4 || math.Abs(n.lower-want) > 1e-4 {
			t.Errorf("bounds %.7f to %.7f, dynamic programming says %.7f", n.lower, n.upper.total, want)
		}
	}
}
