// Package memory keeps a journal in memory: for tests, and for looking round
// without leaving anything behind. Start at New.
package memory

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"fettler/internal/journal"
)

// A Journal holds events until the process ends. It is safe for concurrent use.
type Journal struct {
	mu     sync.RWMutex
	cases  map[string][]journal.Event
	tail   map[string]int64 // when a case was last written to, in appends
	count  int64
	pages  pages
	larder larder
}

// New returns an empty journal.
func New() *Journal { return &Journal{cases: map[string][]journal.Event{}, tail: map[string]int64{}} }

// Append implements journal.Journal.
func (j *Journal) Append(ctx context.Context, caseID string, after int, events ...journal.Event) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.append(caseID, after, events)
}

// AppendAll implements journal.Batcher.
func (j *Journal) AppendAll(ctx context.Context, batches []journal.Batch) (late int, err error) {
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	for _, b := range batches {
		if j.append(b.Case, b.After, b.Events) != nil {
			late++
		}
	}
	return late, nil
}

// append fails only if the case has moved on.
func (j *Journal) append(caseID string, after int, events []journal.Event) error {
	old := j.cases[caseID]
	if len(events) == 0 {
		return nil
	}
	if len(old) != after {
		return &journal.Conflict{Case: caseID, After: after, Now: len(old)}
	}
	for i, e := range events {
		e.Case, e.Seq, e.At, e.Data = caseID, after+i+1, e.At.UTC(), slices.Clone(e.Data)
		old = append(old, e)
	}
	j.cases[caseID] = old
	j.count++
	j.tail[caseID] = j.count
	return nil
}

// Events implements journal.Journal.
func (j *Journal) Events(ctx context.Context, caseID string, after int) ([]journal.Event, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	all := j.cases[caseID]
	out := slices.Clone(all[min(max(after, 0), len(all)):])
	for i := range out {
		out[i].Data = slices.Clone(out[i].Data)
	}
	return out, nil
}

// Heads implements journal.Journal.
func (j *Journal) Heads(ctx context.Context) ([]journal.Head, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	var out []journal.Head
	for id, events := range j.cases {
		if id != journal.BenchCase {
			out = append(out, journal.Head{Case: id, Seq: len(events), First: events[0].At, Changed: events[len(events)-1].At})
		}
	}
	slices.SortFunc(out, func(a, b journal.Head) int { return cmp.Or(b.Changed.Compare(a.Changed), cmp.Compare(a.Case, b.Case)) })
	return out, nil
}
