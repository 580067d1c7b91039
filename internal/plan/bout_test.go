package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A bout is one device with one fault drawn for it, and what was done so far.
type bout struct {
	p     *Planner
	n     *node
	truth int
	seed  uint64
	spent Leaf
	steps int
}

// luck is the number from 0 to 1 that decides how a move comes out. It depends on
// the bout and the move alone, so every policy that makes the move meets the same luck.
func (x *bout) luck(m Move) float64 {
	k := mix(x.seed ^ mix(uint64(m.Kind)<<32|uint64(m.Index+1)))
	return float64(k>>11) / (1 << 53)
}

// do makes a move; what comes of it follows from what is really wrong.
func (x *bout) do(a *arc) {
	x.steps++
	x.spent.pay(a.cost)
	ws := x.p.worlds
	u := x.luck(a.move)
	switch a.move.Kind {
	case Repair:
		for _, d := range ws.drifts(x.truth, a.move.Index) {
			if u -= d.p; u <= 0 {
				x.truth = d.id
				break
			}
		}
		x.n = a.next[0].n
	case Test:
		x.spent.Works = ws.list[x.truth].passes == 1
		if x.spent.Works {
			x.p.shut(&x.spent, x.p.tariff.closing(a.next[0].n.at.access))
			return
		}
		x.n = a.next[len(a.next)-1].n
	case Check:
		result := -1
		for r, p := range ws.tells(x.truth, a.move.Index) {
			if u -= p; u <= 0 && result < 0 {
				result = r
			}
		}
		x.n = a.next[0].n
		for _, b := range a.next {
			if b.result == result {
				x.n = b.n
			}
		}
	}
}

// mostSteps is after how many moves a bout is given up. No policy may come to that.
const mostSteps = 150

// play follows a policy until it works or the policy stops.
func play(t testing.TB, p *Planner, root *node, truth int, seed uint64, h habit) Leaf {
	t.Helper()
	x := &bout{p: p, n: root, truth: truth, seed: seed}
	for !x.spent.Works {
		a := h.next(x)
		if a == nil {
			break
		}
		if x.do(a); x.steps > mostSteps {
			t.Fatalf("%s: %q has come to no end after %d moves", p.e.Model().ID, h.name, x.steps)
		}
	}
	return x.spent
}

// A round of bouts: one device, brought in with one complaint.
type quarrel struct {
	p    *Planner
	b    *belief.Belief
	root *node
}

// brought is a device that may be brought in with anything: its engine, and what one believes before hearing a word.
func brought(t testing.TB, m *note.Model) (*belief.Engine, *belief.Belief) {
	t.Helper()
	e, err := belief.New(m, belief.Options{MaxStates: 4000})
	if err != nil {
		t.Fatal(err)
	}
	prior, err := e.Posterior(context.Background(), belief.Evidence{})
	if err != nil {
		t.Fatal(err)
	}
	return e, prior
}

// quarrelOver draws a complaint and asks what it makes one believe.
func quarrelOver(t testing.TB, e *belief.Engine, prior *belief.Belief, rng *rand.Rand) quarrel {
	t.Helper()
	ev := complaint(t, e, prior, rng)
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	m := e.Model()
	p, err := New(e, Settings{Rate: 10, DayRate: 0.5, Worth: math.Max(m.Worth, 20), Scrap: m.Scrap})
	if err != nil {
		t.Fatal(err)
	}
	known := map[int]bool{}
	for _, o := range ev.Seen {
		known[o.Finding] = true
	}
	root, err := p.start(context.Background(), b, Situation{Known: known})
	if err != nil {
		t.Fatal(err)
	}
	return quarrel{p, b, root}
}

// truth draws what is really wrong, from the whole belief: what is too unlikely to be
// listed counts as the fault the note does not know.
func (q quarrel) truth(rng *rand.Rand) int {
	for {
		u := rng.Float64()
		at := 0
		for at < len(q.b.Candidates) && u > q.b.Candidates[at].P {
			u -= q.b.Candidates[at].P
			at++
		}
		if at == len(q.b.Candidates) || q.b.Candidates[at].Unknown {
			return unknownWorld
		}
		if now := q.b.Candidates[at].Now; q.p.worlds.hides(now) < 1-1e-9 {
			return q.p.worlds.id(now, true)
		}
	}
}

// complaint draws a fault by its prior and looks at every symptom of it, until one shows.
func complaint(t testing.TB, e *belief.Engine, prior *belief.Belief, rng *rand.Rand) belief.Evidence {
	t.Helper()
	m := e.Model()
	for range 1000 {
		c := prior.Candidates[rng.IntN(len(prior.Candidates))]
		if rng.Float64() > c.P/prior.Candidates[0].P || c.Unknown {
			continue
		}
		w := e.World(c.Now)
		var ev belief.Evidence
		shows := false
		for f := range m.Findings {
			if m.Findings[f].Check >= 0 || m.Findings[f].Kind != note.Sign {
				continue
			}
			v := 0
			if rng.Float64() < e.Chances(w, f)[0] {
				v, shows = 1, true
			}
			ev = ev.With(belief.Observation{Finding: f, Value: v})
		}
		if shows {
			return ev
		}
	}
	t.Fatal("no symptom shows")
	return belief.Evidence{}
}
