package plan_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/library"
)

// synthetic is an invented device of a given size: faults on four levels of
// access, each with a test of its own part, a share of checks on what several
// faults do, part repairs and a few block swaps.
func synthetic(modes, checks int) *note.Model {
	rng := rand.New(rand.NewPCG(5, 5))
	m := &note.Model{ID: "synthetic", Units: []note.Unit{{}, {ID: "left"}, {ID: "right"}}, TryMinutes: 3}
	m.Access = []note.Access{{ID: "closed", Behind: -1}, {ID: "open", OpenMinutes: 6, CloseMinutes: 8, Tries: true},
		{ID: "board", Behind: 1, OpenMinutes: 10, CloseMinutes: 12}, {ID: "deck", Behind: 1, OpenMinutes: 4, CloseMinutes: 5}}
	symptoms := make([]note.Finding, 5)
	for s := range symptoms {
		symptoms[s] = note.Finding{ID: fmt.Sprint("symptom", s), Check: -1, Leak: 0.01}
	}
	for i := range modes {
		m.Parts = append(m.Parts, note.Part{Unit: 1 + i%2})
		x := note.Mode{ID: fmt.Sprint("m", i), Part: i, Odds: rng.ExpFloat64() * 0.26 / float64(modes)}
		if i > 0 && rng.IntN(6) == 0 {
			x.Causes = []note.Cause{{Mode: rng.IntN(i), Chance: 0.7}}
		}
		m.Modes = append(m.Modes, x)
		for range 2 {
			s := &symptoms[rng.IntN(5)]
			s.Trigger = append(s.Trigger, note.Trigger{Mode: i, Chance: 0.6 + 0.4*rng.Float64()})
		}
		m.Repairs = append(m.Repairs, note.Repair{ID: fmt.Sprint("r", i), Clears: []note.Clear{{Mode: i, Success: 0.95}}, Harms: -1,
			Minutes: 10 + 20*rng.Float64(), Price: 12 * rng.Float64(), Days: float64(rng.IntN(4)), Access: 1 + rng.IntN(3)})
	}
	m.Findings = symptoms
	for u := range 2 {
		r := note.Repair{ID: fmt.Sprint("swap", u), Unit: 1 + u, Whole: true, Harms: -1, Minutes: 20, Price: 45, Days: 5, Access: 1}
		for i := u; i < modes; i += 2 {
			r.Clears = append(r.Clears, note.Clear{Mode: i, Success: 1})
		}
		m.Repairs = append(m.Repairs, r)
	}
	for c := range checks {
		f := note.Finding{ID: fmt.Sprint("f", c), Check: c, Leak: 0.05}
		for range 1 + rng.IntN(6) {
			f.Trigger = append(f.Trigger, note.Trigger{Mode: rng.IntN(modes), Chance: 0.7 + 0.3*rng.Float64()})
		}
		m.Findings = append(m.Findings, f)
		m.Checks = append(m.Checks, note.Check{ID: fmt.Sprint("c", c), Minutes: 1 + 8*rng.Float64(), Access: rng.IntN(4), Findings: []int{5 + c}})
	}
	return m
}

func shipped(t testing.TB, id string) *note.Model {
	t.Helper()
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model(id)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// complained is the device brought in with its first n symptoms seen.
func complained(t testing.TB, m *note.Model, n int) (*belief.Engine, *belief.Belief, belief.Evidence) {
	t.Helper()
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var ev belief.Evidence
	for f := range m.Findings {
		if m.Findings[f].Check < 0 && m.Findings[f].Kind == note.Sign && len(ev.Seen) < n {
			ev = ev.With(belief.Observation{Finding: f, Value: 1})
		}
	}
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	return e, b, ev
}

var bench = plan.Settings{Rate: 10, DayRate: 0.5, Worth: 120, Scrap: 5, Premium: 1}

// BenchmarkAdvise is one advice, from nothing and with the planner warm, and deeper.
func BenchmarkAdvise(b *testing.B) {
	for _, size := range []int{15, 30, 60, 90} {
		b.Run(fmt.Sprintf("modes=%d", size), func(b *testing.B) { advising(b, synthetic(size, size*2/3), 0, false) })
	}
	m := shipped(b, "powered-loudspeaker")
	b.Run("powered-loudspeaker", func(b *testing.B) { advising(b, m, 0, false) })
	b.Run("powered-loudspeaker/warm", func(b *testing.B) { advising(b, m, 0, true) })
	for _, n := range []int{3, 10, 30} {
		b.Run(fmt.Sprintf("powered-loudspeaker/expansions=%d", n), func(b *testing.B) { advising(b, m, n, true) })
	}
}

func advising(b *testing.B, m *note.Model, expansions int, warm bool) {
	e, bel, _ := complained(b, m, 1)
	p, err := plan.New(e, bench)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var a *plan.Advice
	for b.Loop() {
		if !warm {
			p, _ = plan.New(e, bench)
		}
		if a, err = p.AdviseWith(context.Background(), bel, plan.Situation{}, plan.Effort{Expansions: expansions}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(100*(a.Best.Total-a.Lower)/a.Best.Total, "%gap")
}

func BenchmarkRehearse(b *testing.B) {
	e, bel, _ := complained(b, shipped(b, "powered-loudspeaker"), 1)
	b.ReportAllocs()
	for b.Loop() {
		p, _ := plan.New(e, bench)
		if _, err := p.Rehearse(context.Background(), bel, plan.Situation{}, 100); err != nil {
			b.Fatal(err)
		}
	}
}
