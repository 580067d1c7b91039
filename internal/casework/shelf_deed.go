package casework

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"fettler/internal/journal"
	"fettler/internal/part"
	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// Stocking puts parts of one sort on the shelf. Name is read for its figures: "electrolytic 470 µF 25 V".
type Stocking struct {
	By
	Name  string
	Kind  string // if the name does not say it
	Count int
	Place string
	From  string // "new", "pulled" or "on a board"; "" is new, or on a board if Board is given
	Board string
	Note  string
}

// Moving puts a line somewhere else; Off takes it off its board.
type Moving struct {
	By
	Line  string
	Place string
	Off   bool
}

// Using takes pieces away, for a case or not.
type Using struct {
	By
	Line  string
	Count int // 0: 1
	Case  string
	What  string
}

// Counting says how many there really are.
type Counting struct {
	By
	Line  string
	Count int
}

// A ShelfReceipt says what was written to the journal of the bench.
type ShelfReceipt struct {
	Event int    `json:"event"` // the first event written
	Line  string `json:"line"`  // the line it is about
	Words string `json:"words"`
}

// A shelfDraft makes the payloads of one or more events of the same kind.
type shelfDraft func(s *shelf.Shelf, bench []Event) (Kind, []any, error)

// writeShelf appends what the draft makes to the journal of the bench, all or nothing.
func (b *Bench) writeShelf(ctx context.Context, by By, draft shelfDraft) (first int, err error) {
	who, err := oneLine(by.Who, "the name")
	if err != nil {
		return 0, err
	}
	for range retries {
		s, bench, err := b.shelf(ctx)
		if err != nil {
			return 0, err
		}
		kind, payloads, err := draft(s, bench)
		if err != nil || len(payloads) == 0 {
			return 0, err
		}
		events := make([]Event, len(payloads))
		for i, p := range payloads {
			if events[i], err = b.event(BenchCase, len(bench)+1+i, who, kind, p); err != nil {
				return 0, err
			}
		}
		err = b.journal.Append(ctx, BenchCase, len(bench), events...)
		var late *journal.Conflict
		switch {
		case err == nil:
			return len(bench) + 1, nil
		case !errors.As(err, &late):
			return 0, storeError(err)
		}
	}
	return 0, fail(Changed, "try again in a moment", "others keep writing to the shelf")
}

// Stock puts parts on the shelf.
func (b *Bench) Stock(ctx context.Context, in Stocking) (ShelfReceipt, error) {
	l, err := in.line()
	if err != nil {
		return ShelfReceipt{}, err
	}
	at, err := b.writeShelf(ctx, in.By, func(*shelf.Shelf, []Event) (Kind, []any, error) {
		return shelf.KindStocked, []any{shelf.Stocked{Lines: []shelf.StockLine{l}}}, nil
	})
	return ShelfReceipt{at, shelf.LineID(at, 0), shelf.Stocked{Lines: []shelf.StockLine{l}}.Words()}, err
}

func (in Stocking) line() (shelf.StockLine, error) {
	var l stock.Line
	name, err := text(in.Name, stock.MostText, "what it is")
	if err == nil && name == "" {
		err = fail(BadInput, "write it as on the drawer, such as: electrolytic 470 µF 25 V", "nothing says what it is")
	}
	if err != nil {
		return shelf.StockLine{}, err
	}
	p := stock.Read(name)
	if in.Kind != "" {
		k, err := part.ParseKind(in.Kind)
		if err != nil {
			return shelf.StockLine{}, &Error{Code: BadInput, Text: err.Error(), Next: "or leave the kind out", Err: err}
		}
		if p.Kind != k {
			p = stock.Read(string(k) + " " + name)
		}
	}
	l = stock.Line{Name: name, Kind: p.Kind, Figures: p.Figures, Words: p.Words, Count: in.Count, From: in.From}
	if l.From == "" {
		l.From = stock.New
		if in.Board != "" {
			l.From = stock.OnBoard
		}
	}
	if err := oneOf(l.From, stock.Origins(), false, "origin"); err != nil {
		return shelf.StockLine{}, err
	}
	if l.Count < 1 || l.Count > stock.MostCount {
		return shelf.StockLine{}, fail(BadInput, fmt.Sprintf("give a number from 1 to %d", stock.MostCount), "%d is no number of pieces", l.Count)
	}
	for _, x := range []struct {
		to   *string
		from string
		what string
	}{{&l.Place, in.Place, "the place"}, {&l.Board, in.Board, "the board"}, {&l.Note, in.Note, "the note"}} {
		if *x.to, err = oneLine(x.from, x.what); err != nil {
			return shelf.StockLine{}, err
		}
	}
	return shelf.NewStockLine(l), nil
}

// A lineDeed is the payload of an event about one line.
type lineDeed interface{ Words(name string) string }

// about writes one event about one line.
func (b *Bench) about(ctx context.Context, by By, id string, kind Kind, draft func(*shelf.Line) (lineDeed, error)) (ShelfReceipt, error) {
	var r ShelfReceipt
	at, err := b.writeShelf(ctx, by, func(s *shelf.Shelf, _ []Event) (Kind, []any, error) {
		l, err := s.Find(id)
		if err != nil {
			return "", nil, err
		}
		p, err := draft(l)
		if err != nil {
			return "", nil, err
		}
		r.Line, r.Words = l.ID, p.Words(l.Name)
		return kind, []any{p}, nil
	})
	r.Event = at
	return r, err
}

// MoveLine puts a line somewhere else.
func (b *Bench) MoveLine(ctx context.Context, in Moving) (ShelfReceipt, error) {
	place, err := oneLine(in.Place, "the place")
	if err == nil && place == "" {
		err = fail(BadInput, "say it as on the label, such as: drawer 3", "nothing says where it goes")
	}
	if err != nil {
		return ShelfReceipt{}, err
	}
	return b.about(ctx, in.By, in.Line, shelf.KindMoved, func(l *shelf.Line) (lineDeed, error) {
		return shelf.Moved{Line: l.ID, Place: place, Off: in.Off && l.From == stock.OnBoard}, nil
	})
}

// UseLine takes pieces away.
func (b *Bench) UseLine(ctx context.Context, in Using) (ShelfReceipt, error) {
	what, err := oneLine(in.What, "what for")
	if err != nil {
		return ShelfReceipt{}, err
	}
	if in.Case != "" {
		if _, _, err := b.read(ctx, in.Case); err != nil {
			return ShelfReceipt{}, err
		}
	}
	n := max(in.Count, 0)
	if in.Count == 0 {
		n = 1
	}
	return b.about(ctx, in.By, in.Line, shelf.KindUsed, func(l *shelf.Line) (lineDeed, error) {
		if n < 1 || n > l.Count {
			return nil, fail(BadInput, "count them and write the number down", "%d cannot be taken, there are %d", in.Count, l.Count)
		}
		return shelf.Used{Line: l.ID, Count: n, Case: in.Case, What: what}, nil
	})
}

// CountLine says how many there really are.
func (b *Bench) CountLine(ctx context.Context, in Counting) (ShelfReceipt, error) {
	if in.Count < 0 || in.Count > stock.MostCount {
		return ShelfReceipt{}, fail(BadInput, fmt.Sprintf("give a number from 0 to %d", stock.MostCount), "%d is no number of pieces", in.Count)
	}
	return b.about(ctx, in.By, in.Line, shelf.KindCounted, func(l *shelf.Line) (lineDeed, error) { return shelf.Counted{Line: l.ID, Count: in.Count}, nil })
}

// Renaming says what a line really is; fields as in Stocking. What is empty is empty from now on.
type Renaming struct {
	By
	Line  string
	Name  string
	Kind  string
	From  string
	Board string
	Note  string
}

// RenameLine says what a line really is: its name is read anew.
func (b *Bench) RenameLine(ctx context.Context, in Renaming) (ShelfReceipt, error) {
	is, err := Stocking{Name: in.Name, Kind: in.Kind, Count: 1, From: in.From, Board: in.Board, Note: in.Note}.line()
	if err != nil {
		return ShelfReceipt{}, err
	}
	is.Count = 0
	return b.about(ctx, in.By, in.Line, shelf.KindRenamed, func(l *shelf.Line) (lineDeed, error) { return shelf.Renamed{Line: l.ID, Is: is}, nil })
}

// UndoShelf takes an event of the shelf back, of a list all its events; an undoing
// can be undone. Event 0 is the latest that counts.
func (b *Bench) UndoShelf(ctx context.Context, event int, by By) (ShelfReceipt, error) {
	var words string
	at, err := b.writeShelf(ctx, by, func(_ *shelf.Shelf, bench []Event) (Kind, []any, error) {
		all, err := undoes(bench, event)
		var out []any
		for _, n := range all {
			out = append(out, Undone{Event: n})
		}
		words = fmt.Sprintf("undid event %d", max(event, slices.Max(append(all, 0))))
		return KindUndone, out, err
	})
	return ShelfReceipt{Event: at, Words: words}, err
}

// undoes lists the events that go together with one to be undone.
func undoes(bench []Event, event int) ([]int, error) {
	eff := effects(bench)
	about := func(i int) int { // the event of the shelf that i is, or undoes
		e := bench[i]
		for e.Kind == KindUndone {
			p, err := decode[Undone](e, e.Data)
			if err != nil || p.Event < 1 || p.Event > i {
				return -1
			}
			i = p.Event - 1
			e = bench[i]
		}
		if shelf.IsKind(e.Kind) {
			return i
		}
		return -1
	}
	if event == 0 {
		for i := len(bench) - 1; i >= 0 && event == 0; i-- {
			if shelf.IsKind(bench[i].Kind) && !eff[i].void {
				event = i + 1
			}
		}
		if event == 0 {
			return nil, fail(BadInput, "look at what was written about the shelf", "there is nothing left to undo")
		}
	}
	if event < 1 || event > len(bench) || about(event-1) < 0 {
		return nil, fail(NotFound, "take one of those the list shows", "event %d is none of the shelf", event)
	}
	if eff[event-1].void {
		return nil, fail(BadInput, fmt.Sprintf("undo event %d to bring it back", eff[event-1].voidBy), "event %d has been undone already", event)
	}
	batch := batchOf(bench[about(event-1)])
	if batch == "" {
		return []int{event}, nil
	}
	var out []int
	for i := range bench {
		if a := about(i); !eff[i].void && bench[i].Kind == bench[event-1].Kind && a >= 0 && batchOf(bench[a]) == batch {
			out = append(out, i+1)
		}
	}
	return out, nil
}

// batchOf is the list that an event belongs to, "" if none.
func batchOf(e Event) string {
	if e.Kind != shelf.KindStocked {
		return ""
	}
	p, err := decode[shelf.Stocked](e, e.Data)
	if err != nil {
		return ""
	}
	return p.Batch
}
