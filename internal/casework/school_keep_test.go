package casework_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/casework"
	"fettler/internal/journal"
	"fettler/internal/store/memory"
)

// bare is a journal without a larder.
type bare struct {
	casework.Journal
	journal.Tracker
	journal.Finder
}

// keeping is a bench, as in a process of its own, that keeps what cases teach from two on.
func keeping(t testing.TB, j casework.Journal) *casework.Bench {
	b := casework.New(j, notes(t), casework.Options{Now: clock(), Files: memory.NewPhotos()})
	b.KeepFrom(2)
	return b
}

// sameAsFromNothing compares what a bench has learnt with one that reads the journal from
// its beginning and keeps nothing.
func sameAsFromNothing(t interface {
	Helper()
	Fatalf(string, ...any)
}, b *casework.Bench, j *memory.Journal, lib *casework.Bench) {
	t.Helper()
	want, err := lib.Taught(ctx, true)
	if err != nil {
		t.Fatalf("from nothing: %v", err)
	}
	for _, whole := range []bool{false, true} {
		got, err := b.Taught(ctx, whole)
		if err != nil {
			t.Fatalf("kept: %v", err)
		}
		if !bytes.Equal(got, want) {
			t.Fatalf("what was kept and what happened since teach otherwise than the journal (whole %v)", whole)
		}
	}
	a, err := b.Learnt(ctx)
	if err != nil {
		t.Fatalf("%v", err)
	}
	c, err := lib.Learnt(ctx)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if diff := cmp.Diff(c, a); diff != "" {
		t.Fatalf("the page of lessons (-from nothing +kept):\n%s", diff)
	}
}

// closings are the events of closed cases to make journals of.
func closings(t testing.TB) [][]casework.Event {
	t.Helper()
	var out [][]casework.Event
	for range 2 {
		for _, deeds := range [][]casework.Deed{
			{casework.Noticing{Answers: yes("dead")}, casework.Repairing{Repair: "supply.new-bridge"}, casework.Testing{Works: true}},
			{casework.Noticing{Answers: yes("hums")}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true}},
		} {
			bench, j := newBench(t) // one of its own, so that each brings its sheet
			id := loudspeaker(t, bench, deeds...)
			ok[casework.Receipt](t)(bench.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
			events, err := j.Events(ctx, id, 0)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, events)
		}
	}
	return out
}

// Whatever happened and in whatever process: what was kept and the events since teach
// the same as the journal read from its beginning, also if what was kept is gone or damaged.
func TestKeptLessonsAreTheJournals(t *testing.T) {
	models := closings(t)
	rapid.Check(t, func(r *rapid.T) {
		j := memory.New()
		b := keeping(t, j)
		var ids []string
		one := func() string { return rapid.SampledFrom(ids).Draw(r, "case") }
		for n := rapid.IntRange(2, 12).Draw(r, "deeds"); n > 0; n-- {
			switch what := rapid.IntRange(0, 9).Draw(r, "deed"); {
			case what <= 2 || len(ids) == 0:
				id := rapid.StringMatching(`[a-z]{8}`).Draw(r, "id")
				if j.Append(ctx, id, 0, models[rapid.IntRange(0, len(models)-1).Draw(r, "model")]...) == nil {
					ids = append(ids, id)
				}
			case what == 3:
				_, _ = b.Undo(ctx, one(), 0, casework.By{}) // the closing, or an undoing of it
			case what == 4:
				_, _ = b.Reopen(ctx, one(), casework.Reopening{})
			case what == 5:
				_ = record(b, one(), casework.Remarking{Text: "a remark"})
			case what == 6:
				if err := b.ShareLessons(ctx, &bytes.Buffer{}); err != nil { // gives the bench a name
					r.Fatal(err)
				}
			case what == 7:
				damage(r, j)
			default:
				if _, err := b.Taught(ctx, rapid.Bool().Draw(r, "whole")); err != nil {
					r.Fatal(err)
				}
				b = keeping(t, j)
			}
		}
		fresh := casework.New(bare{j, j, j}, notes(t), casework.Options{Now: clock()})
		sameAsFromNothing(r, b, j, fresh)
		sameAsFromNothing(r, keeping(t, j), j, fresh)
	})
}

// damage does to a larder what a disk or another program might.
func damage(r *rapid.T, j *memory.Journal) {
	place := rapid.SampledFrom([]string{"lessons", "book"}).Draw(r, "place")
	jars, err := j.Fetch(ctx, place)
	if err != nil || len(jars) == 0 {
		return
	}
	i := rapid.IntRange(0, len(jars)-1).Draw(r, "jar")
	switch rapid.SampledFrom([]string{"empty", "flip", "cut", "lose one"}).Draw(r, "damage") {
	case "empty":
		jars = nil
	case "flip":
		jars[i].Data[rapid.IntRange(0, len(jars[i].Data)-1).Draw(r, "byte")] ^= 0x10
	case "cut":
		jars[i].Data = jars[i].Data[:rapid.IntRange(0, len(jars[i].Data)-1).Draw(r, "length")]
	case "lose one":
		jars = append(jars[:i], jars[i+1:]...)
	}
	if err := j.Store(ctx, place, true, jars...); err != nil {
		r.Fatal(err)
	}
}

// A new process needs no closed case for a view, nor after work on a case that was never
// closed; the next closing, or the page of lessons, opens the book.
func TestLessonsAreKept(t *testing.T) {
	j := memory.New()
	for i, events := range closings(t) {
		if err := j.Append(ctx, string(rune('a'+i)), 0, events...); err != nil {
			t.Fatal(err)
		}
	}
	first := keeping(t, j)
	id := loudspeaker(t, first, casework.Noticing{Answers: yes("dead")})
	want := suspect(t, view(t, first, id), "supply.bridge.short")
	second := keeping(t, j)
	if err := record(second, id, casework.Remarking{Text: "still there"}); err != nil {
		t.Fatal(err)
	}
	if got := suspect(t, view(t, second, id), "supply.bridge.short"); got.Basis != want.Basis || got.Now != want.Now {
		t.Errorf("in another process %v and %q, before %v and %q", got.Now, got.Basis, want.Now, want.Basis)
	}
	if second.BookOpen() {
		t.Error("all closed cases were read for a view")
	}
	if l := ok[*casework.Learnt](t)(second.Learnt(ctx)); l.Cases != 4 || !second.BookOpen() {
		t.Errorf("%d cases", l.Cases)
	}
	bridgeCase(t, second)
	third := keeping(t, j)
	if l := ok[*casework.Learnt](t)(third.Learnt(ctx)); l.Cases != 5 {
		t.Errorf("%d cases after one more", l.Cases)
	}
}

// What another journal's bench has kept is not believed.
func TestForeignLessonsAreIgnored(t *testing.T) {
	models := closings(t)
	mine, other := memory.New(), memory.New()
	for i, j := range []*memory.Journal{mine, other} {
		for n := range 3 {
			if err := j.Append(ctx, string(rune('a'+n)), 0, models[i]...); err != nil {
				t.Fatal(err)
			}
		}
	}
	ok[[]byte](t)(keeping(t, other).Taught(ctx, true))
	for _, place := range []string{"lessons", "book"} {
		jars := ok[[]journal.Jar](t)(other.Fetch(ctx, place))
		if len(jars) == 0 {
			t.Fatalf("nothing was kept in %q", place)
		}
		if err := mine.Store(ctx, place, true, jars...); err != nil {
			t.Fatal(err)
		}
	}
	sameAsFromNothing(t, keeping(t, mine), mine, casework.New(bare{mine, mine, mine}, notes(t), casework.Options{Now: clock()}))
}
