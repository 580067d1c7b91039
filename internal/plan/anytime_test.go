package plan_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/plan"
)

// Thinking until the context ends: cut off, it returns the best so far, which is no worse than the answer at once.
func TestAnytime(t *testing.T) {
	e, b, _ := complained(t, shipped(t, "bench-supply"), 1)
	p, err := plan.New(e, bench)
	if err != nil {
		t.Fatal(err)
	}
	once, err := p.Advise(context.Background(), b, plan.Situation{})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	turns := 0
	a, err := p.AdviseWith(counted{ctx, &turns, cancel}, b, plan.Situation{}, plan.Effort{Expansions: -1})
	if err != nil || a.Best.Total > once.Best.Total+1e-9 {
		t.Errorf("cut off: %v, %v after %v", err, a, once.Best.Total)
	}
}

// counted ends after it has been asked 60 times, so the test does not depend on the clock.
type counted struct {
	context.Context
	turns  *int
	cancel func()
}

func (c counted) Err() error {
	if *c.turns++; *c.turns > 60 {
		c.cancel()
	}
	return c.Context.Err()
}

// The answer is the same every time, for every effort, and whatever was asked before.
func TestDeterministic(t *testing.T) {
	_, e, b := small(17)
	s := plan.Settings{Rate: 12, Worth: 90}
	used, err := plan.New(e, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, 1, 7, 50, 0} {
		fresh := ask(t, e, b, s, plan.Situation{}, plan.Effort{Expansions: n})
		got, err := used.AdviseWith(context.Background(), b, plan.Situation{}, plan.Effort{Expansions: n})
		if err != nil {
			t.Fatal(err)
		}
		if got.Best.Move != fresh.Best.Move || got.Best.Total != fresh.Best.Total || got.Lower != fresh.Lower || got.Depth != fresh.Depth {
			t.Errorf("%d expansions: %v at %v, afresh %v at %v", n, got.Best.Move, got.Best.Total, fresh.Best.Move, fresh.Best.Total)
		}
	}
}

// More thought never makes the plan dearer, nor the bound lower.
func TestBoundsClose(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		_, e, b := small(rapid.Uint64Range(1, 200).Draw(rt, "device"))
		s := drawSettings(rt)
		up, low := math.Inf(1), 0.0
		for _, n := range []int{0, 3, 30, 300} {
			a := ask(rt, e, b, s, plan.Situation{}, plan.Effort{Expansions: n})
			if a.Best.Total > up+1e-6 || a.Lower < low-1e-6 || a.Lower > a.Best.Total+1e-6 {
				rt.Fatalf("%d expansions: %.5f to %.5f after %.5f to %.5f", n, a.Lower, a.Best.Total, low, up)
			}
			up, low = a.Best.Total, a.Lower
		}
	})
}
