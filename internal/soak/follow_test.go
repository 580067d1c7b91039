package soak_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettler/internal/soak"
)

var evening = time.Date(2030, 3, 1, 19, 0, 0, 0, time.UTC)

func after(min float64) time.Time {
	return evening.Add(time.Duration(min * float64(time.Minute)))
}

func ev(min float64, k soak.EventKind) soak.Event { return soak.Event{At: after(min), Kind: k} }

func TestFollow(t *testing.T) {
	every20 := soak.History{Pattern: soak.OnAverage, EveryMin: 20, Exact: true}
	warm := every20
	warm.When = soak.Warm
	late := every20
	late.When, late.AfterMin = soak.Late, 90
	cold := every20
	cold.When = soak.Cold
	starts := soak.History{Pattern: soak.OfStarts, Shown: 1, Of: 2}
	coldStarts := starts
	coldStarts.When = soak.Cold
	for _, tt := range []struct {
		name     string
		h        soak.History
		events   []soak.Event
		now      float64
		counted  float64
		pending  float64
		state    soak.State
		oddities int
	}{
		{"nothing yet", every20, nil, 5, 0, 0, soak.NotStarted, 0},
		{"running unseen", every20, []soak.Event{ev(0, soak.Started)}, 30, 0, 30, soak.Running, 0},
		{"looked at", every20, []soak.Event{ev(0, soak.Started), ev(20, soak.Clean)}, 30, 20, 10, soak.Running, 0},
		{"paused", every20, []soak.Event{ev(0, soak.Started), ev(20, soak.Paused)}, 300, 20, 0, soak.Resting, 0},
		{"two evenings", every20, []soak.Event{ev(0, soak.Started), ev(20, soak.Paused), ev(1440, soak.Started), ev(1450, soak.Clean)}, 1450, 30, 0, soak.Running, 0},
		{"long enough", every20, []soak.Event{ev(0, soak.Started), ev(60, soak.Clean)}, 61, 60, 1, soak.Proved, 0},
		{"recurred", every20, []soak.Event{ev(0, soak.Started), ev(20, soak.Clean), ev(25, soak.Recurred)}, 60, 20, 5, soak.Failed, 0},
		{"recurred after all", every20, []soak.Event{ev(0, soak.Started), ev(80, soak.Clean), ev(85, soak.Recurred)}, 90, 80, 5, soak.Failed, 0},
		{"nothing after it", every20, []soak.Event{ev(0, soak.Started), ev(25, soak.Recurred), ev(30, soak.Started), ev(90, soak.Clean)}, 90, 0, 25, soak.Failed, 2},
		{"warm only once warm", warm, []soak.Event{ev(0, soak.Started), ev(30, soak.Clean)}, 30, 10, 0, soak.Running, 0},
		{"warm again after half an hour off", warm, []soak.Event{ev(0, soak.Started), ev(30, soak.Paused), ev(60, soak.Started), ev(80, soak.Clean)}, 80, 20, 0, soak.Running, 0},
		{"late only after", late, []soak.Event{ev(0, soak.Started), ev(80, soak.Clean), ev(100, soak.Clean)}, 100, 10, 0, soak.Running, 0},
		{"late starts over", late, []soak.Event{ev(0, soak.Started), ev(100, soak.Paused), ev(101, soak.Started), ev(180, soak.Clean)}, 180, 10, 0, soak.Running, 0},
		{"cold only at first", cold, []soak.Event{ev(0, soak.Started), ev(50, soak.Paused), ev(110, soak.Started), ev(115, soak.Clean)}, 115, 25, 0, soak.Running, 0},
		{"not cold enough", cold, []soak.Event{ev(0, soak.Started), ev(50, soak.Paused), ev(100, soak.Started), ev(115, soak.Clean)}, 115, 20, 0, soak.Running, 0},
		{"starts that ran", starts, []soak.Event{ev(0, soak.Started), ev(5, soak.Paused), ev(6, soak.Started), ev(8, soak.Paused), ev(9, soak.Started)}, 15, 1, 1, soak.Running, 0},
		{"one start counts once", starts, []soak.Event{ev(0, soak.Started), ev(6, soak.Clean), ev(30, soak.Clean)}, 30, 1, 0, soak.Running, 0},
		{"cold starts", coldStarts, []soak.Event{ev(0, soak.Started), ev(5, soak.Paused), ev(10, soak.Started), ev(20, soak.Paused), ev(80, soak.Started), ev(90, soak.Clean)}, 90, 2, 0, soak.Running, 0},
		{"said to be warm", coldStarts, []soak.Event{{At: after(0), Kind: soak.Started, Heat: soak.HeatWarm}, ev(10, soak.Clean)}, 10, 0, 0, soak.Running, 0},
		{"clock set back", every20, []soak.Event{ev(10, soak.Started), ev(5, soak.Clean), ev(20, soak.Clean)}, 20, 10, 0, soak.Running, 1},
		{"pressed twice", every20, []soak.Event{ev(0, soak.Started), ev(5, soak.Started), ev(20, soak.Paused), ev(21, soak.Paused)}, 30, 20, 0, soak.Resting, 2},
		{"now before it all", every20, []soak.Event{ev(0, soak.Started)}, -10, 0, 0, soak.Running, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := must(soak.Follow(soak.Question{Still: 0.5, History: tt.h}, tt.events, after(tt.now)))(t)
			near(t, "counted", got.Counted, tt.counted, 1e-6)
			near(t, "pending", got.Pending, tt.pending, 1e-6)
			if got.State != tt.state {
				t.Errorf("state %q, want %q", got.State, tt.state)
			}
			if len(got.Oddities) != tt.oddities {
				t.Errorf("oddities %q, want %d", got.Oddities, tt.oddities)
			}
			if tt.state == soak.Failed && (got.Fixed != 0 || got.IfClean != 0) {
				t.Errorf("recurred, yet fixed with chance %g", got.Fixed)
			}
		})
	}
}

func TestFollowBadInput(t *testing.T) {
	q := soak.Question{Still: 0.5, History: soak.History{Pattern: soak.EachTime}}
	for name, events := range map[string][]soak.Event{
		"no time":       {{Kind: soak.Started}},
		"no kind":       {{At: evening}},
		"unknown kind":  {ev(0, soak.Started), ev(1, "exploded")},
		"unknown later": {ev(0, soak.Started), ev(1, soak.Recurred), ev(2, "exploded")},
		"unknown heat":  {{At: evening, Kind: soak.Started, Heat: "tepid"}},
	} {
		_, err := soak.Follow(q, events, after(10))
		sentence(t, name, err)
	}
}

// play does the steps of a plan, looking at the device at the end of each.
func play(p soak.Plan) (events []soak.Event, end float64) {
	at, on := 0.0, false
	for _, s := range p.Steps {
		for range s.Times {
			if s.Kind == soak.Cycle {
				if on {
					events = append(events, ev(at, soak.Paused))
				}
				at += s.OffMin
				on = false
			}
			if !on {
				events = append(events, ev(at, soak.Started))
				on = true
			}
			at += s.OnMin + 1e-6
			events = append(events, ev(at, soak.Clean))
		}
	}
	return events, at
}

// Whoever does the steps of a plan is through when they end, and not before.
func TestStepsLeadToTheEnd(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := anyQuestion(rt)
		p, err := soak.Make(q)
		if err != nil {
			rt.Fatal(err)
		}
		if p.Need > 2000 {
			rt.Skip("too long to play")
		}
		events, end := play(p)
		got, err := soak.Follow(q, events, after(end))
		if err != nil {
			rt.Fatal(err)
		}
		if got.State != soak.Proved || len(got.Oddities) > 0 {
			rt.Fatalf("after all steps %v the tally is %+v", p.Steps, got)
		}
		if p.Already {
			return
		}
		got, err = soak.Follow(q, events[:len(events)-1], after(end))
		if err != nil {
			rt.Fatal(err)
		}
		if got.State == soak.Proved && got.Counted-got.Need > 1e-3 {
			rt.Fatalf("through before the last look: %+v", got)
		}
	})
}

// The fold may be asked at any time in between, and extra looks change nothing:
// what is counted in the end is the same.
func TestLookingDoesNotChangeTheCount(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := anyQuestion(rt)
		var plain, looked []soak.Event
		at, on := 0.0, false
		for i := range rapid.IntRange(1, 12).Draw(rt, "switches") {
			gap := rapid.Float64Range(0, 200).Draw(rt, fmt.Sprint("gap ", i))
			if on {
				looked = append(looked, ev(at+gap*rapid.Float64Range(0, 1).Draw(rt, "look"), soak.Clean))
			}
			at += gap
			k := soak.Started
			if on {
				k = soak.Paused
			}
			on = !on
			plain, looked = append(plain, ev(at, k)), append(looked, ev(at, k))
		}
		a, err := soak.Follow(q, plain, after(at))
		if err != nil {
			rt.Fatal(err)
		}
		b, err := soak.Follow(q, looked, after(at))
		if err != nil {
			rt.Fatal(err)
		}
		if d := cmp.Diff(a, b, cmpopts.EquateApprox(1e-6, 1e-6)); d != "" && a.State == b.State {
			rt.Fatalf("(-unseen +seen)\n%s", d)
		}
	})
}

// After a recurrence the showing is added to what was seen.
func TestHistoryWith(t *testing.T) {
	failed := soak.Tally{State: soak.Failed, Counted: 30, Pending: 10}
	for _, tt := range []struct{ in, want soak.History }{
		{soak.History{Pattern: soak.InTime, Times: 2, InMin: 60}, soak.History{Pattern: soak.InTime, Times: 3, InMin: 100}},
		{soak.History{Pattern: soak.OnAverage, EveryMin: 20}, soak.History{Pattern: soak.OnAverage, EveryMin: 25, Seen: 4}},
		{soak.History{Pattern: soak.OfStarts, Shown: 2, Of: 5}, soak.History{Pattern: soak.OfStarts, Shown: 3, Of: 46}},
		{soak.History{Pattern: soak.EachTime}, soak.History{Pattern: soak.OfStarts, Shown: 4, Of: 44}},
	} {
		if d := cmp.Diff(tt.want, tt.in.With(failed)); d != "" {
			t.Errorf("%s (-want +got)\n%s", tt.in.Pattern, d)
		}
		if d := cmp.Diff(tt.in, tt.in.With(soak.Tally{State: soak.Running})); d != "" {
			t.Errorf("%s changed without a recurrence\n%s", tt.in.Pattern, d)
		}
	}
}

// The stated confidence holds: among simulated devices that passed their soak,
// the share that is really fixed is at least the confidence.
func TestConfidenceHolds(t *testing.T) {
	const still, every = 0.4, 15.0
	p := must(soak.Make(soak.Question{Still: still, Confidence: 0.9,
		History: soak.History{Pattern: soak.OnAverage, EveryMin: every, Exact: true}}))(t)
	passed, fixed := 0, 0
	next := uint64(1)
	random := func() float64 { // a plain linear congruential generator, fixed seed
		next = next*6364136223846793005 + 1442695040888963407
		return (float64(next>>11) + 0.5) / (1 << 53)
	}
	for range 200_000 {
		ok := random() >= still
		if ok || -every*math.Log(random()) > p.Need {
			passed++
			if ok {
				fixed++
			}
		}
	}
	near(t, "fixed among those that passed", float64(fixed)/float64(passed), 0.9, 0.003)
}
