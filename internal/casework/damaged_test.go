package casework_test

import (
	"strings"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/store/memory"
)

// damaged is a bench with a good case and one of which an event cannot be read, last changed.
func damaged(t *testing.T) *casework.Bench {
	b, j := newBench(t)
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{ID: "good", Device: "test-loudspeaker", Label: "Hall left"}))
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{ID: "bad", Device: "test-loudspeaker"}))
	torn := casework.Event{Case: "bad", At: time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC), Kind: casework.KindClosed, Version: 1, Data: []byte(`{"verdict": 7}`)}
	if err := j.Append(ctx, "bad", 1, torn); err != nil {
		t.Fatal(err)
	}
	return casework.New(j, notes(t), casework.Options{Now: clock(), Zone: time.UTC})
}

// One damaged case is listed as such, with what to do; every other thing goes on.
func TestDamagedCaseIsListed(t *testing.T) {
	b := damaged(t)
	list := ok[[]casework.Listed](t)(b.List(ctx))
	if len(list) != 2 || list[0].Case != "bad" || list[0].State != casework.Unreadable || list[1].State != casework.OnBench || list[1].Wrong != "" {
		t.Fatalf("%+v", list)
	}
	for _, says := range []string{"event 2", "bad", "copy"} {
		if !strings.Contains(list[0].Wrong, says) {
			t.Errorf("%q does not say %q", list[0].Wrong, says)
		}
	}
	if id := ok[string](t)(b.FindCase(ctx, "")); id != "good" {
		t.Errorf("the case worked on is %q", id)
	}
	view(t, b, "good")
	if s := ok[*casework.Shopping](t)(b.Shopping(ctx)); s.Cases != 1 {
		t.Errorf("%d cases are shopped for", s.Cases)
	}
	if l := ok[*casework.Learnt](t)(b.Learnt(ctx)); !strings.Contains(l.Trouble, "bad") {
		t.Errorf("the page of lessons says %q", l.Trouble)
	}
	if hits, err := b.Search(ctx, "Hall"); err != nil || len(hits) != 1 {
		t.Errorf("search: %+v, %v", hits, err)
	}
}

// A case whose note is gone is listed with what can still be done.
func TestCaseWithoutItsNoteIsListed(t *testing.T) {
	j := memory.New()
	b := casework.New(j, notes(t), casework.Options{Now: clock()})
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{ID: "a", Device: "test-loudspeaker", Label: "Hall left"}))
	list := ok[[]casework.Listed](t)(casework.New(j, new(note.Library), casework.Options{Now: clock()}).List(ctx))
	if len(list) != 1 || list[0].Title != "Hall left" || list[0].State != casework.OnBench || !strings.Contains(list[0].Wrong, "test-loudspeaker") || !strings.Contains(list[0].Wrong, "another device") {
		t.Errorf("%+v", list)
	}
}
