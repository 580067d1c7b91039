package storetest

import (
	"context"
	"fmt"
	"testing"

	"fettler/internal/journal"
)

// testBatch: many cases are written at once; one that has moved on is left as it is and
// counted, also if it is twice among them; with an ended context nothing is written.
func testBatch(t *testing.T, j journal.Journal) {
	many, ok := j.(journal.Batcher)
	if !ok {
		t.Fatal("the store does not take many cases at once")
	}
	ctx := context.Background()
	must(t, j.Append(ctx, "case-3", 0, event("was here")))
	var batches []journal.Batch
	for i := range 10 {
		batches = append(batches, journal.Batch{Case: fmt.Sprintf("case-%d", i), Events: []journal.Event{event("one"), event("two")}})
	}
	batches = append(batches, journal.Batch{Case: "case-9", Events: []journal.Event{event("again")}})
	ended, end := context.WithCancel(ctx)
	end()
	if _, err := many.AppendAll(ended, batches); err == nil {
		t.Error("written with an ended context")
	}
	if heads, err := j.Heads(ctx); err != nil || len(heads) != 1 {
		t.Fatalf("%d cases after writing nothing, %v", len(heads), err)
	}
	late, err := many.AppendAll(ctx, batches)
	if err != nil || late != 2 {
		t.Fatalf("%d late, %v; want 2", late, err)
	}
	for i := range 10 {
		want := 2
		if i == 3 {
			want = 1
		}
		if events := read(t, j, fmt.Sprintf("case-%d", i), 0); len(events) != want {
			t.Errorf("case-%d has %d events, want %d", i, len(events), want)
		}
	}
}
