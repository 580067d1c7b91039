package casework

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A shelf is what the events of the bench amount to as far as parts go. It does
// not change once made; a new event makes a new one, of the lines of the one before but
// for those that the event changes, so that what was worked out for a line stays with it.
type shelf struct {
	seq   int                          // events of the bench's journal
	lines []*stocked                   // in the order of their events
	names func() map[string][]*stocked // by name in small letters
	words func() map[string][]string   // names by a word in them, sorted
	loose func() (*rack, error)        // what is off its board
	fixed func() (*rack, error)        // what is still on one

	mu    sync.Mutex
	found map[string][]*stocked // what does for an item, see shelf_pick.go
}

// stocked is one line as it is now. It does not change.
type stocked struct {
	id    string
	key   string // its name as sameName has it
	event int
	at    time.Time
	kase  string
	StockLine

	made atomic.Pointer[fit.Candidate] // see candidate
	said atomic.Pointer[shelfText]     // see text
}

// changed is the line otherwise.
func (l *stocked) changed(to StockLine) *stocked {
	out := &stocked{id: l.id, key: l.key, event: l.event, at: l.at, kase: l.kase, StockLine: to}
	if to.Name != l.Name {
		out.key = sameName(to.Name)
	}
	return out
}

// A stocking is an event that stocked, read once: its payload and its lines as they began.
type stocking struct {
	Stocked
	lines []*stocked
}

func readStocking(e Event) (*stocking, error) {
	p, err := decode[Stocked](e, e.Data)
	if err != nil {
		return nil, err
	}
	out := &stocking{Stocked: p, lines: make([]*stocked, len(p.Lines))}
	all := make([]stocked, len(p.Lines))
	for i, x := range p.Lines {
		l := &all[i]
		l.id, l.key, l.event, l.at, l.kase, l.StockLine = lineID(e.Seq, i), sameName(x.Name), e.Seq, e.At, p.Case, x
		out.lines[i] = l
	}
	return out, nil
}

// A rack is lines made ready to be searched.
type rack struct {
	fit   *fit.Shelf
	lines []*stocked
}

// shelfDesk keeps the shelf, and the journal of the bench it is made of, which a long
// list makes long. The zero value is ready.
type shelfDesk struct {
	mu     sync.Mutex
	events []Event           // of BenchCase
	read   map[int]*stocking // by event, which never changes
	now    *shelf
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
func (b *Bench) shelfOf(bench []Event) (*shelf, error) {
	d := &b.shelves
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.now != nil && d.now.seq == len(bench) {
		return d.now, nil
	}
	if d.read == nil {
		d.read = map[int]*stocking{}
	}
	s, err := makeShelf(bench, d.read)
	if err == nil {
		d.now = s
	}
	return s, err
}

// shelf returns the shelf as it is now, with the events it is made of.
func (b *Bench) shelf(ctx context.Context) (*shelf, []Event, error) {
	bench, err := b.benchEvents(ctx)
	if err != nil {
		return nil, nil, err
	}
	s, err := b.shelfOf(bench)
	return s, bench, err
}

// makeShelf replays the events of the bench; read keeps payloads already decoded.
func makeShelf(bench []Event, read map[int]*stocking) (*shelf, error) {
	s := &shelf{seq: len(bench), found: map[string][]*stocked{}}
	eff := effects(bench)
	for i, e := range bench {
		if eff[i].void || !shelfKind(e.Kind) {
			continue
		}
		if err := s.take(e, read); err != nil {
			return nil, err
		}
	}
	s.names = sync.OnceValue(s.byName)
	s.words = sync.OnceValue(s.namesByWord)
	s.loose = sync.OnceValues(func() (*rack, error) { return s.rack(func(l *stocked) bool { return l.From != stock.OnBoard }) })
	s.fixed = sync.OnceValues(func() (*rack, error) { return s.rack(func(l *stocked) bool { return l.From == stock.OnBoard }) })
	return s, nil
}

// take applies one event that counts. What names a line that is not there counts for nothing.
func (s *shelf) take(e Event, read map[int]*stocking) error {
	switch e.Kind {
	case KindStocked:
		p := read[e.Seq]
		if p == nil {
			var err error
			if p, err = readStocking(e); err != nil {
				return err
			}
			read[e.Seq] = p
		}
		s.lines = append(s.lines, p.lines...)
	case KindMoved:
		return with(e, e.Data, func(p Moved) {
			s.change(p.Line, func(l *StockLine) {
				l.Place = p.Place
				if p.Off && l.From == stock.OnBoard {
					l.From = stock.Pulled
				}
			})
		})
	case KindUsed:
		return with(e, e.Data, func(p Used) {
			s.change(p.Line, func(l *StockLine) { l.Count = max(0, l.Count-max(p.Count, 0)) })
		})
	case KindCounted:
		return with(e, e.Data, func(p Counted) {
			s.change(p.Line, func(l *StockLine) { l.Count = max(0, p.Count) })
		})
	case KindRenamed:
		return with(e, e.Data, func(p Renamed) {
			s.change(p.Line, func(l *StockLine) {
				p.Is.Count, p.Is.Place = l.Count, l.Place
				*l = p.Is
			})
		})
	}
	return nil
}

// change puts a line that is otherwise in place of one.
func (s *shelf) change(id string, how func(*StockLine)) {
	if i := s.find(id); i >= 0 {
		to := s.lines[i].StockLine
		how(&to)
		s.lines[i] = s.lines[i].changed(to)
	}
}

// at returns the line with this ID, nil if there is none.
func (s *shelf) at(id string) *stocked {
	if i := s.find(id); i >= 0 {
		return s.lines[i]
	}
	return nil
}

// find is where the line with this ID stands, -1 if there is none.
func (s *shelf) find(id string) int {
	event, nth, several := strings.Cut(strings.TrimPrefix(id, "s"), "-")
	seq, err := strconv.Atoi(event)
	n := 1
	if err == nil && several {
		n, err = strconv.Atoi(nth)
	}
	if err != nil || n < 1 || n > len(s.lines) {
		return -1
	}
	i, _ := slices.BinarySearchFunc(s.lines, seq, func(l *stocked, seq int) int { return cmp.Compare(l.event, seq) })
	if i += n - 1; i < len(s.lines) && s.lines[i].id == id {
		return i
	}
	return -1
}

// byName lists the lines by name.
func (s *shelf) byName() map[string][]*stocked {
	out := make(map[string][]*stocked, len(s.lines))
	for _, l := range s.lines {
		out[l.key] = append(out[l.key], l)
	}
	return out
}

// lineID names line i of event seq: "s12", "s12-2", "s12-3" …
func lineID(seq, i int) string {
	if i == 0 {
		return fmt.Sprintf("s%d", seq)
	}
	return fmt.Sprintf("s%d-%d", seq, i+1)
}

// sameName is a name without regard to case and blanks.
func sameName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// rack makes the lines that are there and of a sort ready to be searched.
func (s *shelf) rack(of func(*stocked) bool) (*rack, error) {
	r := &rack{lines: make([]*stocked, 0, len(s.lines))}
	all := make([]fit.Candidate, 0, len(s.lines))
	for _, l := range s.lines {
		if l.Count > 0 && of(l) {
			r.lines = append(r.lines, l)
			all = append(all, *l.candidate())
		}
	}
	var err error
	if r.fit, err = fit.NewShelf(all); err != nil {
		return nil, &Error{Code: StoreFail, Text: "the shelf holds figures that this version does not know: " + err.Error(), Next: "use the version that wrote them", Err: err}
	}
	return r, nil
}

// candidate is the line as package fit takes it, made once; figures of a newer version are left out.
func (l *stocked) candidate() *fit.Candidate {
	if c := l.made.Load(); c != nil {
		return c
	}
	c := &fit.Candidate{Name: l.id, Kind: part.Kind(l.Kind), Quantity: l.Count, Place: l.Place, Source: l.From,
		Figures: make(map[fit.Param]float64, len(l.Figures)), Words: make(map[fit.Param]string, len(l.Words))}
	for k, v := range l.Figures {
		if _, ok := fit.Param(k).Figure(); ok {
			c.Figures[fit.Param(k)] = v
		}
	}
	for k, v := range l.Words {
		if fit.Param(k).Word() {
			c.Words[fit.Param(k)] = v
		}
	}
	l.made.Store(c) // another may have made it at the same time: they are alike
	return c
}

// stockLine turns a line of package stock into one of the journal.
func stockLine(l stock.Line) StockLine {
	out := StockLine{Name: l.Name, Kind: string(l.Kind), Count: l.Count, Place: l.Place, From: l.From, Board: l.Board, Note: l.Note}
	if len(l.Figures) > 0 {
		out.Figures = map[string]float64{}
		for k, v := range l.Figures {
			out.Figures[string(k)] = v
		}
	}
	if len(l.Words) > 0 {
		out.Words = map[string]string{}
		for k, v := range l.Words {
			out.Words[string(k)] = v
		}
	}
	return out
}

// listLine is the other way round, with maps of its own.
func (l *stocked) listLine() stock.Line {
	out := l.kept().Line
	out.Figures, out.Words = maps.Clone(out.Figures), maps.Clone(out.Words)
	return out
}

// kept is the line as other rooms see it.
func (l *stocked) kept() stock.Kept {
	c := l.candidate()
	return stock.Kept{ID: l.id, Line: stock.Line{Name: l.Name, Kind: c.Kind, Figures: c.Figures, Words: c.Words, Count: l.Count, Place: l.Place, From: l.From, Board: l.Board, Note: l.Note}}
}
