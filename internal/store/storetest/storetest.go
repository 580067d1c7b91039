// Package storetest holds what every implementation of journal.Journal must
// pass. A store's own test calls Run with a function that opens an empty one.
package storetest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/journal"
)

// Run runs the suite; open returns a fresh, empty journal each time.
func Run(t *testing.T, open func(t *testing.T) journal.Journal) {
	for name, test := range map[string]func(*testing.T, journal.Journal){
		"events come back as they went in": testRoundTrip,
		"numbers follow on":                testNumbers,
		"a late append is a conflict":      testConflict,
		"many cases at once":               testBatch,
		"all or nothing":                   testAllOrNothing,
		"cases do not mix":                 testApart,
		"reading from the middle":          testAfter,
		"heads":                            testHeads,
		"an ended context writes nothing":  testCancelled,
		"no events is no event":            testEmpty,
		"what is read is a copy":           testCopy,
		"writers at once":                  testConcurrent,
		"what has changed since":           testChanged,
		"searching":                        testFind,
		"what was worked out":              testLarder,
	} {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

var start = time.Date(2024, 3, 9, 18, 30, 0, 123456000, time.UTC)

func event(text string) journal.Event {
	data, _ := json.Marshal(map[string]string{"text": text})
	return journal.Event{At: start, Kind: "remarked", Who: "Ada", Version: 1, Data: data}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func read(t *testing.T, j journal.Journal, id string, after int) []journal.Event {
	t.Helper()
	events, err := j.Events(context.Background(), id, after)
	must(t, err)
	return events
}

func testRoundTrip(t *testing.T, j journal.Journal) {
	for i, x := range []struct {
		name string
		e    journal.Event
	}{
		{"usual", event("hums")},
		{"letters of all sorts", event("Öhm Ω µF – “quoted” 'single' 漢字 🔧 \\ \" % _ ; -- \n\t\u2028 end")},
		{"a letter of value zero", event("a\x00b")},
		{"a long text", event(strings.Repeat("long ", 40_000))},
		{"no name", journal.Event{At: start, Kind: "opened", Version: 1, Data: json.RawMessage(`{}`)}},
		{"fields nobody knows, numbers to the last digit", journal.Event{At: start, Kind: "from-the-future", Version: 7,
			Data: json.RawMessage(`{"b":1.0000000000000001,"a":[1,2, 3],"z":{"private":{"x":null}}, "big":12345678901234567890}`)}},
		{"another zone", journal.Event{At: start.In(time.FixedZone("east", 5*3600+1800)), Kind: "remarked", Version: 1, Data: json.RawMessage(`{}`)}},
		{"long ago", journal.Event{At: time.Date(1901, 1, 1, 0, 0, 0, 1000, time.UTC), Kind: "remarked", Version: 1, Data: json.RawMessage(`{}`)}},
	} {
		id := fmt.Sprintf("case-%d", i)
		must(t, j.Append(context.Background(), id, 0, x.e))
		want := x.e
		want.Case, want.Seq, want.At = id, 1, want.At.UTC()
		if diff := cmp.Diff([]journal.Event{want}, read(t, j, id, 0)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", x.name, diff)
		}
	}
}

func testNumbers(t *testing.T, j journal.Journal) {
	ctx := context.Background()
	wrong := event("b")
	wrong.Seq, wrong.Case = 99, "elsewhere"
	must(t, j.Append(ctx, "a", 0, event("a"), wrong))
	must(t, j.Append(ctx, "a", 2, event("c")))
	for i, e := range read(t, j, "a", 0) {
		if e.Seq != i+1 || e.Case != "a" {
			t.Errorf("event %d is number %d of case %q", i+1, e.Seq, e.Case)
		}
	}
}

func testConflict(t *testing.T, j journal.Journal) {
	ctx := context.Background()
	must(t, j.Append(ctx, "a", 0, event("a"), event("b")))
	for _, after := range []int{0, 1, 3, -1} {
		err := j.Append(ctx, "a", after, event("late"))
		var late *journal.Conflict
		if !errors.As(err, &late) {
			t.Fatalf("append after %d of 2: %v, want a conflict", after, err)
		}
		if diff := cmp.Diff(&journal.Conflict{Case: "a", After: after, Now: 2}, late); diff != "" {
			t.Error(diff)
		}
	}
	err := j.Append(ctx, "new", 1, event("early"))
	var late *journal.Conflict
	if !errors.As(err, &late) || late.Now != 0 {
		t.Errorf("append after 1 of a case that is not there: %v, want a conflict", err)
	}
	if got := read(t, j, "a", 0); len(got) != 2 {
		t.Errorf("%d events after conflicts, want 2", len(got))
	}
}

func testAllOrNothing(t *testing.T, j journal.Journal) {
	ctx, cancel := context.WithCancel(context.Background())
	must(t, j.Append(ctx, "a", 0, event("a")))
	cancel()
	if err := j.Append(ctx, "a", 1, event("b"), event("c"), event("d")); err == nil {
		t.Error("an append in an ended context succeeded")
	}
	if got := read(t, j, "a", 0); len(got) != 1 {
		t.Errorf("%d events, want 1", len(got))
	}
	must(t, j.Append(context.Background(), "a", 1, event("b"), event("c"), event("d")))
	if got := read(t, j, "a", 0); len(got) != 4 {
		t.Errorf("%d events, want 4", len(got))
	}
}

func testApart(t *testing.T, j journal.Journal) {
	ctx := context.Background()
	ids := []string{journal.BenchCase, "a", "A", "a ", "a%", "case with # and ? and 'quote'", "ä"}
	for _, id := range ids {
		must(t, j.Append(ctx, id, 0, event("of "+id)))
	}
	for _, id := range ids {
		got := read(t, j, id, 0)
		if len(got) != 1 || !strings.Contains(string(got[0].Data), "of ") || got[0].Case != id {
			t.Errorf("case %q holds %+v", id, got)
		}
	}
	if got := read(t, j, "no such case", 0); len(got) != 0 {
		t.Errorf("a case never opened has events: %+v", got)
	}
}

func testAfter(t *testing.T, j journal.Journal) {
	must(t, j.Append(context.Background(), "a", 0, event("1"), event("2"), event("3")))
	for after, want := range map[int][]int{0: {1, 2, 3}, 1: {2, 3}, 3: nil, 9: nil} {
		var got []int
		for _, e := range read(t, j, "a", after) {
			got = append(got, e.Seq)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("after %d: %s", after, diff)
		}
	}
}

func testHeads(t *testing.T, j journal.Journal) {
	ctx := context.Background()
	at := func(h int) journal.Event {
		e := event("x")
		e.At = start.Add(time.Duration(h) * time.Hour)
		return e
	}
	if heads, err := j.Heads(ctx); err != nil || len(heads) != 0 {
		t.Fatalf("an empty journal has heads %v, error %v", heads, err)
	}
	must(t, j.Append(ctx, "b", 0, at(0), at(5)))
	must(t, j.Append(ctx, "a", 0, at(1), at(2), at(9)))
	must(t, j.Append(ctx, "c", 0, at(5)))
	must(t, j.Append(ctx, journal.BenchCase, 0, at(7)))
	got, err := j.Heads(ctx)
	must(t, err)
	h := func(n int) time.Time { return start.Add(time.Duration(n) * time.Hour) }
	want := []journal.Head{{Case: "a", Seq: 3, First: h(1), Changed: h(9)}, {Case: "b", Seq: 2, First: h(0), Changed: h(5)}, {Case: "c", Seq: 1, First: h(5), Changed: h(5)}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("heads (-want +got):\n%s", diff)
	}
}

func testCancelled(t *testing.T, j journal.Journal) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := j.Append(ctx, "a", 0, event("a")); !errors.Is(err, context.Canceled) {
		t.Errorf("append: %v, want the context's error", err)
	}
	if _, err := j.Events(ctx, "a", 0); !errors.Is(err, context.Canceled) {
		t.Errorf("events: %v, want the context's error", err)
	}
	if got := read(t, j, "a", 0); len(got) != 0 {
		t.Errorf("%d events were written", len(got))
	}
}

func testEmpty(t *testing.T, j journal.Journal) {
	ctx := context.Background()
	must(t, j.Append(ctx, "a", 0))
	heads, err := j.Heads(ctx)
	must(t, err)
	if len(heads) != 0 {
		t.Errorf("a case without events has a head: %v", heads)
	}
}

func testCopy(t *testing.T, j journal.Journal) {
	e := event("before")
	must(t, j.Append(context.Background(), "a", 0, e))
	e.Data[2] = 'X'
	got := read(t, j, "a", 0)
	got[0].Data[2], got[0].Who = 'Y', "somebody else"
	again := read(t, j, "a", 0)
	if string(again[0].Data) != `{"text":"before"}` || again[0].Who != "Ada" {
		t.Errorf("the journal was altered from outside: %s by %s", again[0].Data, again[0].Who)
	}
}

// testConcurrent has writers race for one case, each trying again after a
// conflict, while others read: nothing is lost, doubled or out of order.
func testConcurrent(t *testing.T, j journal.Journal) {
	const writers, each = 6, 20
	ctx := context.Background()
	var wg sync.WaitGroup
	errs := make(chan error, 2*writers)
	for w := range writers {
		wg.Add(2)
		go func() {
			defer wg.Done()
			for i := range each {
				if err := push(ctx, j, "race", event(fmt.Sprintf("%d/%d", w, i))); err != nil {
					errs <- err
					return
				}
			}
		}()
		go func() {
			defer wg.Done()
			for range each {
				events, err := j.Events(ctx, "race", 0)
				for i, e := range events {
					if e.Seq != i+1 {
						err = fmt.Errorf("event %d read in place %d", e.Seq, i+1)
					}
				}
				if err != nil {
					errs <- err
					return
				}
			}
		}()
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, e := range read(t, j, "race", 0) {
		seen[string(e.Data)]++
	}
	if len(seen) != writers*each {
		t.Errorf("%d different events, want %d", len(seen), writers*each)
	}
}

// push appends one event, however often others are faster.
func push(ctx context.Context, j journal.Journal, id string, e journal.Event) error {
	after := 0
	for {
		err := j.Append(ctx, id, after, e)
		var late *journal.Conflict
		if !errors.As(err, &late) {
			return err
		}
		after = late.Now
	}
}
