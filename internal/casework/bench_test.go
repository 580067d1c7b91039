package casework_test

import (
	"context"
	"os"
	"sync"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/store/memory"
)

var ctx = context.Background()

var testNotes = sync.OnceValues(func() (*note.Library, error) { return note.Load(ctx, os.DirFS("testdata/notes")) })

func notes(t testing.TB) *note.Library {
	t.Helper()
	lib, err := testNotes()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// clock is one that moves on by a minute each time it is looked at.
func clock() func() time.Time {
	var mu sync.Mutex
	at := time.Date(2024, 3, 9, 18, 0, 0, 0, time.UTC)
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		at = at.Add(time.Minute)
		return at
	}
}

// newBench is an empty bench over the test notes.
func newBench(t testing.TB) (*casework.Bench, casework.Journal) {
	t.Helper()
	j := memory.New()
	return casework.New(j, notes(t), casework.Options{Now: clock(), Zone: time.UTC}), j
}

// loudspeaker opens a case of the test loudspeaker and records deeds in it.
func loudspeaker(t testing.TB, b *casework.Bench, deeds ...casework.Deed) string {
	t.Helper()
	r, err := b.Open(ctx, casework.Opening{Device: "test-loudspeaker"}, deeds...)
	if err != nil {
		t.Fatal(err)
	}
	return r.Case
}

func view(t testing.TB, b *casework.Bench, id string) *casework.View {
	t.Helper()
	v, err := b.View(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// ok fails the test on an error and drops the receipt.
func ok[T any](t testing.TB) func(T, error) T {
	return func(r T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

func yes(finding string) []casework.Answer { return answers(finding, "yes") }
func no(finding string) []casework.Answer  { return answers(finding, "no") }

func answers(pairs ...string) []casework.Answer {
	var out []casework.Answer
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, casework.Answer{Finding: pairs[i], Text: pairs[i+1]})
	}
	return out
}

func num(x float64) *float64 { return &x }

func project(t testing.TB, j casework.Journal, id string) *casework.Case {
	t.Helper()
	events, err := j.Events(ctx, id, 0)
	if err != nil {
		t.Fatal(err)
	}
	bench, err := j.Events(ctx, casework.BenchCase, 0)
	if err != nil {
		t.Fatal(err)
	}
	return projectEvents(t, bench, events)
}

func projectEvents(t testing.TB, bench, events []casework.Event) *casework.Case {
	t.Helper()
	device, err := casework.DeviceOf(events)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := notes(t).Model(device)
	c, err := casework.Project(m, bench, events)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
