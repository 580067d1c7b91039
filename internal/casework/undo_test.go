package casework_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettler/internal/casework"
)

// amounts compares what two journals amount to, whatever events they are made of.
var amounts = cmp.Options{
	cmpopts.IgnoreUnexported(casework.Case{}),
	cmpopts.IgnoreFields(casework.Case{}, "ID", "Seq", "Last", "Timeline", "Model"),
	cmpopts.EquateEmpty(), cmpopts.EquateApprox(0, 1e-9),
}

// deed draws one: often a sensible one, sometimes one that will be refused.
func deed(t *rapid.T) casework.Deed {
	some := func(list ...string) string { return rapid.SampledFrom(list).Draw(t, "which") }
	before := 0
	if rapid.IntRange(0, 4).Draw(t, "old part") == 0 {
		before = rapid.IntRange(2, 12).Draw(t, "before")
	}
	var minutes *float64
	if rapid.Bool().Draw(t, "minutes stated") {
		minutes = num(float64(rapid.IntRange(0, 30).Draw(t, "minutes")))
	}
	switch rapid.IntRange(0, 12).Draw(t, "deed") {
	case 0:
		return casework.Saying{Text: some("it hums", "does not hum, crackles", "dead", "burning smell", "who knows")}
	case 1, 2:
		return casework.Noticing{Answers: answers(some("dead", "hums", "crackles", "smell", "none such"), some("yes", "no", "2 of 5")), Before: before}
	case 3:
		return casework.Checking{Check: "supply.look", Answers: answers("supply.look.bulged", some("yes", "no")), Before: before, Minutes: minutes}
	case 4:
		return casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", some("38 V", "0.2 V", "overload")), Minutes: minutes}
	case 5:
		return casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", some("as marked", "worn", "shorted")), Before: before, Minutes: minutes}
	case 6:
		return casework.OpeningUp{Access: some("outside", "open", "out"), Minutes: minutes}
	case 7:
		return casework.Repairing{Repair: some("supply.recap", "supply.new-fuse", "amp.resolder", ""), What: some("", "by hand"), Minutes: minutes}
	case 8:
		return casework.Testing{Works: rapid.Bool().Draw(t, "works"), Answers: answers("hums", some("yes", "no")), Open: rapid.Bool().Draw(t, "open"), Minutes: minutes}
	case 9:
		return casework.Ordering{Repairs: []string{some("supply.recap", "supply.new-fuse")}, Money: float64(rapid.IntRange(0, 9).Draw(t, "money")), Here: rapid.Bool().Draw(t, "here")}
	case 10:
		return casework.Arriving{}
	case 11:
		return casework.Settling{Settled: casework.Settled{Rate: num(float64(rapid.IntRange(0, 20).Draw(t, "rate")))}}
	default:
		return casework.Remarking{Text: some("one", "two", "three")}
	}
}

// scenario opens a case and puts deeds to it; refused ones must be refused with a sentence.
func scenario(t *rapid.T, tt *testing.T, most int) (*casework.Bench, casework.Journal, string) {
	b, j := newBench(tt)
	id := loudspeaker(tt, b)
	for range rapid.IntRange(0, most).Draw(t, "deeds") {
		do(t, b, id, deed(t))
	}
	return b, j, id
}

func do(t *rapid.T, b *casework.Bench, id string, d casework.Deed) (seq int, done bool) {
	r, err := recordSeq(b, id, d)
	var e *casework.Error
	if err != nil && !errors.As(err, &e) {
		t.Fatalf("%T: %v", d, err)
	}
	return r.Seq, err == nil
}

// Undoing an event leaves exactly what would be if it had never been written;
// undoing that brings it back exactly; the journal only grows.
func TestUndoRestores(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, j, id := scenario(rt, t, 8)
		before := project(t, j, id)
		seq, done := do(rt, b, id, deed(rt))
		if !done {
			return
		}
		after := project(t, j, id)
		undo := ok[casework.Receipt](t)(b.Undo(ctx, id, 0, casework.By{})).Seq
		if diff := cmp.Diff(before, project(t, j, id), amounts); diff != "" {
			rt.Fatalf("undoing event %d left (-before +now):\n%s", seq, diff)
		}
		ok[casework.Receipt](t)(b.Undo(ctx, id, undo, casework.By{}))
		if diff := cmp.Diff(after, project(t, j, id), amounts); diff != "" {
			rt.Fatalf("undoing the undoing left (-before +now):\n%s", diff)
		}
		if c := project(t, j, id); c.Seq != seq+2 {
			rt.Fatalf("the journal has %d events, want %d", c.Seq, seq+2)
		}
	})
}

// Undoing everything, latest first, passes through every earlier state back to the bare opening.
func TestUndoAll(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, j := newBench(t)
		id := loudspeaker(t, b)
		states := []*casework.Case{project(t, j, id)}
		for range rapid.IntRange(0, 8).Draw(rt, "deeds") {
			if _, done := do(rt, b, id, deed(rt)); done {
				states = append(states, project(t, j, id))
			}
		}
		for n := len(states) - 2; n >= 0; n-- {
			ok[casework.Receipt](t)(b.Undo(ctx, id, 0, casework.By{}))
			if diff := cmp.Diff(states[n], project(t, j, id), amounts); diff != "" {
				rt.Fatalf("back to state %d (-then +now):\n%s", n, diff)
			}
		}
		if _, err := b.Undo(ctx, id, 0, casework.By{}); casework.CodeOf(err) != casework.BadInput {
			rt.Fatalf("undoing the opening: %v", err)
		}
	})
}

// A corrected event amounts to what it would have if it had been written right in the first place.
func TestCorrectAsIfRight(t *testing.T) {
	corrected := 0
	defer func() {
		if t.Logf("%d corrections compared", corrected); corrected == 0 {
			t.Error("nothing was compared")
		}
	}()
	rapid.Check(t, func(rt *rapid.T) {
		before := rapid.SliceOfN(rapid.Custom(deed), 0, 4).Draw(rt, "before")
		wrong := deed(rt)
		right := deed(rt)
		for range 30 { // mostly one of the same sort, which alone can take its place
			if reflect.TypeOf(right) == reflect.TypeOf(wrong) {
				break
			}
			right = deed(rt)
		}
		after := rapid.SliceOfN(rapid.Custom(deed), 0, 4).Draw(rt, "after")

		b, j := newBench(t)
		id := loudspeaker(t, b)
		for _, d := range before {
			do(rt, b, id, d)
		}
		seq, done := do(rt, b, id, wrong)
		if !done {
			return
		}
		if _, err := b.Correct(ctx, id, seq, right); err != nil {
			if casework.CodeOf(err) == "" {
				rt.Fatalf("correcting: %v", err)
			}
			return // another sort of deed, or one that is refused
		}
		good, gj := newBench(t)
		gid := loudspeaker(t, good)
		for _, d := range before {
			do(rt, good, gid, d)
		}
		if _, done := do(rt, good, gid, right); !done {
			rt.Fatalf("%+v is taken as a correction and refused at first", right)
		}
		// What follows must be taken by both: figures taken from the note depend on what went before.
		if len(after) > 0 {
			for _, d := range after {
				if _, isRepair := d.(casework.Repairing); isRepair {
					return
				}
				if c, isCheck := d.(casework.Checking); isCheck && c.Before > 0 {
					return
				}
				if n, isNotice := d.(casework.Noticing); isNotice && n.Before > 0 {
					return
				}
				_, one := do(rt, b, id, d)
				_, two := do(rt, good, gid, d)
				if one != two {
					rt.Fatalf("%+v is taken %v after a correction, %v after the right thing", d, one, two)
				}
			}
		}
		corrected++
		times := cmpopts.IgnoreFields(casework.Look{}, "Event", "At")
		if diff := cmp.Diff(project(t, gj, gid), project(t, j, id), amounts, times, cmpopts.IgnoreFields(casework.Case{}, "Acts", "Orders", "Since")); diff != "" {
			rt.Fatalf("(-right at first +corrected):\n%s", diff)
		}
	})
}

// The beginning of a journal amounts to what the case was then, however it went on.
func TestOrderTrue(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, j := newBench(t)
		id := loudspeaker(t, b)
		states := map[int]*casework.Case{1: project(t, j, id)}
		for range rapid.IntRange(0, 10).Draw(rt, "deeds") {
			if rapid.IntRange(0, 5).Draw(rt, "undo") == 0 {
				seq := rapid.IntRange(0, 12).Draw(rt, "seq")
				if _, err := b.Undo(ctx, id, seq, casework.By{}); err != nil && casework.CodeOf(err) == "" {
					rt.Fatal(err)
				}
			} else {
				do(rt, b, id, deed(rt))
			}
			c := project(t, j, id)
			states[c.Seq] = c
		}
		events := ok[[]casework.Event](t)(j.Events(ctx, id, 0))
		for n := range events {
			if want := states[n+1]; want != nil {
				if diff := cmp.Diff(want, projectEvents(t, nil, events[:n+1]), cmpopts.IgnoreUnexported(casework.Case{}), cmpopts.IgnoreFields(casework.Case{}, "Model")); diff != "" {
					rt.Fatalf("the first %d events (-then +now):\n%s", n+1, diff)
				}
			}
		}
		if len(events) > 1 {
			events[0], events[1] = events[1], events[0]
			if _, err := casework.Project(nil, nil, events); casework.CodeOf(err) != casework.StoreFail {
				rt.Fatalf("events out of order: %v", err)
			}
		}
	})
}

// Only the sort of event that was written can be put in its place, and what
// cannot be corrected says so.
func TestCorrectRefuses(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")}, casework.Remarking{Text: "x"})
	undone := ok[casework.Receipt](t)(b.Undo(ctx, id, 3, casework.By{})).Seq
	for seq, code := range map[int]casework.Code{0: casework.NotFound, 99: casework.NotFound, 2: casework.BadInput, 3: casework.BadInput, undone: casework.BadInput} {
		if _, err := b.Correct(ctx, id, seq, casework.Remarking{Text: "y"}); casework.CodeOf(err) != code {
			t.Errorf("event %d: %v, want %s", seq, err, code)
		}
	}
	if _, err := b.Undo(ctx, id, 3, casework.By{}); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("undo event %d", undone)) {
		t.Errorf("undoing twice: %v", err)
	}
	// the device itself can be put right, and what the new note does not know is listed
	ok[casework.Receipt](t)(b.Correct(ctx, id, 1, casework.Opening{Device: "test-music-box", Label: "box"}))
	v := view(t, b, id)
	if v.Header.Device != "test-music-box" || len(v.Known) != 0 || len(v.Source.Ignored) != 1 || !v.Timeline[1].Ignored {
		t.Errorf("after correcting the device: %+v, known %v, ignored %v", v.Header, v.Known, v.Source.Ignored)
	}
	if was := v.Timeline[0].Was; len(was) != 1 || !strings.Contains(was[0], "Invented powered loudspeaker") && !strings.Contains(was[0], "test-loudspeaker") {
		t.Errorf("what it said before is lost: %q", was)
	}
}

// Fields a newer version wrote survive a correction by this one; kinds it wrote are shown and count for nothing.
func TestNewerVersions(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b)
	newer := []casework.Event{
		{Kind: casework.KindRemarked, Version: 2, Data: json.RawMessage(`{"text":"old","mood":{"good":true},"private":"secret"}`)},
		{Kind: "smelled", Version: 3, Data: json.RawMessage(`{"of":"fish"}`)},
	}
	if err := j.Append(ctx, id, 1, newer...); err != nil {
		t.Fatal(err)
	}
	ok[casework.Receipt](t)(b.Correct(ctx, id, 2, casework.Remarking{Text: "new"}))
	events := ok[[]casework.Event](t)(b.Export(ctx, id, true))
	var c casework.Corrected
	if err := json.Unmarshal(events[3].Data, &c); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(c.Data, &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(map[string]any{"text": "new", "mood": map[string]any{"good": true}, "private": "secret"}, got); diff != "" {
		t.Errorf("corrected payload (-want +got):\n%s", diff)
	}
	v := view(t, b, id)
	if v.Timeline[1].Words != "new" || v.Timeline[1].Was[0] != "old" || !strings.Contains(v.Timeline[2].Words, "newer version") {
		t.Errorf("timeline %+v", v.Timeline)
	}
	for _, e := range ok[[]casework.Event](t)(b.Export(ctx, id, false)) {
		if strings.Contains(string(e.Data), "secret") {
			t.Errorf("event %d exports what is private: %s", e.Seq, e.Data)
		}
	}
}

// The owner is in the View, in no list and in no export unless asked for.
func TestPrivate(t *testing.T) {
	b, _ := newBench(t)
	owner := casework.Owner{Name: "Ms Neighbour", Contact: "second door left"}
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Owner: owner})).Case
	ok[casework.Receipt](t)(b.Correct(ctx, id, 1, casework.Opening{Device: "test-loudspeaker", Label: "loud", Owner: owner}))
	if v := view(t, b, id); v.Header.Owner != owner {
		t.Errorf("owner %+v", v.Header.Owner)
	}
	for _, private := range []bool{true, false} {
		all, _ := json.Marshal(ok[[]casework.Event](t)(b.Export(ctx, id, private)))
		if got := strings.Contains(string(all), "Neighbour") || strings.Contains(string(all), "door"); got != private {
			t.Errorf("export with private %v: the owner is in it: %v", private, got)
		}
	}
	// A remark may be private too; put right, it need not stay so.
	n := ok[casework.Receipt](t)(b.Remark(ctx, id, casework.Remarking{Text: "a quarrel", Private: true})).Seq
	for _, text := range []string{"a quarrel", "an argument"} {
		if e := view(t, b, id).Timeline[n-1]; e.Words != text || !e.Private {
			t.Errorf("the private remark: %+v", e)
		}
		for _, private := range []bool{true, false} {
			all, _ := json.Marshal(ok[[]casework.Event](t)(b.Export(ctx, id, private)))
			if got := strings.Contains(string(all), text); got != private {
				t.Errorf("export with private %v: the remark is in it: %v", private, got)
			}
		}
		ok[casework.Receipt](t)(b.Correct(ctx, id, n, casework.Remarking{Text: "an argument", Private: true}))
	}
	ok[casework.Receipt](t)(b.Correct(ctx, id, n, casework.Remarking{Text: "talked it over"}))
	if e := view(t, b, id).Timeline[n-1]; e.Words != "talked it over" || e.Private {
		t.Errorf("the remark that is private no more: %+v", e)
	}
	page, _ := json.Marshal(view(t, b, id))
	list, _ := json.Marshal(ok[[]casework.Listed](t)(b.List(ctx)))
	if strings.Contains(string(page)+string(list), "Neighbour") {
		t.Error("the owner is in the machine-readable view or list")
	}
}
