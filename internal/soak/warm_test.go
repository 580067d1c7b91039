package soak_test

import (
	"testing"

	"fettler/internal/soak"
)

// A device warmed through in 20 min is cold again after 60 min off; a start is a warm one
// from three quarters of the heat on (judged), so after up to 15 min off.
func TestWhatIsAWarmStart(t *testing.T) {
	q := soak.Question{History: soak.History{Pattern: soak.OfStarts, Shown: 1, Of: 2, When: soak.Warm}, Still: 0.5}
	for off, want := range map[float64]int{1: 1, 14.9: 1, 15.1: 0, 59: 0, 61: 0} {
		got, err := soak.Follow(q, []soak.Event{ev(0, soak.Started), ev(25, soak.Paused), ev(25+off, soak.Started), ev(31+off, soak.Clean)}, after(31+off))
		if err != nil || got.WarmOnes != want || got.Counted != float64(want) {
			t.Errorf("%g min off: %d warm starts, %g count, %v; want %d", off, got.WarmOnes, got.Counted, err, want)
		}
	}
}

// Warm cycles run long enough to gain the heat they lose while off: 15 min off of 60 to cool
// down take a quarter of it, which is a quarter of the 40 min to warm up.
func TestWarmCyclesStayWarm(t *testing.T) {
	q := soak.Question{History: soak.History{Pattern: soak.OfStarts, Shown: 1, Of: 2, When: soak.Warm}, Still: 0.5,
		Settings: soak.Settings{WarmUpMin: 40, CoolDownMin: 60, OffMin: 15}}
	p, err := soak.Make(q)
	if err != nil || len(p.Steps) != 2 || p.Steps[1].OnMin != 10 || p.Steps[1].OffMin != 15 {
		t.Fatalf("%+v, %v", p.Steps, err)
	}
}
