package casework_test

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/store/sqlite"
)

// manyClosed is a journal of so many closed cases of the test loudspeaker, half of
// them with a shorted bridge, in a file.
func manyClosed(b *testing.B, n int) *sqlite.Store {
	b.Helper()
	s, err := sqlite.Open(ctx, filepath.Join(b.TempDir(), "journal.sqlite"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { s.Close() })
	models := [][]casework.Event{}
	for _, deeds := range [][]casework.Deed{
		{casework.Noticing{Answers: yes("dead")}, casework.Repairing{Repair: "supply.new-bridge"}, casework.Repairing{Repair: "supply.new-fuse"}, casework.Testing{Works: true}},
		{casework.Noticing{Answers: yes("hums")}, casework.Remarking{Text: "grille glued"}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true}},
	} {
		bench, j := newBench(b)
		id := loudspeaker(b, bench, deeds...)
		ok[casework.Receipt](b)(bench.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
		events, err := j.Events(ctx, id, 0)
		if err != nil {
			b.Fatal(err)
		}
		models = append(models, events)
	}
	bare := make([][]casework.Event, 2) // all but the first bring no sheet
	for i, events := range models {
		bare[i] = append([]casework.Event{}, events...)
		last := &bare[i][len(events)-1]
		var p casework.ClosedCase
		if err := json.Unmarshal(last.Data, &p); err != nil {
			b.Fatal(err)
		}
		p.Lesson.Note = nil
		last.Data, _ = json.Marshal(p)
	}
	for i := range n {
		events := bare[i%2]
		if i < 2 {
			events = models[i]
		}
		events = append([]casework.Event{}, events...)
		for k := range events {
			events[k].At = events[k].At.Add(time.Duration(i) * time.Minute)
		}
		if err := s.Append(ctx, fmt.Sprintf("c-%06d", i), 0, events...); err != nil {
			b.Fatal(err)
		}
	}
	return s
}

const many = 100_000

// BenchmarkManyCases measures a bench with 100,000 closed cases: what the first look
// takes in a new process, with and without what an earlier one has kept, what a closing
// more costs, and searching.
func BenchmarkManyCases(b *testing.B) {
	s := manyClosed(b, many)
	open := func() *casework.Bench { return casework.New(s, notes(b), casework.Options{Now: clock()}) }
	warm := open()
	if _, err := warm.Learnt(context.Background()); err != nil {
		b.Fatal(err)
	}
	b.Run("first look of a process", func(b *testing.B) {
		for b.Loop() {
			if _, err := open().Learnt(ctx); err != nil {
				b.Fatal(err)
			}
		}
	})
	shown := loudspeaker(b, warm, casework.Noticing{Answers: yes("dead")})
	b.Run("first view of a process", func(b *testing.B) {
		for b.Loop() {
			view(b, open(), shown)
		}
	})
	b.Run("first look with nothing kept", func(b *testing.B) {
		for b.Loop() {
			bench := casework.New(bare{s, s, s}, notes(b), casework.Options{Now: clock()})
			if _, err := bench.Learnt(ctx); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("a closing more", func(b *testing.B) {
		for b.Loop() {
			bridgeCase(b, warm)
			if _, err := warm.Learnt(ctx); err != nil {
				b.Fatal(err)
			}
		}
	})
	began := time.Now()
	if _, err := warm.Search(ctx, "fuse"); err != nil {
		b.Fatal(err)
	}
	b.Logf("making the index of all cases: %v", time.Since(began))
	for _, text := range []string{"grille", "bridge rectifier", "hums glued", "f"} {
		b.Run("search "+text, func(b *testing.B) {
			for b.Loop() {
				if _, err := warm.Search(ctx, text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	mine := loudspeaker(b, warm, casework.Noticing{Answers: yes("dead")})
	b.Run("cases like this one", func(b *testing.B) {
		for b.Loop() {
			if _, err := warm.Like(ctx, mine); err != nil {
				b.Fatal(err)
			}
		}
	})
}
