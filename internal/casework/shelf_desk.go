package casework

import (
	"context"
	"io"
	"sync"

	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// shelfDesk keeps the shelf, and the journal of the bench it is made of, which a long
// list makes long. The zero value is ready.
type shelfDesk struct {
	mu     sync.Mutex
	events []Event // of BenchCase
	reader shelf.Reader
	now    *shelf.Shelf
	drafts []*listDraft
}

// benchEvents returns the journal of the bench, of which only the end is read again.
func (b *Bench) benchEvents(ctx context.Context) ([]Event, error) {
	d := &b.shelves
	d.mu.Lock()
	defer d.mu.Unlock()
	more, err := b.journal.Events(ctx, BenchCase, len(d.events))
	if err != nil {
		return nil, storeError(err)
	}
	d.events = append(d.events, more...)
	return d.events[:len(d.events):len(d.events)], nil
}

// shelfOf returns the shelf after these events of the bench.
func (b *Bench) shelfOf(bench []Event) (*shelf.Shelf, error) {
	d := &b.shelves
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.now != nil && d.now.Seq() == len(bench) {
		return d.now, nil
	}
	s, err := readShelf(&d.reader, bench)
	if err == nil {
		d.now = s
	}
	return s, err
}

func readShelf(r *shelf.Reader, bench []Event) (*shelf.Shelf, error) {
	eff := effects(bench)
	return r.Shelf(bench, func(i int) bool { return !eff[i].void })
}

// shelf returns the shelf as it is now, with the events it is made of.
func (b *Bench) shelf(ctx context.Context) (*shelf.Shelf, []Event, error) {
	bench, err := b.benchEvents(ctx)
	if err != nil {
		return nil, nil, err
	}
	s, err := b.shelfOf(bench)
	return s, bench, err
}

// Shelf returns a page of the shelf.
func (b *Bench) Shelf(ctx context.Context, a shelf.Ask) (*shelf.List, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	return s.List(a), nil
}

// ShelfLine returns one line, also if it is used up.
func (b *Bench) ShelfLine(ctx context.Context, id string) (*shelf.Shown, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	l, err := s.Find(id)
	if err != nil {
		return nil, err
	}
	x := l.Shown()
	return &x, nil
}

// ExportShelf writes the shelf as CSV.
func (b *Bench) ExportShelf(ctx context.Context, w io.Writer) error {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return err
	}
	var all []stock.Line
	for _, l := range s.Lines() {
		if l.Count > 0 {
			all = append(all, l.Listed())
		}
	}
	return stock.Write(w, all)
}

// PartOrigins lists where parts may come from.
func PartOrigins() []string { return stock.Origins() }
