package plan_test

import (
	"context"
	"math"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

func planner(t testing.TB, m *note.Model, s plan.Settings) *plan.Planner {
	t.Helper()
	e, err := belief.New(m, belief.Options{Unknown: -1})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(e, s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Replace untested or test first: one suspect at 0.7, the other at 0.3. Testing the
// first costs 4 minutes and tells for certain; soldering it takes s minutes, the
// other 30. By arithmetic, with a rate of one per minute and a free test of the whole:
// untested s + 0.3·30, tested 4 + 0.7·s + 0.3·30; they tie at s = 4/0.3 = 13.33.
func TestTestingPaysAboveSoManyMinutes(t *testing.T) {
	s := shop{p: []float64{0.7, 0.3}, price: []float64{0, 0}}
	m := s.model()
	m.TryMinutes = 1e-9
	m.Repairs[0].Minutes, m.Repairs[1].Minutes = 20, 30
	m.Findings = append(m.Findings, note.Finding{ID: "bad", Check: 0, Trigger: []note.Trigger{{Mode: 0, Chance: 1}}})
	m.Checks = []note.Check{{ID: "test", Minutes: 4, Findings: []int{1}}}
	for _, x := range []struct {
		minutes float64
		best    plan.Kind
		over    bool
	}{{20, plan.Check, true}, {10, plan.Repair, false}} {
		m.Repairs[0].Minutes = x.minutes
		a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1e4, Rate: 60}, plan.Effort{})
		if a.Best.Kind != x.best || a.Best.Pays == nil {
			t.Fatalf("%v minutes: best is %v with break-even %v", x.minutes, a.Best.Move, a.Best.Pays)
		}
		if b := a.Best.Pays; b.What != plan.RepairMinutes || !near(b.At, 4/0.3, 1e-3) || b.Over != x.over || b.Now != x.minutes {
			t.Errorf("%v minutes: pays %+v, want 13.33 minutes, over: %v", x.minutes, *b, x.over)
		}
	}
}

// Board swap or part repair: parts at 10 and 14 against a board at 20 that cures both.
// By arithmetic: parts 10 + 0.5·14 = 17 in all; the board ties at a price of 17.
func TestBoardSwapPaysUpTo(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 14}}
	m := s.model()
	m.Repairs = append(m.Repairs, note.Repair{ID: "board", Whole: true, Harms: -1, Price: 20, Clears: []note.Clear{{Mode: 0, Success: 1}, {Mode: 1, Success: 1}}})
	p := planner(t, m, plan.Settings{Worth: 1000})
	part, board := plan.Move{Kind: plan.Repair, Index: 0}, plan.Move{Kind: plan.Repair, Index: 2}
	if a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1000}, plan.Effort{}); a.Best.Move != part {
		t.Fatalf("best is %v at %.3f", a.Best.Move, a.Best.Total)
	}
	m.Repairs[2].Price = 15
	p = planner(t, m, plan.Settings{Worth: 1000})
	b, err := p.BreakEven(context.Background(), exactly(s.p), plan.Situation{}, board, part, plan.RepairPrice)
	if err != nil || b == nil || !near(b.At, 17, 1e-3) || b.Over {
		t.Errorf("the board pays %+v (%v), want a price under 17", b, err)
	}
	if _, err := p.BreakEven(context.Background(), exactly(s.p), plan.Situation{}, board, plan.Move{Kind: plan.Repair, Index: 9}, plan.RepairPrice); err == nil {
		t.Error("a repair that is not there was compared")
	}
}

// Going on pays above a worth: one certain fault, the part 12, worth 40: it ties at 12.
func TestGoingOnPaysAbove(t *testing.T) {
	s := shop{p: []float64{1}, price: []float64{12}}
	a := advise(t, s.model(), exactly(s.p), plan.Settings{Worth: 40}, plan.Effort{})
	if a.Going == nil || !near(a.Going.At, 12, 1e-3) || !a.Going.Over || a.Going.What != plan.DeviceWorth {
		t.Errorf("going on pays %+v, want a worth over 12", a.Going)
	}
}

// While it is open, do all three: the round trip costs 25 minutes, the two further repairs 9.
// By arithmetic: after the first, 2/3 still fail. Together: 9 + one test. Apart: the
// test (11 closing up, 1 trying) each time and 13 to open again.
func TestBatch(t *testing.T) {
	s := shop{p: []float64{1. / 3, 1. / 3, 1. / 3}, price: []float64{0, 0, 0}, inside: []bool{true, true, true}}
	m := s.model()
	m.TryMinutes = 1
	m.Access[1] = note.Access{ID: "open", OpenMinutes: 13, CloseMinutes: 11}
	for r, minutes := range []float64{5, 4, 5} {
		m.Repairs[r].Minutes = minutes
	}
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1000, Rate: 60}, plan.Effort{})
	b := a.Batch
	if b == nil || len(b.Repairs) != 3 {
		t.Fatalf("batch %+v, want all three", b)
	}
	if !near(b.Round.Minutes+b.Round.Access, 25, 1e-9) || !near(b.Fails, 2./3, 1e-6) || b.Repairs[0] != 1 || !near(b.Extra.Minutes, 10, 1e-9) || b.Extra.Access != 0 {
		t.Errorf("batch %+v", *b)
	}
	apart := 12 + 2./3*(13+5+12) + 1./3*(13+5+12)
	if want := apart - (10 + 12); !near(b.Saves, want, 1e-6) {
		t.Errorf("batching saves %.4f, want %.4f", b.Saves, want)
	}
	m.Access[1] = note.Access{ID: "open", OpenMinutes: 0, CloseMinutes: 0, Tries: true}
	if a := advise(t, m, exactly(s.p), plan.Settings{Worth: 1000, Rate: 60}, plan.Effort{}); a.Batch != nil {
		t.Errorf("with nothing to open: batch %+v, want none", *a.Batch)
	}
}

// The rehearsal of a small device is exact: its mean is the value of the plan, its
// chances add up, and the bands enclose the means' sides.
func TestRehearsalIsExactWhereSmall(t *testing.T) {
	s := shop{p: []float64{0.40, 0.30, 0.20, 0.10}, price: []float64{20, 6, 2, 10}}
	p := planner(t, s.model(), plan.Settings{Worth: 100})
	r, err := p.Rehearse(context.Background(), exactly(s.p), plan.Situation{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	o := r.Outlook()
	// CBAD costs 2 with chance 0.2, 8 with 0.3, 28 with 0.4, 38 with 0.1 (TestProbabilityPerCostExample)
	if want := (plan.Band{Low: 2, Mean: 17.8, High: 28}); r.Folded != 0 || !near(o.Success, 1, 1e-9) || !near(o.Money.Mean, want.Mean, 1e-6) || o.Money.Low != want.Low || o.Money.High != want.High {
		t.Errorf("money %+v, success %.3f, folded %.3f; want %+v", o.Money, o.Success, r.Folded, want)
	}
	if !near(o.Gain.Mean, 100-17.8, 1e-3) || !near(o.Gain.Low, 100-38, 1e-3) || !near(o.Gain.High, 100-2, 1e-3) {
		t.Errorf("gain %+v", o.Gain)
	}
}

// On a shipped device chances add up to one and the rehearsed plan is no dearer than the advice said.
func TestRehearsalOfShippedDevice(t *testing.T) {
	e, b, _ := complained(t, shipped(t, "bench-supply"), 1)
	p, err := plan.New(e, bench)
	if err != nil {
		t.Fatal(err)
	}
	a, err := p.Advise(context.Background(), b, plan.Situation{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := p.Rehearse(context.Background(), b, plan.Situation{}, 60)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, l := range r.Leaves {
		sum += l.P
	}
	o := r.Outlook()
	if !near(sum, 1, 1e-4) || o.Gain.Mean < a.Gain-0.05 || o.Gain.Low > o.Gain.Mean || o.Gain.High < o.Gain.Mean {
		t.Errorf("chances add up to %.6f, gain %+v, the advice promised %.3f", sum, o.Gain, a.Gain)
	}
}

// What would change one's mind: of two suspects at 0.7 and 0.3 the test of the first,
// coming out negative (0.3), brings the other to the top: a surprise of 1.74 bits.
func TestTurns(t *testing.T) {
	s := shop{p: []float64{0.7, 0.3}, price: []float64{10, 10}}
	m := s.model()
	m.Findings = append(m.Findings, note.Finding{ID: "bad", Check: 0, Trigger: []note.Trigger{{Mode: 0, Chance: 1}}})
	m.Checks = []note.Check{{ID: "test", Findings: []int{1}, Minutes: 2}}
	p := planner(t, m, plan.Settings{Worth: 100, Rate: 600}) // the test costs as much as two repairs
	x, err := p.Turns(context.Background(), exactly(s.p), plan.Situation{Known: map[int]bool{0: true}})
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Suspects) != 1 || x.Top.Mode != 0 || x.Suspects[0].Top.Mode != 1 || !near(x.Suspects[0].Bits, -math.Log2(0.3), 1e-6) {
		t.Errorf("turns %+v", x)
	}
	if len(x.Moves) != 1 || x.First != (plan.Move{Kind: plan.Repair, Index: 0}) || x.Moves[0].First != (plan.Move{Kind: plan.Repair, Index: 1}) {
		t.Errorf("moves %+v after %v", x.Moves, x.First)
	}
}

// A what-if leaves no trace.
func TestWhatIf(t *testing.T) {
	e, b, ev := complained(t, shipped(t, "bench-supply"), 1)
	p, err := plan.New(e, bench)
	if err != nil {
		t.Fatal(err)
	}
	sit := plan.Situation{Known: map[int]bool{ev.Seen[0].Finding: true}}
	before, err := p.Advise(context.Background(), b, sit)
	if err != nil {
		t.Fatal(err)
	}
	f := -1
	for i, x := range e.Model().Findings {
		if x.Check >= 0 && x.Kind == note.Sign {
			f = i
			break
		}
	}
	w, err := p.WhatIf(context.Background(), ev, sit, belief.Observation{Finding: f, Value: 1})
	if err != nil {
		t.Fatal(err)
	}
	after, err := p.Advise(context.Background(), b, sit)
	if err != nil {
		t.Fatal(err)
	}
	if len(ev.Seen) != 1 || len(sit.Known) != 1 || before.Best.Total != after.Best.Total || before.Best.Move != after.Best.Move {
		t.Errorf("a trace was left: %v at %v became %v at %v", before.Best.Move, before.Best.Total, after.Best.Move, after.Best.Total)
	}
	if w.Advice.Best.Total == before.Best.Total {
		t.Errorf("the what-if changed nothing")
	}
}
