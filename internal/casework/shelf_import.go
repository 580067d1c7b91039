package casework

import (
	"context"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"

	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// A ListDraft is a list that has been read but not put on the shelf.
type ListDraft struct {
	Token    string        `json:"-"`
	File     string        `json:"file"`
	Headings []string      `json:"headings"`
	Columns  []string      `json:"columns"`  // what each column holds; "" nothing
	Sample   [][]string    `json:"sample"`   // the first lines as they stand
	Preview  []shelf.Shown `json:"preview"`  // the first lines as they were read
	Lines    int           `json:"lines"`    // of the file
	Good     int           `json:"good"`     // lines that can be taken
	Unread   int           `json:"unread"`   // of these, whose name says no value
	Troubles []ListTrouble `json:"troubles"` // lines that cannot, the first hundred
	Bad      int           `json:"bad"`      // lines that cannot, all
	Problem  string        `json:"problem"`  // why none can, "" if some can
}

// A ListTrouble is a line of a list that cannot be taken.
type ListTrouble struct {
	Line int    `json:"line"`
	Text string `json:"text"`
}

// ListFields lists what a column can hold.
func ListFields() []string { return stock.Fields() }

const (
	mostDrafts   = 4   // lists waiting to be taken
	mostTroubles = 100 // said one by one
	linesEach    = 500 // lines of one event
)

type listDraft struct {
	token, file string
	list        *stock.List
}

// OpenList reads a list; nothing is written. Columns is what each column holds, nil for a guess.
func (b *Bench) OpenList(data []byte, file string, columns []string) (*ListDraft, error) {
	l, err := stock.Open(data)
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "give CSV with a line of headings first", Err: err}
	}
	file, err = oneLine(file, "the name of the file")
	if err != nil {
		return nil, err
	}
	d := &listDraft{token: fmt.Sprintf("%016x", rand.Uint64()), file: file, list: l}
	b.shelves.mu.Lock()
	b.shelves.drafts = append(b.shelves.drafts, d)
	if n := len(b.shelves.drafts); n > mostDrafts {
		b.shelves.drafts = slices.Clone(b.shelves.drafts[n-mostDrafts:])
	}
	b.shelves.mu.Unlock()
	if columns == nil {
		columns = l.Guess()
	}
	return d.show(columns), nil
}

// TryList reads an open list with other columns.
func (b *Bench) TryList(token string, columns []string) (*ListDraft, error) {
	d, err := b.draft(token)
	if err != nil {
		return nil, err
	}
	return d.show(columns), nil
}

func (b *Bench) draft(token string) (*listDraft, error) {
	b.shelves.mu.Lock()
	defer b.shelves.mu.Unlock()
	for _, d := range b.shelves.drafts {
		if d.token == token {
			return d, nil
		}
	}
	return nil, fail(NotFound, "send the list once more", "that list is no longer open")
}

func (d *listDraft) show(columns []string) *ListDraft {
	out := &ListDraft{Token: d.token, File: d.file, Headings: d.list.Headings, Columns: columns, Sample: d.list.Sample(4), Preview: []shelf.Shown{}, Troubles: []ListTrouble{}, Lines: d.list.Len()}
	lines, troubles, err := d.list.Take(columns)
	if err != nil {
		out.Problem = err.Error()
		return out
	}
	out.Good, out.Bad = len(lines), len(troubles)
	for _, l := range lines {
		if l.Kind == "" {
			out.Unread++
		}
	}
	for _, l := range lines[:min(4, len(lines))] {
		out.Preview = append(out.Preview, (&shelf.Line{StockLine: shelf.NewStockLine(l)}).Shown())
	}
	for _, t := range troubles[:min(mostTroubles, len(troubles))] {
		out.Troubles = append(out.Troubles, ListTrouble{t.Line, t.Text})
	}
	return out
}

// TakeList puts the lines of an open list on the shelf, all of them or none. With some
// that cannot be taken it refuses, unless they are to be left out.
func (b *Bench) TakeList(ctx context.Context, token string, columns []string, leaveOut bool, by By) (ShelfReceipt, error) {
	d, err := b.draft(token)
	if err != nil {
		return ShelfReceipt{}, err
	}
	lines, bad, err := d.list.Take(columns)
	if err == nil && len(lines) == 0 {
		err = fmt.Errorf("no line of the list can be taken")
	}
	if err == nil && len(bad) > 0 && !leaveOut {
		return ShelfReceipt{}, fail(BadInput, "mend them, or say that they are to be left out", "%d of the list's lines cannot be taken, the first is line %d: %s", len(bad), bad[0].Line, bad[0].Text)
	}
	if err != nil {
		return ShelfReceipt{}, &Error{Code: BadInput, Text: err.Error(), Next: "say what each column holds", Err: err}
	}
	var raw [8]byte
	for i := range raw {
		raw[i] = byte(rand.UintN(256))
	}
	batch := hex.EncodeToString(raw[:])
	var payloads []any
	for part := range slices.Chunk(lines, linesEach) {
		p := shelf.Stocked{Batch: batch, File: d.file}
		for _, l := range part {
			p.Lines = append(p.Lines, shelf.NewStockLine(l))
		}
		payloads = append(payloads, p)
	}
	at, err := b.writeShelf(ctx, by, func(*shelf.Shelf, []Event) (Kind, []any, error) { return shelf.KindStocked, payloads, nil })
	if err != nil {
		return ShelfReceipt{}, err
	}
	b.shelves.mu.Lock()
	b.shelves.drafts = slices.DeleteFunc(b.shelves.drafts, func(x *listDraft) bool { return x == d })
	b.shelves.mu.Unlock()
	return ShelfReceipt{Event: at, Line: shelf.LineID(at, 0), Words: joined(" from the list ", fmt.Sprintf("stocked %d lines", len(lines)), d.file)}, nil
}
