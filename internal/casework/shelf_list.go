package casework

import (
	"cmp"
	"context"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"unicode/utf8"

	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
	"fettler/internal/part/unit"
)

// PageLines is how many lines of the shelf one page shows.
const PageLines = 50

// A ShelfAsk is which lines to show.
type ShelfAsk struct {
	Text  string // words that all must be in name, kind, place, board or note
	Place string // exactly this place
	Gone  bool   // also what is used up
	Page  int    // from 1; 0: 1
	Most  int    // lines of a page, 0: PageLines
}

// A ShelfPage is a page of the shelf.
type ShelfPage struct {
	Lines  []ShelfLine  `json:"lines"`
	Total  int          `json:"total"`  // lines that fit, on all pages
	Pieces int          `json:"pieces"` // of them
	Page   int          `json:"page"`
	Pages  int          `json:"pages"`
	All    int          `json:"all"`    // lines of the shelf that are not used up
	Places []ShelfPlace `json:"places"` // all places, by name
}

// A ShelfPlace is a drawer, box or board.
type ShelfPlace struct {
	Place string `json:"place"`
	Lines int    `json:"lines"`
}

// A ShelfLine is parts of one sort.
type ShelfLine struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Figures []Figure `json:"figures"` // what is known of it
	Count   int      `json:"count"`
	Place   string   `json:"place"`
	From    string   `json:"from"`  // "new", "pulled" or "on a board"
	Board   string   `json:"board"` // on a board: which
	Case    string   `json:"case"`  // device it is from
	Note    string   `json:"note"`
	Event   int      `json:"event"` // that stocked it
}

// A Figure is one thing known of a part, or asked of one.
type Figure struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Shelf returns a page of the shelf.
func (b *Bench) Shelf(ctx context.Context, a ShelfAsk) (*ShelfPage, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	words := strings.Fields(strings.ToLower(a.Text))
	out := &ShelfPage{Lines: []ShelfLine{}, Places: []ShelfPlace{}}
	places := map[string]int{}
	var fits []*stocked
	for _, l := range s.lines {
		if l.Count > 0 {
			out.All++
			if l.Place != "" {
				places[l.Place]++
			}
		} else if !a.Gone {
			continue
		}
		if (a.Place == "" || l.Place == a.Place) && l.has(words) {
			fits = append(fits, l)
			out.Pieces += l.Count
		}
	}
	for _, p := range slices.SortedFunc(maps.Keys(places), byDrawer) {
		out.Places = append(out.Places, ShelfPlace{p, places[p]})
	}
	most := a.Most
	if most <= 0 {
		most = PageLines
	}
	out.Total, out.Pages = len(fits), max(1, (len(fits)+most-1)/most)
	out.Page = min(max(a.Page, 1), out.Pages)
	slices.Reverse(fits) // latest first
	from := (out.Page - 1) * most
	for _, l := range fits[min(from, len(fits)):min(from+most, len(fits))] {
		out.Lines = append(out.Lines, l.shown())
	}
	return out, nil
}

func (l *stocked) has(words []string) bool {
	if len(words) == 0 {
		return true
	}
	text := strings.ToLower(l.Name + "\n" + l.Kind + "\n" + l.Place + "\n" + l.Board + "\n" + l.Note + "\n" + l.id)
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// byDrawer puts drawer 3 before drawer 10.
func byDrawer(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m > 0 && n > 0 {
			p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
			if c := cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q)); c != 0 {
				return c
			}
			x, y = x[m:], y[n:]
			continue
		}
		r, i := utf8.DecodeRuneInString(x)
		t, j := utf8.DecodeRuneInString(y)
		if c := cmp.Compare(strings.ToLower(string(r)), strings.ToLower(string(t))); c != 0 {
			return c
		}
		x, y = x[i:], y[j:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

func (l *stocked) shown() ShelfLine {
	c := l.candidate()
	return ShelfLine{ID: l.id, Name: l.Name, Kind: l.Kind, Figures: figuresOf(c.Figures, c.Words), Count: l.Count, Place: l.Place, From: l.From, Board: l.Board, Case: l.kase, Note: l.Note, Event: l.event}
}

// figuresOf puts what is known of a part into words.
func figuresOf(figures map[fit.Param]float64, words map[fit.Param]string) []Figure {
	out := []Figure{}
	for _, p := range fit.Params() {
		if v, ok := figures[p]; ok {
			out = append(out, Figure{string(p), showFigure(p, v)})
		} else if w, ok := words[p]; ok {
			out = append(out, Figure{string(p), w})
		}
	}
	return out
}

func showFigure(p fit.Param, v float64) string {
	u, _ := p.Figure()
	if u == "C" {
		return unit.Format(v*1e9, "") + " nC"
	}
	return unit.Format(v, u)
}

// ShelfLine returns one line, also if it is used up.
func (b *Bench) ShelfLine(ctx context.Context, id string) (*ShelfLine, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	l, err := s.line(id)
	if err != nil {
		return nil, err
	}
	x := l.shown()
	return &x, nil
}

// ExportShelf writes the shelf as CSV.
func (b *Bench) ExportShelf(ctx context.Context, w io.Writer) error {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return err
	}
	var all []stock.Line
	for _, l := range s.lines {
		if l.Count > 0 {
			all = append(all, l.listLine())
		}
	}
	return stock.Write(w, all)
}

// A ListDraft is a list that has been read but not put on the shelf.
type ListDraft struct {
	Token    string        `json:"-"`
	File     string        `json:"file"`
	Headings []string      `json:"headings"`
	Columns  []string      `json:"columns"`  // what each column holds; "" nothing
	Sample   [][]string    `json:"sample"`   // the first lines as they stand
	Preview  []ShelfLine   `json:"preview"`  // the first lines as they were read
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
	file, err = text(file, maxLabel, "the name of the file")
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
	out := &ListDraft{Token: d.token, File: d.file, Headings: d.list.Headings, Columns: columns, Sample: d.list.Sample(4), Preview: []ShelfLine{}, Troubles: []ListTrouble{}, Lines: d.list.Len()}
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
		out.Preview = append(out.Preview, (&stocked{StockLine: stockLine(l)}).shown())
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
		p := Stocked{Batch: batch, File: d.file}
		for _, l := range part {
			p.Lines = append(p.Lines, stockLine(l))
		}
		payloads = append(payloads, p)
	}
	at, err := b.writeShelf(ctx, by, func(*shelf, []Event) (Kind, []any, error) { return KindStocked, payloads, nil })
	if err != nil {
		return ShelfReceipt{}, err
	}
	b.shelves.mu.Lock()
	b.shelves.drafts = slices.DeleteFunc(b.shelves.drafts, func(x *listDraft) bool { return x == d })
	b.shelves.mu.Unlock()
	return ShelfReceipt{Event: at, Line: lineID(at, 0), Words: joined(" from the list ", fmt.Sprintf("stocked %d lines", len(lines)), d.file)}, nil
}

// PartOrigins lists where parts may come from.
func PartOrigins() []string { return stock.Origins() }
