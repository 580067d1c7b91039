package casework_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
)

// newSharer is a bench that can take over what others have learnt.
func newSharer(t testing.TB) *casework.Bench {
	t.Helper()
	return casework.New(memory.New(), notes(t), casework.Options{Now: clock(), Files: memory.NewPhotos()})
}

// bridgeCase is a loudspeaker whose bridge was shorted, repaired and closed.
func bridgeCase(t testing.TB, b *casework.Bench) string {
	t.Helper()
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")}, casework.Checking{Check: "supply.bridge", Answers: answers("supply.bridge.bridge", "one shorted")},
		casework.Repairing{Repair: "supply.new-bridge"}, casework.Repairing{Repair: "supply.new-fuse"}, casework.Testing{Works: true, Answers: append(no("hums"), no("smell")...)})
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
	return id
}

func suspect(t *testing.T, v *casework.View, mode string) casework.Suspect {
	t.Helper()
	for _, s := range v.Suspects {
		if s.Mode == mode {
			return s
		}
	}
	t.Fatalf("%s is no suspect", mode)
	return casework.Suspect{}
}

// Closed cases move what the bench believes of the next one, say so, and stop
// doing so when the setting is off, a case is reopened, or none is left.
func TestClosedCasesTeach(t *testing.T) {
	b, _ := newBench(t)
	fresh := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")})
	before := suspect(t, view(t, b, fresh), "supply.bridge.short")
	var last string
	for range 6 {
		last = bridgeCase(t, b)
	}
	after := suspect(t, view(t, b, fresh), "supply.bridge.short")
	if after.Now <= before.Now+0.02 || !strings.Contains(after.Basis, "from 6 cases here: ×") {
		t.Errorf("after six shorted bridges: %g (%s), before %g", after.Now, after.Basis, before.Now)
	}
	other := suspect(t, view(t, b, fresh), "supply.reservoir.short")
	if strings.Contains(other.Basis, "×1.") {
		t.Errorf("the capacitors: %s", other.Basis)
	}

	off := false
	set := ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Learn: &off}}))
	if got := suspect(t, view(t, b, fresh), "supply.bridge.short"); math.Abs(got.Now-before.Now) > 1e-12 || got.Basis != before.Basis {
		t.Errorf("with learning off: %g, want %g", got.Now, before.Now)
	}
	ok[casework.Receipt](t)(b.Undo(ctx, casework.BenchCase, set.Seq, casework.By{}))
	ok[casework.Receipt](t)(b.Reopen(ctx, last, casework.Reopening{Why: "it came back"}))
	if got := suspect(t, view(t, b, fresh), "supply.bridge.short"); !strings.Contains(got.Basis, "from 5 cases here") {
		t.Errorf("with one reopened: %s", got.Basis)
	}
	if _, err := b.Settle(ctx, fresh, casework.Settling{Settled: casework.Settled{Learn: &off}}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("learning set for one case: %v", err)
	}
}

// What a case teaches does not depend on what earlier ones have taught.
func TestTheLedgerDoesNotTeachItself(t *testing.T) {
	lessonOf := func(first int) string {
		j := memory.New()
		b := casework.New(j, notes(t), casework.Options{Now: clock()})
		for range first {
			bridgeCase(t, b)
		}
		id := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")}, casework.Repairing{Repair: "supply.new-bridge"}, casework.Repairing{Repair: "supply.new-fuse"}, casework.Testing{Works: true})
		ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
		c := project(t, j, id)
		c.Closed.Lesson.Note = nil // only the first case brings the sheet
		data, _ := encode(c.Closed.Lesson)
		return string(data)
	}
	if diff := cmp.Diff(lessonOf(0), lessonOf(5)); diff != "" {
		t.Errorf("the lesson of a case (-alone +after five others):\n%s", diff)
	}
}

// Money, minutes, mass and calibration are those of the cases, added up by hand.
func TestLearnt(t *testing.T) {
	b, _ := newBench(t)
	for range 3 {
		bridgeCase(t, b)
	}
	stopped := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")})
	ok[casework.Receipt](t)(b.Close(ctx, stopped, casework.Closing{Verdict: casework.KeptForParts}))
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", ID: "show", Demo: true}))
	ok[casework.Receipt](t)(b.Close(ctx, "show", casework.Closing{Verdict: casework.NotWorthIt}))
	v := ok[*casework.Learnt](t)(b.Learnt(ctx))
	if v.Cases != 4 || v.Others != 0 || v.Trouble != "" || !v.On {
		t.Errorf("learnt: %+v", v)
	}
	// 3 × 70 EUR of loudspeakers and 5 EUR of parts; 3 × (1.50 + 0.50) EUR spent; 3 × 7.5 kg
	if s := v.Savings; s.Fixed != 3 || s.Kg != 22.5 || s.Money[0].Net != 210+5-6 || s.CO2 != 0 {
		t.Errorf("saved: %+v", s)
	}
	// open 6, out 9, checked 4, bridge 15, fuse 3, closing out 10 for the test, test 3, closing 5: 55 minutes each
	if s := v.Savings; math.Abs(s.Hours-3*55.0/60) > 1e-9 {
		t.Errorf("%g hours, want %g", s.Hours, 3*55.0/60)
	}
	if c := v.Costs[0]; c.Minutes.N != 4 || c.Minutes.Ranges != 4 || len(c.Money.Pairs) != 4 {
		t.Errorf("costs: %+v", c)
	}
	if len(v.Calibration) != 2 || v.Calibration[1].N != 3 || v.Calibration[1].BaseRate != 1 {
		t.Errorf("calibration: %+v", v.Calibration)
	}
	factor, source := 20.0, ""
	if _, err := b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Carbon: &factor, CarbonSource: &source}}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("a CO₂ factor without a source: %v", err)
	}
	source = "an invented publication"
	ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Carbon: &factor, CarbonSource: &source}}))
	if s := ok[*casework.Learnt](t)(b.Learnt(ctx)).Savings; s.CO2 != 450 || s.CO2Source != source {
		t.Errorf("with a factor: %+v", s)
	}
}

func share(t testing.TB, b *casework.Bench) []byte {
	t.Helper()
	var w bytes.Buffer
	if err := b.ShareLessons(ctx, &w); err != nil {
		t.Fatal(err)
	}
	return w.Bytes()
}

// Taking over what others have learnt is union: in any order, as often as one
// likes, round about, nothing counts twice; and it can be undone.
func TestTakeOver(t *testing.T) {
	a, b, c := newSharer(t), newSharer(t), newSharer(t)
	for range 2 {
		bridgeCase(t, a)
	}
	reopened := bridgeCase(t, b)
	bridgeCase(t, b)
	bridgeCase(t, b)
	count := func(x *casework.Bench) [2]int {
		t.Helper()
		v := ok[*casework.Learnt](t)(x.Learnt(ctx))
		if v.Trouble != "" {
			t.Errorf("trouble: %s", v.Trouble)
		}
		return [2]int{v.Cases, v.Others}
	}
	fromA := share(t, a)
	if !bytes.Equal(fromA, share(t, a)) {
		t.Error("the same cases give other bytes the second time")
	}
	ok[casework.Receipt](t)(b.TakeOver(ctx, bytes.NewReader(fromA), casework.By{}))
	if got := count(b); got != [2]int{5, 2} {
		t.Errorf("b after a: %v", got)
	}
	fromB := share(t, b)
	rec := ok[casework.Receipt](t)(a.TakeOver(ctx, bytes.NewReader(fromB), casework.By{}))
	if got := count(a); got != [2]int{5, 3} {
		t.Errorf("a after b, which had a: %v", got)
	}
	if _, err := a.TakeOver(ctx, bytes.NewReader(fromB), casework.By{}); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("the same file again: %v", err)
	}
	ok[casework.Receipt](t)(c.TakeOver(ctx, bytes.NewReader(fromB), casework.By{}))
	ok[casework.Receipt](t)(c.TakeOver(ctx, bytes.NewReader(fromA), casework.By{}))
	if got := count(c); got != [2]int{5, 5} {
		t.Errorf("c: %v", got)
	}
	fresh := loudspeaker(t, c, casework.Noticing{Answers: yes("dead")})
	if s := suspect(t, view(t, c, fresh), "supply.bridge.short"); !strings.Contains(s.Basis, "from 5 cases") {
		t.Errorf("c has seen none itself and believes: %s", s.Basis)
	}

	// A case reopened at b no longer counts at a once a has heard of it.
	ok[casework.Receipt](t)(b.Reopen(ctx, reopened, casework.Reopening{}))
	ok[casework.Receipt](t)(a.TakeOver(ctx, bytes.NewReader(share(t, b)), casework.By{}))
	if got := count(a); got != [2]int{4, 2} {
		t.Errorf("a after the withdrawal: %v", got)
	}
	ok[casework.Receipt](t)(a.Undo(ctx, casework.BenchCase, rec.Seq, casework.By{}))
	ok[casework.Receipt](t)(a.Undo(ctx, casework.BenchCase, rec.Seq+1, casework.By{}))
	if got := count(a); got != [2]int{2, 0} {
		t.Errorf("a after undoing both: %v", got)
	}
}

func TestTakeOverRefuses(t *testing.T) {
	b := newSharer(t)
	bridgeCase(t, b)
	good := string(share(t, b))
	for name, file := range map[string]string{
		"nothing": "", "no JSON": "hello", "another kind": `{"kind":"songs","version":1}`, "cut off": good[:len(good)/2],
		"altered": strings.Replace(good, `"fixed":true`, `"fixed":false`, 1), "unknown field": strings.Replace(good, `{"record":`, `{"x":1,"record":`, 1),
	} {
		if _, err := newSharer(t).TakeOver(ctx, strings.NewReader(file), casework.By{}); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%s: %v", name, err)
		}
	}
	plain, _ := newBench(t)
	if _, err := plain.TakeOver(ctx, strings.NewReader(good), casework.By{}); casework.CodeOf(err) != casework.StoreFail {
		t.Errorf("without a place to keep it: %v", err)
	}
}

// Testing a part taken out tells better which of several it was.
func TestEnding(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")}, casework.Repairing{Repair: "supply.new-bridge"}, casework.Repairing{Repair: "supply.recap"},
		casework.Repairing{Repair: "supply.new-fuse"}, casework.Testing{Works: true})
	v := ok[*casework.Ending](t)(b.Ending(ctx, id))
	if len(v.Sharper) == 0 || v.Kg != 7.5 || v.Saved.Net != 70-(1.5+6.4+0.5) {
		t.Fatalf("before closing: %+v", v)
	}
	entropy := func(v *casework.Ending) (h float64) {
		for _, c := range v.Because {
			if c.Now > 0 && c.Now < 1 {
				h -= c.Now*math.Log2(c.Now) + (1-c.Now)*math.Log2(1-c.Now)
			}
		}
		return h
	}
	s := v.Sharper[0]
	before := entropy(v)
	if s.Check.ID != "supply.bridge" && s.Check.ID != "supply.esr" {
		t.Fatalf("first offered: %+v", s)
	}
	finding, answer := "supply.bridge.bridge", "one shorted"
	if s.Check.ID == "supply.esr" {
		finding, answer = "supply.esr.esr", "shorted"
	}
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: s.Check.ID, Answers: answers(finding, answer), Before: s.Before}))
	after := ok[*casework.Ending](t)(b.Ending(ctx, id))
	if entropy(after) >= before {
		t.Errorf("the test of the old part told nothing: %g bits before, %g after", before, entropy(after))
	}
	for _, x := range after.Sharper {
		if x.Check == s.Check && x.Before == s.Before {
			t.Error("the test done is offered again")
		}
	}
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
	out := view(t, b, id).Outcome
	if out.Saved.Worth != 70 || math.Abs(out.Saved.Net-61.6) > 1e-9 || out.Saved.Spent != 8.4 {
		t.Errorf("saved: %+v", out.Saved)
	}
}

func encode(v any) ([]byte, error) { return json.Marshal(v) }

// A journal that does not say what has changed teaches the same.
func TestLessonsWithoutATracker(t *testing.T) {
	b := casework.New(struct{ casework.Journal }{memory.New()}, notes(t), casework.Options{Now: clock()})
	for range 3 {
		bridgeCase(t, b)
	}
	fresh := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")})
	if s := suspect(t, view(t, b, fresh), "supply.bridge.short"); !strings.Contains(s.Basis, "from 3 cases here: ×") {
		t.Errorf("the bridge: %s", s.Basis)
	}
	if _, err := b.Search(ctx, "dead"); casework.CodeOf(err) != casework.StoreFail {
		t.Errorf("searching in a store that cannot: %v", err)
	}
}
