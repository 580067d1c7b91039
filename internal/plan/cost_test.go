package plan_test

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// small is a synthetic device drawn from a seed, brought in with its first symptom.
func small(seed uint64) (*note.Model, *belief.Engine, *belief.Belief) {
	rng := rand.New(rand.NewPCG(seed, 2))
	m := synthetic(3+rng.IntN(5), 1+rng.IntN(5))
	for r := range m.Repairs {
		m.Repairs[r].Price = float64(rng.IntN(30))
		m.Repairs[r].Minutes = float64(5 + rng.IntN(30))
	}
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		panic(err)
	}
	b, err := e.Posterior(context.Background(), belief.Evidence{Seen: []belief.Observation{{Finding: 0, Value: 1}}})
	if err != nil {
		panic(err)
	}
	return m, e, b
}

func ask(t interface{ Fatal(...any) }, e *belief.Engine, b *belief.Belief, s plan.Settings, sit plan.Situation, effort plan.Effort) *plan.Advice {
	p, err := plan.New(e, s)
	if err != nil {
		t.Fatal(err)
	}
	a, err := p.AdviseWith(context.Background(), b, sit, effort)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func drawSettings(rt *rapid.T) plan.Settings {
	return plan.Settings{
		Rate: float64(rapid.IntRange(0, 30).Draw(rt, "rate")), DayRate: float64(rapid.IntRange(0, 3).Draw(rt, "day rate")),
		Worth: float64(rapid.IntRange(10, 150).Draw(rt, "worth")), Premium: float64(rapid.IntRange(0, 3).Draw(rt, "premium")),
	}
}

// solved is an effort that all but closes the bounds on these small devices. Where they
// stay open the properties are stated between the bounds, so they hold for any effort.
var solved = plan.Effort{Expansions: 200}

// More worth never makes stopping likelier: once it pays to go on it pays for every dearer device.
func TestMoreWorthNeverStops(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		_, e, b := small(rapid.Uint64Range(1, 200).Draw(rt, "device"))
		s := drawSettings(rt)
		a := ask(rt, e, b, s, plan.Situation{}, plan.Effort{})
		s.Worth += float64(rapid.IntRange(1, 100).Draw(rt, "more"))
		dearer := ask(rt, e, b, s, plan.Situation{}, plan.Effort{})
		if a.Best.Kind != plan.Stop && dearer.Best.Kind == plan.Stop {
			rt.Fatalf("worth %v says %v, a device worth more says stop", s.Worth, a.Best.Move)
		}
		if dearer.Gain < a.Gain-1e-6 {
			rt.Fatalf("gain fell from %.4f to %.4f as the device got dearer", a.Gain, dearer.Gain)
		}
	})
}

// A dearer repair never makes things cheaper, and never gains on the other moves by more than nothing.
func TestDearerRepairNeverRanksBetter(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64Range(1, 200).Draw(rt, "device")
		m, e, b := small(seed)
		s := drawSettings(rt)
		r := rapid.IntRange(0, len(m.Repairs)-1).Draw(rt, "repair")
		before := ask(rt, e, b, s, plan.Situation{}, solved)
		m2, e2, b2 := small(seed)
		m2.Repairs[r].Price += float64(rapid.IntRange(1, 40).Draw(rt, "dearer"))
		after := ask(rt, e2, b2, s, plan.Situation{}, solved)
		if after.Best.Total < before.Lower-1e-3 {
			rt.Fatalf("a dearer repair brought the cost down from at least %.4f to %.4f", before.Lower, after.Best.Total)
		}
		if chosen := (plan.Move{Kind: plan.Repair, Index: r}); after.Best.Move == chosen && before.Best.Move != chosen && before.Best.Behind == 0 &&
			before.Best.Total-before.Lower < 1e-6 && before.Ranking[1].Behind > 1e-3 {
			rt.Fatalf("repair %d became the best move by getting dearer", r)
		}
	})
}

// What is at hand is never worse to have at hand; what is refused or lacking never helps.
func TestShelfHelpsAndLacksHurt(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m, e, b := small(rapid.Uint64Range(1, 200).Draw(rt, "device"))
		s := drawSettings(rt)
		plain := ask(rt, e, b, s, plan.Situation{}, solved)
		r := rapid.IntRange(0, len(m.Repairs)-1).Draw(rt, "repair")
		shelf := ask(rt, e, b, s, plan.Situation{AtHand: map[int]bool{r: true}}, solved)
		if shelf.Lower > plain.Best.Total+1e-3 {
			rt.Fatalf("with the parts of repair %d at hand it costs %.4f, without %.4f", r, shelf.Lower, plain.Best.Total)
		}
		for c := range m.Checks {
			m.Checks[c].With = []string{"oscilloscope"}
		}
		s.Lacks = []string{"Oscilloscope"}
		bare := ask(rt, e, b, s, plan.Situation{}, solved)
		if bare.Best.Total < plain.Lower-1e-3 {
			rt.Fatalf("without an oscilloscope it costs %.4f, with one at least %.4f", bare.Best.Total, plain.Lower)
		}
		for _, x := range bare.Ranking {
			if x.Kind == plan.Check && !strings.Contains(x.Blocked, "oscilloscope") {
				rt.Fatalf("check %d is offered to a bench without an oscilloscope", x.Index)
			}
		}
	})
}

// An instrument that is missing is valued: the blocked check stands in the ranking
// with what it would cost in all, and Behind below zero is what it would save.
func TestMissingInstrumentIsValued(t *testing.T) {
	s := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}
	m := s.model()
	m.Findings = append(m.Findings, note.Finding{ID: "tests", Check: 0, Leak: 0.2, Trigger: []note.Trigger{{Mode: 0, Chance: 1 - 0.1/0.8}}})
	m.Checks = []note.Check{{ID: "test", Findings: []int{1}, With: []string{"ESR meter"}}}
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6, Lacks: []string{"ESR meter"}}, plan.Effort{})
	last := a.Ranking[len(a.Ranking)-1]
	if last.Blocked != "you have no ESR meter" || !near(last.Behind, -6.6, 1e-3) {
		t.Errorf("got %q behind %.4f; the test is worth 6.6 (TestValueOfInformation)", last.Blocked, last.Behind)
	}
}

// Hazards: as a premium they cost, as a hard limit they bar.
func TestHazards(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 10}}
	m := s.model()
	m.Repairs[0].Hazards = []note.Hazard{{Kind: "mains"}}
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 100, Premium: 3}, plan.Effort{})
	if a.Best.Index != 1 || !near(a.Best.Total, 10+0.5*13, 1e-3) {
		t.Errorf("with a premium of 3: repair %d at %.3f, want the harmless one first, 16.5 in all", a.Best.Index, a.Best.Total)
	}
	a = advise(t, m, exactly(s.p), plan.Settings{Worth: 100, Refuse: []string{"mains"}}, plan.Effort{})
	if !near(a.Best.Total, 10+0.5*100, 1e-3) || !near(a.Success, 0.5, 1e-6) {
		t.Errorf("refusing mains: %.3f with success %.2f, want 60 with one half", a.Best.Total, a.Success)
	}
	if last := a.Ranking[len(a.Ranking)-1]; !strings.Contains(last.Blocked, "mains") {
		t.Errorf("the refused repair says %q", last.Blocked)
	}
}

// Harm counts as its chance of the device's worth; the budget caps money, what is spent already included.
func TestHarmAndBudget(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 12}}
	m := s.model()
	m.Repairs[0].Harm = 0.1
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 100}, plan.Effort{})
	if a.Best.Index != 1 || !near(a.Best.Total, 12+0.5*(10+10), 1e-3) {
		t.Errorf("repair %d at %.3f, want the one that does no harm first, 22 in all", a.Best.Index, a.Best.Total)
	}
	m.Repairs[0].Harm = 0
	for _, x := range []struct{ budget, spent, total float64 }{{22, 0, 16}, {21, 0, 10 + 0.5*100}, {31, 21, 10 + 0.5*100}, {31, 25, 100}} {
		e, _ := belief.New(m, belief.Options{Unknown: -1})
		a := ask(t, e, exactly(s.p), plan.Settings{Worth: 100, Budget: x.budget}, plan.Situation{Spent: x.spent}, plan.Effort{})
		if !near(a.Best.Total, x.total, 1e-3) {
			t.Errorf("budget %v, %v spent: %.3f, want %.1f", x.budget, x.spent, a.Best.Total, x.total)
		}
	}
}

// The way in is paid once for all that lies behind it.
func TestAccessPaidOnce(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 10}, inside: []bool{true, true}, cover: 7}
	m := s.model()
	m.TryMinutes = 1e-9
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1000, Rate: 60}, plan.Effort{})
	if !near(a.Best.Total, 7+10+0.5*10, 1e-3) {
		t.Errorf("%.3f, want the cover once and 15 on average", a.Best.Total)
	}
}
