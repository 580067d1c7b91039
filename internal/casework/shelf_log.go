package casework

import (
	"context"
	"slices"
	"strings"
	"time"

	"fettler/internal/shelf"
)

// A ShelfEntry is one thing written about the shelf; a list is one entry.
type ShelfEntry struct {
	Event   int       `json:"event"`
	At      time.Time `json:"at"`
	Who     string    `json:"who"`
	Kind    Kind      `json:"kind"`
	Words   string    `json:"words"`
	Void    bool      `json:"void"` // undone
	CanUndo bool      `json:"canUndo"`
}

// ShelfLog returns what was written about the shelf last, latest first, at most so
// many entries. With a line only what is about that line.
func (b *Bench) ShelfLog(ctx context.Context, line string, most int) ([]ShelfEntry, error) {
	s, bench, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	if line != "" {
		l, err := s.Find(line)
		if err != nil {
			return nil, err
		}
		line = l.ID
	}
	eff := effects(bench)
	out := []ShelfEntry{}
	batches := map[string]int{} // entry by batch
	for i := len(bench) - 1; i >= 0 && len(out) < most; i-- {
		e := bench[i]
		words, about, batch := b.entryOf(s, bench, e)
		if words == "" || line != "" && !slices.Contains(about, line) {
			continue
		}
		if batch != "" && line == "" {
			if k, ok := batches[batch]; ok {
				out[k].Event = e.Seq // the first one names them all
				continue
			}
			batches[batch] = len(out)
		}
		out = append(out, ShelfEntry{Event: e.Seq, At: e.At, Who: e.Who, Kind: e.Kind, Words: words, Void: eff[i].void, CanUndo: !eff[i].void})
	}
	return out, nil
}

// entryOf says an event in words, which lines it is about, and which list it belongs to;
// "" if it is none of the shelf.
func (b *Bench) entryOf(s *shelf.Shelf, bench []Event, e Event) (words string, about []string, batch string) {
	name := func(id string) string {
		if l := s.At(id); l != nil {
			return l.Name
		}
		return "line " + id
	}
	one := func(id string, p lineDeed) { words, about = p.Words(name(id)), []string{id} }
	switch e.Kind {
	case shelf.KindStocked:
		b.shelves.mu.Lock()
		p, err := b.shelves.reader.Stocked(e)
		b.shelves.mu.Unlock()
		if err != nil {
			return "", nil, ""
		}
		for i := range p.Lines {
			about = append(about, shelf.LineID(e.Seq, i))
		}
		words, batch = p.Words(), p.Batch
		if batch != "" {
			words = joined(" from the list ", "stocked parts", p.File)
		}
	case shelf.KindMoved:
		if p, err := decode[shelf.Moved](e, e.Data); err == nil {
			one(p.Line, p)
		}
	case shelf.KindUsed:
		if p, err := decode[shelf.Used](e, e.Data); err == nil {
			one(p.Line, p)
		}
	case shelf.KindCounted:
		if p, err := decode[shelf.Counted](e, e.Data); err == nil {
			one(p.Line, p)
		}
	case shelf.KindRenamed:
		if p, err := decode[shelf.Renamed](e, e.Data); err == nil {
			one(p.Line, p)
		}
	case KindUndone:
		p, err := decode[Undone](e, e.Data)
		if err != nil || p.Event < 1 || p.Event >= e.Seq {
			return "", nil, ""
		}
		what, lines, of := b.entryOf(s, bench, bench[p.Event-1])
		if what == "" {
			return "", nil, ""
		}
		words, about = "undid: "+what, lines
		if before, again := strings.CutPrefix(what, "undid: "); again {
			words = "brought back: " + before
		}
		if of != "" {
			batch = "undone " + of
		}
	}
	return words, about, batch
}
