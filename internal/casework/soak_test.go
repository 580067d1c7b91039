package casework_test

import (
	"math"
	"sync"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/soak"
	"fettler/internal/store/memory"
)

// A hand moves only when it is told to.
type hand struct {
	mu sync.Mutex
	at time.Time
}

func (h *hand) now() time.Time { h.mu.Lock(); defer h.mu.Unlock(); return h.at }

func (h *hand) on(min float64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.at = h.at.Add(time.Duration(min * float64(time.Minute)))
}

// repaired is a loudspeaker that crackled 3 of 10 times and works after its capacitors were replaced.
func repaired(t *testing.T) (*casework.Bench, *memory.Journal, *hand, string) {
	t.Helper()
	j, h := memory.New(), &hand{at: time.Date(2024, 3, 9, 18, 0, 0, 0, time.UTC)}
	b := casework.New(j, notes(t), casework.Options{Now: h.now})
	id := loudspeaker(t, b, casework.Noticing{Answers: answers("crackles", "3 of 10")}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true})
	return b, j, h, id
}

func soakOf(t *testing.T, b *casework.Bench, id string) *casework.SoakBoard {
	t.Helper()
	return ok[*casework.SoakBoard](t)(b.Soak(ctx, id))
}

// What a soak needs and how far it is are package soak's answers to the same
// events; it goes on while nobody writes, and its times survive in the journal.
func TestSoakGoesOn(t *testing.T) {
	b, _, h, id := repaired(t)
	v := soakOf(t, b, id)
	if v.Plan != nil || v.Ready != "" || v.Usual.Pattern != "of starts" || v.Usual.Shown != 3 || v.Usual.Of != 10 {
		t.Errorf("before planning: %+v", v)
	}
	plan := casework.SoakPlanned{SoakHistory: casework.SoakHistory{Pattern: "on average", EveryMin: 20, Seen: 3, When: "warm"}, Still: num(0.25)}
	ok[casework.Receipt](t)(b.PlanSoak(ctx, id, casework.SoakPlanning{SoakPlanned: plan}))
	if _, err := b.RecordSoak(ctx, id, casework.Soaking{What: "clean"}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("clean before it was switched on: %v", err)
	}
	began := h.now()
	ok[casework.Receipt](t)(b.RecordSoak(ctx, id, casework.Soaking{What: "started"}))
	h.on(50)

	q := soak.Question{History: soak.History{Pattern: soak.OnAverage, EveryMin: 20, Seen: 3, When: soak.Warm}, Still: 0.25}
	check := func(events ...soak.Event) {
		t.Helper()
		want := ok[soak.Tally](t)(soak.Follow(q, events, h.now()))
		v := soakOf(t, b, id)
		got := [4]float64{v.Tally.Counted, v.Tally.Pending, v.Tally.IfClean, v.Tally.Left}
		if diff := [4]float64{want.Counted, want.Pending, want.IfClean, want.Left}; got != diff || v.Tally.State != string(want.State) {
			t.Errorf("tally %v %s, want %v %s", got, v.Tally.State, diff, want.State)
		}
	}
	start := soak.Event{At: began, Kind: soak.Started}
	check(start)
	// 20 minutes to warm up, 30 that count: package soak's own example says 91 % with them.
	if v := soakOf(t, b, id); math.Abs(v.Tally.Pending-30) > 1e-9 || math.Round(100*v.Tally.IfClean) != 91 {
		t.Errorf("after 50 minutes: %+v", v.Tally)
	}
	ok[casework.Receipt](t)(b.RecordSoak(ctx, id, casework.Soaking{What: "clean"}))
	check(start, soak.Event{At: h.now(), Kind: soak.Clean})
	seq := soakOf(t, b, id).Seq
	ok[casework.Receipt](t)(b.Undo(ctx, id, seq, casework.By{}))
	check(start)
	h.on(60)
	off := ok[casework.Receipt](t)(b.RecordSoak(ctx, id, casework.Soaking{What: "paused"}))
	check(start, soak.Event{At: h.now(), Kind: soak.Paused})
	v = soakOf(t, b, id)
	if v.Tally.State != string(soak.Proved) || v.Tally.Fixed < 0.95 || len(v.Log) != 3 || v.Log[2].Event != off.Seq {
		t.Errorf("after the soak: %+v, log %v", v.Tally, v.Log)
	}
	for i := 1; i < len(v.Curve); i++ {
		if v.Curve[i].X <= v.Curve[i-1].X || v.Curve[i].Fixed < v.Curve[i-1].Fixed {
			t.Fatalf("the curve falls at %v", v.Curve[i])
		}
	}
}

// That it comes back ends the soak, is a symptom of the case, and is more to go on for the next soak.
func TestSoakRecurs(t *testing.T) {
	b, _, h, id := repaired(t)
	before := soakOf(t, b, id)
	ok[casework.Receipt](t)(b.PlanSoak(ctx, id, casework.SoakPlanning{SoakPlanned: before.Usual}))
	ok[casework.Receipt](t)(b.RecordSoak(ctx, id, casework.Soaking{What: "started", Heat: "cold"}))
	h.on(7)
	if _, err := b.RecordSoak(ctx, id, casework.Soaking{What: "recurred"}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("a recurrence of nothing: %v", err)
	}
	ok[casework.Receipt](t)(b.RecordSoak(ctx, id, casework.Soaking{What: "recurred", Answers: yes("crackles")}))
	v, s := view(t, b, id), soakOf(t, b, id)
	if v.Works || v.Next == nil || s.Tally.State != string(soak.Failed) || s.Tally.Fixed != 0 {
		t.Errorf("after it came back: works %v, next %v, tally %+v", v.Works, v.Next, s.Tally)
	}
	if s.Still != before.Still {
		t.Errorf("what the soak began with moved from %g to %g", before.Still, s.Still)
	}
	last := v.Known[len(v.Known)-1]
	if last.Finding != "crackles" || last.Denied || last.Earlier || last.From != "soaked" {
		t.Errorf("known last: %+v", last)
	}
	if _, err := b.RecordSoak(ctx, id, casework.Soaking{What: "started"}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("a soak that has failed goes on: %v", err)
	}
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{What: "resoldered"}))
	s = soakOf(t, b, id)
	if s.Plan != nil || s.Ready == "" || s.Usual.Shown != 4 || s.Usual.Of != 12 {
		t.Errorf("after the next repair: ready %q, usual %+v", s.Ready, s.Usual)
	}
}

// The belief that it is still there is the chance of what would show again.
func TestSoakBelief(t *testing.T) {
	b, _, _, id := repaired(t)
	v := soakOf(t, b, id)
	if !(v.Still > 0.01 && v.Still < 0.99) || v.StillFrom == "" {
		t.Errorf("still there with %g (%s)", v.Still, v.StillFrom)
	}
	bare := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Label: "no note", Category: "Kettle"})).Case
	if v := soakOf(t, b, bare); v.Still != 0.5 || len(v.Tests) == 0 {
		t.Errorf("without a note: %+v", v)
	}
	for name, p := range map[string]casework.SoakPlanned{
		"no pattern": {}, "never": {SoakHistory: casework.SoakHistory{Pattern: "in a time", InMin: 5}},
		"certain": {SoakHistory: casework.SoakHistory{Pattern: "each time"}, Still: num(1)}, "nan": {SoakHistory: casework.SoakHistory{Pattern: "on average", EveryMin: math.NaN()}},
	} {
		if _, err := b.PlanSoak(ctx, id, casework.SoakPlanning{SoakPlanned: p}); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The test list is that of the device, and what came of it can be taken back.
func TestTestList(t *testing.T) {
	b, _, _, id := repaired(t)
	has := map[string]casework.TestPoint{}
	for _, p := range soakOf(t, b, id).Tests {
		has[p.ID] = p
	}
	for _, want := range []string{"inputs", "outputs", "speakers", "earth", "insulation", "whole"} {
		if _, there := has[want]; !there {
			t.Errorf("a loudspeaker on the mains has no point %q: %v", want, has)
		}
	}
	if !has["insulation"].Licensed || len(has["insulation"].Cautions) == 0 {
		t.Errorf("insulation: %+v", has["insulation"])
	}
	if _, there := has["water"]; there {
		t.Error("a loudspeaker is tested for water")
	}
	seq := ok[casework.Receipt](t)(b.GoOver(ctx, id, casework.GoingOver{Points: []casework.PointDone{{Point: "inputs", Result: "bad", Words: "second one hums"}}})).Seq
	got := func() string {
		for _, p := range soakOf(t, b, id).Tests {
			if p.ID == "inputs" {
				return p.Result + p.Words
			}
		}
		return "gone"
	}
	if got() != "badsecond one hums" {
		t.Errorf("inputs: %s", got())
	}
	ok[casework.Receipt](t)(b.Undo(ctx, id, seq, casework.By{}))
	if got() != "" {
		t.Errorf("inputs after undoing: %s", got())
	}
	for _, bad := range []casework.PointDone{{Point: "nose", Result: "good"}, {Point: "inputs", Result: "blue"}} {
		if _, err := b.GoOver(ctx, id, casework.GoingOver{Points: []casework.PointDone{bad}}); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}
