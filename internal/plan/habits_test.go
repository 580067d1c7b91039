package plan

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/library"
)

// habitDevices are the shipped devices the advice is compared with habits on.
var habitDevices = []string{"powered-loudspeaker", "bread-maker", "bench-supply", "blender", "cassette-player",
	"coffee-maker-filter", "fan-heater", "desk-lamp-led", "iron-steam-station", "hifi-amplifier"}

// A bout is one device with one fault drawn for it, and what was done so far.
type bout struct {
	p     *Planner
	n     *node
	truth int
	rng   *rand.Rand
	spent Leaf
	steps int
}

// do makes a move; what comes of it is drawn from what is really wrong.
func (x *bout) do(a *arc) {
	x.steps++
	x.spent.pay(a.cost)
	ws := x.p.worlds
	switch a.move.Kind {
	case Repair:
		u := x.rng.Float64()
		for _, d := range ws.drifts(x.truth, a.move.Index) {
			x.truth = d.id
			if u -= d.p; u <= 0 {
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
		u := x.rng.Float64()
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

// A habit decides what to do at a place, nil to stop.
type habit struct {
	name string
	next func(x *bout) *arc
}

func habits() []habit {
	return []habit{{"advice", advised}, {"likeliest first", likeliestFirst}, {"cheapest check first", cheapestCheckFirst}}
}

// advised follows the one-step look-ahead.
func advised(x *bout) *arc {
	if !x.n.open {
		x.p.expand(x.n)
	}
	return x.p.chosen(x.n)
}

// likeliestFirst replaces the likeliest suspect's part and tries the whole, without
// any check, until no suspect has one in fifty.
func likeliestFirst(x *bout) *arc {
	p := x.p
	b := p.lotOf(x.n)
	x.n.b = b
	if pass := p.worlds.passing(b); pass > least {
		return p.testArc(x.n, pass)
	}
	for _, s := range p.tops(b, 12) {
		best, price := -1, math.Inf(1)
		for _, r := range p.helping(b, x.n.at) {
			for _, c := range p.tariff.m.Repairs[r].Clears {
				if t := p.tariff.repair(r, x.n.at.access).cost.Total; c.Mode == s.Mode && t < price {
					best, price = r, t
				}
			}
		}
		if s.P >= 0.02 && best >= 0 && x.spent.Total+price < p.tariff.loss() {
			return p.repairArc(x.n, best)
		}
	}
	return nil
}

// cheapestCheckFirst makes the cheapest check that is left until one suspect has
// four in five, or no check is left, and then replaces as above.
func cheapestCheckFirst(x *bout) *arc {
	p := x.p
	b := p.lotOf(x.n)
	x.n.b = b
	top := first(p.tops(b, 1))
	if p.worlds.passing(b) > least || top.P > 0.8 {
		return likeliestFirst(x)
	}
	best, price := -1, math.Inf(1)
	for c := range p.tariff.m.Checks {
		if p.barredCheck[c] != "" || x.n.at.asked.has(c) || len(p.worlds.checks[c].results) == 0 {
			continue
		}
		if t := p.tariff.check(c, x.n.at.access).cost.Total; t < price {
			best, price = c, t
		}
	}
	if best < 0 || x.spent.Total+price >= p.tariff.loss() {
		return likeliestFirst(x)
	}
	return p.checkArc(x.n, best)
}

// A score is what a habit came to over many bouts.
type score struct {
	fixed, money, minutes, total float64
	n                            int
}

func (s *score) add(l Leaf, loss float64) {
	s.n++
	s.money += l.Money
	s.minutes += l.Minutes
	s.total += l.Total
	if l.Works {
		s.fixed++
	} else {
		s.total += loss
	}
}

func (s score) String() string {
	n := float64(s.n)
	return fmt.Sprintf("%3.0f %% | %5.2f | %3.0f | %6.2f", 100*s.fixed/n, s.money/n, s.minutes/n, s.total/n)
}

// bouts plays one device: complaints are drawn, then what is really wrong.
func bouts(t *testing.T, lib *note.Library, id string, complaints, draws int) []score {
	t.Helper()
	m, err := lib.Model(id)
	if err != nil {
		t.Fatal(err)
	}
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(9, uint64(len(id))))
	out := make([]score, len(habits()))
	for range complaints {
		ev := complaint(t, e, rng)
		b, err := e.Posterior(context.Background(), ev)
		if err != nil {
			t.Fatal(err)
		}
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
		for range draws {
			truth, seed := draw(root.b, rng), rng.Uint64()
			for h, x := range habits() {
				out[h].add(play(p, root, truth, seed, x), p.tariff.loss())
			}
		}
	}
	return out
}

func play(p *Planner, root *node, truth int, seed uint64, h habit) Leaf {
	x := &bout{p: p, n: root, truth: truth, rng: rand.New(rand.NewPCG(seed, 0))}
	for x.steps < 80 && !x.spent.Works {
		a := h.next(x)
		if a == nil {
			break
		}
		x.do(a)
	}
	return x.spent
}

func draw(b lot, rng *rand.Rand) int {
	u := rng.Float64()
	for k, id := range b.ids {
		if u -= b.w[k]; u <= 0 {
			return id
		}
	}
	return b.ids[0]
}

// complaint draws a fault by its prior and looks at every symptom of it, until one shows.
func complaint(t *testing.T, e *belief.Engine, rng *rand.Rand) belief.Evidence {
	t.Helper()
	prior, err := e.Posterior(context.Background(), belief.Evidence{})
	if err != nil {
		t.Fatal(err)
	}
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

// The advice against two habits on shipped devices. FETTLER_BOUTS sets how many
// complaints are drawn per device (each with 25 faults); docs/decision.md has the table for 8.
func TestAdviceAgainstHabits(t *testing.T) {
	complaints, devices := 1, habitDevices[2:5]
	if s := os.Getenv("FETTLER_BOUTS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("FETTLER_BOUTS is %q; it must be a number from 1", s)
		}
		complaints, devices = n, habitDevices
	}
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	all := make([]score, len(habits()))
	for _, id := range devices {
		for h, s := range bouts(t, lib, id, complaints, 25) {
			t.Logf("%-22s | %-20s | %v", id, habits()[h].name, s)
			all[h].fixed += s.fixed
			all[h].money += s.money
			all[h].minutes += s.minutes
			all[h].total += s.total
			all[h].n += s.n
		}
	}
	for h, s := range all {
		t.Logf("%-22s | %-20s | %v", "all", habits()[h].name, s)
		if s.total < all[0].total {
			t.Errorf("the habit %q does better than the advice", habits()[h].name)
		}
	}
}
