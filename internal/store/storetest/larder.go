package storetest

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fettler/internal/journal"
)

// testLarder: what is stored comes back in the order of its keys, place by place; a new
// jar stands in place of the old, and anew empties one place and no other.
func testLarder(t *testing.T, j journal.Journal) {
	l, ok := j.(journal.Larder)
	if !ok {
		t.Fatal("the store keeps nothing that was worked out")
	}
	ctx := context.Background()
	check := func(place string, want ...journal.Jar) {
		t.Helper()
		got, err := l.Fetch(ctx, place)
		must(t, err)
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("place %q (-want +got):\n%s", place, diff)
		}
	}
	jar := func(key, data string) journal.Jar { return journal.Jar{Key: key, Data: []byte(data)} }
	check("a")
	must(t, l.Store(ctx, "a", false, jar("2", "two\x00\xff"), jar("1", "")))
	must(t, l.Store(ctx, "b", true, jar("1", "other")))
	check("a", jar("1", ""), jar("2", "two\x00\xff"))
	must(t, l.Store(ctx, "a", false, jar("2", "zwei"), jar("10", "ten")))
	check("a", jar("1", ""), jar("10", "ten"), jar("2", "zwei"))
	data := []byte("mine")
	must(t, l.Store(ctx, "a", true, journal.Jar{Key: "3", Data: data}))
	data[0] = 'X'
	check("a", jar("3", "mine"))
	check("b", jar("1", "other"))
	must(t, l.Store(ctx, "a", true))
	check("a")
	ended, cancel := context.WithCancel(ctx)
	cancel()
	if l.Store(ended, "b", true) == nil {
		t.Error("stored in an ended context")
	}
	check("b", jar("1", "other"))
	if heads, err := j.Heads(ctx); err != nil || len(heads) != 0 {
		t.Errorf("what was kept is in the journal: %v, %v", heads, err)
	}
}
