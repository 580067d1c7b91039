package storetest

import (
	"context"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/journal"
)

// testChanged: what has changed since a mark is the last event of each case written
// to since, in the order in which they were; the bench itself is no case.
func testChanged(t *testing.T, j journal.Journal) {
	tr, ok := j.(journal.Tracker)
	if !ok {
		t.Fatal("the store does not say which cases have changed")
	}
	ctx := context.Background()
	changed := func(mark int64) ([]string, int64) {
		t.Helper()
		events, next, err := tr.Changed(ctx, mark)
		must(t, err)
		got := []string{}
		for _, e := range events {
			want := read(t, j, e.Case, e.Seq-1)[0]
			if diff := cmp.Diff(want, e); diff != "" {
				t.Errorf("the last event of %s (-want +got):\n%s", e.Case, diff)
			}
			got = append(got, fmt.Sprint(e.Case, e.Seq))
		}
		return got, next
	}
	check := func(got, want []string) {
		t.Helper()
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("changed (-want +got):\n%s", diff)
		}
	}
	got, mark := changed(0)
	check(got, []string{})
	must(t, j.Append(ctx, "a", 0, event("1"), event("2")))
	must(t, j.Append(ctx, "b", 0, event("1")))
	must(t, j.Append(ctx, journal.BenchCase, 0, event("rate")))
	got, mark = changed(mark)
	check(got, []string{"a2", "b1"})
	got, mark = changed(mark)
	check(got, []string{})
	must(t, j.Append(ctx, "c", 0, event("1")))
	must(t, j.Append(ctx, "a", 2, event("3")))
	got, _ = changed(mark)
	check(got, []string{"c1", "a3"})
	got, _ = changed(0)
	check(got, []string{"b1", "c1", "a3"})
}
