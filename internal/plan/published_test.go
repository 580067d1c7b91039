package plan_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// shop is a device with one exclusive fault per action: action i costs price[i]
// and cures fault i for certain. inside[i] puts it behind a cover.
type shop struct {
	p, price []float64
	inside   []bool
	cover    float64 // minutes to open, at a rate of one per minute
}

func (s shop) model() *note.Model {
	m := &note.Model{ID: "shop", Parts: []note.Part{{ID: "part"}}, Units: []note.Unit{{}}}
	m.Access = []note.Access{{ID: "outside", Behind: -1, Tries: true}, {ID: "open", OpenMinutes: s.cover, Tries: true}}
	dead := note.Finding{ID: "broken", Kind: note.Sign, Check: -1}
	for i := range s.p {
		m.Modes = append(m.Modes, note.Mode{ID: string(rune('A' + i)), Odds: s.p[i]})
		dead.Trigger = append(dead.Trigger, note.Trigger{Mode: i, Chance: 1})
		r := note.Repair{ID: m.Modes[i].ID, Clears: []note.Clear{{Mode: i, Success: 1}}, Harms: -1, Price: s.price[i]}
		if s.inside != nil && s.inside[i] {
			r.Access = 1
		}
		m.Repairs = append(m.Repairs, r)
	}
	m.Findings = []note.Finding{dead}
	return m
}

// exactly is a belief in exactly one fault, with the given chances.
func exactly(p []float64) *belief.Belief {
	b := &belief.Belief{}
	for i, x := range p {
		b.Candidates = append(b.Candidates, belief.Candidate{First: []int{i}, Now: []int{i}, P: x})
	}
	return b
}

func advise(t testing.TB, m *note.Model, b *belief.Belief, s plan.Settings, effort plan.Effort) *plan.Advice {
	t.Helper()
	e, err := belief.New(m, belief.Options{Unknown: -1})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(e, s)
	if err != nil {
		t.Fatal(err)
	}
	a, err := p.AdviseWith(context.Background(), b, plan.Situation{}, effort)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// names spells the order of repairs that the advice foresees.
func names(m *note.Model, rs []int) string {
	s := ""
	for _, r := range rs {
		s += m.Repairs[r].ID
	}
	return s
}

// The p/c ordering: J. B. Kadane, H. A. Simon, Annals of Statistics 5, 1977; J. Kalagnanam,
// M. Henrion, UAI 1988; D. Heckerman, J. S. Breese, K. Rommelse, CACM 38(3), 1995. The worked example was
// computed by enumerating all 24 orders.
func TestProbabilityPerCostExample(t *testing.T) {
	s := shop{p: []float64{0.40, 0.30, 0.20, 0.10}, price: []float64{20, 6, 2, 10}}
	for _, worth := range []float64{1e6, 25} { // with a way out at 25 the order stays
		a := advise(t, s.model(), exactly(s.p), plan.Settings{Worth: worth}, plan.Effort{})
		if !near(a.Best.Total, 17.8, 1e-4) {
			t.Errorf("worth %v: expected cost %.4f, want 17.8", worth, a.Best.Total)
		}
		if got := names(s.model(), a.StopAfter); got != "CBAD" {
			t.Errorf("worth %v: order %s, want CBAD", worth, got)
		}
	}
}

// expectedCost is ECR = Σ c_i·(1 - Σ_{j<i} p_j), with the cover paid once.
func (s shop) expectedCost(order []int) float64 {
	left, sum, open := 1.0, 0.0, false
	for _, i := range order {
		if s.inside != nil && s.inside[i] && !open {
			sum += left * s.cover
			open = true
		}
		sum += left * s.price[i]
		left -= s.p[i]
	}
	return sum
}

func (s shop) bestOrder() float64 {
	best := math.Inf(1)
	var walk func(order []int, used int)
	walk = func(order []int, used int) {
		if len(order) == len(s.p) {
			best = math.Min(best, s.expectedCost(order))
		}
		for i := range s.p {
			if used>>i&1 == 0 {
				walk(append(order, i), used|1<<i)
			}
		}
	}
	walk(nil, 0)
	return best
}

func drawShop(t *rapid.T) shop {
	n := rapid.IntRange(2, 6).Draw(t, "actions")
	s := shop{}
	sum := 0.0
	for range n {
		s.p = append(s.p, float64(rapid.IntRange(1, 100).Draw(t, "p")))
		s.price = append(s.price, float64(rapid.IntRange(1, 100).Draw(t, "c")))
		sum += s.p[len(s.p)-1]
	}
	for i := range s.p {
		s.p[i] /= sum
	}
	return s
}

// The theorem against brute force over all orders.
func TestProbabilityPerCostIsOptimal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawShop(rt)
		a := advise(t, s.model(), exactly(s.p), plan.Settings{Worth: 1e6}, plan.Effort{})
		if want := s.bestOrder(); !near(a.Best.Total, want, 1e-3) {
			rt.Fatalf("expected cost %.4f, the best order costs %.4f", a.Best.Total, want)
		}
	})
}

// Cost clusters: H. Langseth, F. V. Jensen, Reliability Engineering & System Safety 80, 2003; T. J. Ottosen,
// F. V. Jensen (bottom-up P-over-C, cluster need not be closed to test). The
// example was computed by enumerating all six orders: A C B 14.1.
func TestCoverPaidOnce(t *testing.T) {
	s := shop{p: []float64{0.5, 0.3, 0.2}, price: []float64{8, 2, 1}, inside: []bool{false, true, true}, cover: 10}
	m := s.model()
	m.TryMinutes = 1e-9 // the published setting: a test costs nothing
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6, Rate: 60}, plan.Effort{})
	if got := names(m, a.StopAfter); !near(a.Best.Total, 14.1, 1e-3) || got != "ACB" {
		t.Errorf("order %s at %.3f, want ACB at 14.1", got, a.Best.Total)
	}
}

// Brute force over all orders with a cover, against the bottom-up order.
func TestCoverAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawShop(rt)
		s.cover = float64(rapid.IntRange(1, 60).Draw(rt, "cover"))
		for range s.p {
			s.inside = append(s.inside, rapid.Bool().Draw(rt, "inside"))
		}
		m := s.model()
		m.TryMinutes = 1e-9
		a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6, Rate: 60}, plan.Effort{})
		if want := s.bestOrder(); !near(a.Best.Total, want, 1e-3) {
			rt.Fatalf("order %s at %.4f, the best costs %.4f", names(m, a.StopAfter), a.Best.Total, want)
		}
	})
}

// The worth of one noisy test: two faults, 0.6 and 0.4, repairs at 30 and 50, a test for the
// first with sensitivity 0.9 and specificity 0.8: worth 6.6 (Heckerman, Breese & Rommelse 1995
// for the one-step look-ahead; figures by arithmetic).
func TestValueOfInformation(t *testing.T) {
	s := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}
	m := s.model()
	bare := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6}, plan.Effort{})
	if !near(bare.Best.Total, 50, 1e-4) {
		t.Errorf("without the test %.4f, want 50", bare.Best.Total)
	}
	m.Findings = append(m.Findings, note.Finding{ID: "tests", Kind: note.Sign, Check: 0, Leak: 0.2,
		Trigger: []note.Trigger{{Mode: 0, Chance: 1 - 0.1/0.8}}})
	m.Checks = []note.Check{{ID: "test", Findings: []int{1}}}
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6}, plan.Effort{})
	if a.Best.Kind != plan.Check || !near(a.Best.Total, 43.4, 1e-4) {
		t.Fatalf("best is %v at %.4f, want the test at 43.4", a.Best.Kind, a.Best.Total)
	}
	for _, r := range a.Best.Results {
		want := map[int][2]float64{0: {0.62, 36.451613}, 1: {0.38, 54.736842}}[r.Values[0].Outcome]
		if !near(r.P, want[0], 1e-6) || !near(r.Total, want[1], 1e-4) {
			t.Errorf("outcome %d: chance %.6f then %.6f, want %.6f then %.6f", r.Values[0].Outcome, r.P, r.Total, want[0], want[1])
		}
	}
	for _, x := range []struct {
		minutes float64
		kind    plan.Kind
	}{{6.5, plan.Check}, {6.7, plan.Repair}} { // it pays up to 6.6
		m.Checks[0].Minutes = x.minutes
		m.TryMinutes = 1e-9
		if got := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6, Rate: 60}, plan.Effort{}); got.Best.Kind != x.kind {
			t.Errorf("a test that costs %.1f: best is a %v", x.minutes, got.Best.Kind)
		}
	}
}

// Look, then repair (Heckerman, Breese & Rommelse 1995): looking costs Co, the
// repair Cr is paid only for the one that is broken. Their best order is B A C
// at 21.2; one who also infers the last without looking saves its look, 0.2 × 4.
func TestLookThenRepair(t *testing.T) {
	s := shop{p: []float64{0.5, 0.3, 0.2}, price: []float64{10, 40, 5}}
	m := s.model()
	for i, minutes := range []float64{2, 1, 4} {
		m.Findings = append(m.Findings, note.Finding{ID: "look", Kind: note.Sign, Check: i, Trigger: []note.Trigger{{Mode: i, Chance: 1}}})
		m.Checks = append(m.Checks, note.Check{ID: m.Modes[i].ID, Minutes: minutes, Findings: []int{i + 1}})
	}
	m.TryMinutes = 1e-9
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e6, Rate: 60}, plan.Effort{Expansions: 500})
	if a.Best.Kind != plan.Check || !near(a.Best.Total, 21.2-0.2*4, 1e-3) {
		t.Errorf("%v %d at %.4f, want a look at B first, 20.4 in all", a.Best.Kind, a.Best.Index, a.Best.Total)
	}
	if !near(a.Lower, a.Best.Total, 1e-3) {
		t.Errorf("bounds did not close: %.4f to %.4f", a.Lower, a.Best.Total)
	}
}
