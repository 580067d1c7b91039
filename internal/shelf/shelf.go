package shelf

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"fettler/internal/failure"
	"fettler/internal/journal"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A Shelf is what the events of the bench amount to as far as parts go. It does
// not change once made; a new event makes a new one, of the lines of the one before but
// for those that the event changes, so that what was worked out for a line stays with it.
type Shelf struct {
	seq   int                        // events of the bench's journal
	lines []*Line                    // in the order of their events
	names func() map[string][]*Line  // by name in small letters
	words func() map[string][]string // names by a word in them, sorted
	loose func() (*rack, error)      // what is off its board
	fixed func() (*rack, error)      // what is still on one

	mu    sync.Mutex
	found map[string][]*Line // what does for an item, see pick.go
}

// A Line is one line as it is now. It does not change.
type Line struct {
	ID    string
	Event int // that stocked it
	At    time.Time
	Case  string // device it is from, "" none
	StockLine

	key  string                        // its name as SameName has it
	made atomic.Pointer[fit.Candidate] // see candidate
	said atomic.Pointer[text]          // see text
}

// changed is the line otherwise.
func (l *Line) changed(to StockLine) *Line {
	out := &Line{ID: l.ID, key: l.key, Event: l.Event, At: l.At, Case: l.Case, StockLine: to}
	if to.Name != l.Name {
		out.key = SameName(to.Name)
	}
	return out
}

// A stocking is an event that Line, read once: its payload and its lines as they began.
type stocking struct {
	Stocked
	lines []*Line
}

func readStocking(e journal.Event) (*stocking, error) {
	p, err := journal.Decode[Stocked](e, e.Data)
	if err != nil {
		return nil, err
	}
	out := &stocking{Stocked: p, lines: make([]*Line, len(p.Lines))}
	all := make([]Line, len(p.Lines))
	for i, x := range p.Lines {
		l := &all[i]
		l.ID, l.key, l.Event, l.At, l.Case, l.StockLine = LineID(e.Seq, i), SameName(x.Name), e.Seq, e.At, p.Case, x
		out.lines[i] = l
	}
	return out, nil
}

// A rack is lines made ready to be searched.
type rack struct {
	fit   *fit.Shelf
	lines []*Line
}

// A Reader makes shelves of the journal of the bench. It keeps the payloads it has
// decoded, which never change. The zero value is ready; it is not safe for concurrent use.
type Reader struct {
	read map[int]*stocking // by event
}

// Shelf replays the events of the bench that count.
func (r *Reader) Shelf(bench []journal.Event, counts func(i int) bool) (*Shelf, error) {
	if r.read == nil {
		r.read = map[int]*stocking{}
	}
	s := &Shelf{seq: len(bench), found: map[string][]*Line{}}
	for i, e := range bench {
		if !counts(i) || !IsKind(e.Kind) {
			continue
		}
		if err := s.take(e, r.read); err != nil {
			return nil, err
		}
	}
	s.names = sync.OnceValue(s.byName)
	s.words = sync.OnceValue(s.namesByWord)
	s.loose = sync.OnceValues(func() (*rack, error) { return s.rack(func(l *Line) bool { return l.From != stock.OnBoard }) })
	s.fixed = sync.OnceValues(func() (*rack, error) { return s.rack(func(l *Line) bool { return l.From == stock.OnBoard }) })
	return s, nil
}

// Stocked is the payload of an event that stocked.
func (r *Reader) Stocked(e journal.Event) (Stocked, error) {
	if p := r.read[e.Seq]; p != nil {
		return p.Stocked, nil
	}
	return journal.Decode[Stocked](e, e.Data)
}

// Seq is the number of events of the bench that it is made of.
func (s *Shelf) Seq() int { return s.seq }

// Lines are its lines in the order they came in, also those used up. They are not to be changed.
func (s *Shelf) Lines() []*Line { return s.lines }

// take applies one event that counts. What names a line that is not there counts for nothing.
func (s *Shelf) take(e journal.Event, read map[int]*stocking) error {
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
		return with(e, func(p Moved) {
			s.change(p.Line, func(l *StockLine) {
				l.Place = p.Place
				if p.Off && l.From == stock.OnBoard {
					l.From = stock.Pulled
				}
			})
		})
	case KindUsed:
		return with(e, func(p Used) {
			s.change(p.Line, func(l *StockLine) { l.Count = max(0, l.Count-max(p.Count, 0)) })
		})
	case KindCounted:
		return with(e, func(p Counted) {
			s.change(p.Line, func(l *StockLine) { l.Count = max(0, p.Count) })
		})
	case KindRenamed:
		return with(e, func(p Renamed) {
			s.change(p.Line, func(l *StockLine) {
				p.Is.Count, p.Is.Place = l.Count, l.Place
				*l = p.Is
			})
		})
	}
	return nil
}

func with[T any](e journal.Event, do func(T)) error {
	p, err := journal.Decode[T](e, e.Data)
	if err == nil {
		do(p)
	}
	return err
}

// change puts a line that is otherwise in place of one.
func (s *Shelf) change(id string, how func(*StockLine)) {
	if i := s.index(id); i >= 0 {
		to := s.lines[i].StockLine
		how(&to)
		s.lines[i] = s.lines[i].changed(to)
	}
}

// At returns the line with this ID, nil if there is none.
func (s *Shelf) At(id string) *Line {
	if i := s.index(id); i >= 0 {
		return s.lines[i]
	}
	return nil
}

// index is where the line with this ID stands, -1 if there is none.
func (s *Shelf) index(id string) int {
	event, nth, several := strings.Cut(strings.TrimPrefix(id, "s"), "-")
	seq, err := strconv.Atoi(event)
	n := 1
	if err == nil && several {
		n, err = strconv.Atoi(nth)
	}
	if err != nil || n < 1 || n > len(s.lines) {
		return -1
	}
	i, _ := slices.BinarySearchFunc(s.lines, seq, func(l *Line, seq int) int { return cmp.Compare(l.Event, seq) })
	if i += n - 1; i < len(s.lines) && s.lines[i].ID == id {
		return i
	}
	return -1
}

// Find returns the line with this ID as it was typed.
func (s *Shelf) Find(id string) (*Line, error) {
	l := s.At(strings.ToLower(strings.TrimSpace(id)))
	if l == nil {
		return nil, failure.New(failure.NotFound, "look at the shelf", "the shelf has no line %q", failure.Clip(id))
	}
	return l, nil
}

// byName lists the lines by name.
func (s *Shelf) byName() map[string][]*Line {
	out := make(map[string][]*Line, len(s.lines))
	for _, l := range s.lines {
		out[l.key] = append(out[l.key], l)
	}
	return out
}

// LineID names line i of event seq: "s12", "s12-2", "s12-3" …
func LineID(seq, i int) string {
	if i == 0 {
		return fmt.Sprintf("s%d", seq)
	}
	return fmt.Sprintf("s%d-%d", seq, i+1)
}

// SameName is a name without regard to case and blanks.
func SameName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// rack makes the lines that are there and of a sort ready to be searched.
func (s *Shelf) rack(of func(*Line) bool) (*rack, error) {
	r := &rack{lines: make([]*Line, 0, len(s.lines))}
	all := make([]fit.Candidate, 0, len(s.lines))
	for _, l := range s.lines {
		if l.Count > 0 && of(l) {
			r.lines = append(r.lines, l)
			all = append(all, *l.candidate())
		}
	}
	var err error
	if r.fit, err = fit.NewShelf(all); err != nil {
		return nil, &failure.Error{Code: failure.StoreFail, Text: "the shelf holds figures that this version does not know: " + err.Error(), Next: "use the version that wrote them", Err: err}
	}
	return r, nil
}

// candidate is the line as package fit takes it, made once; figures of a newer version are left out.
func (l *Line) candidate() *fit.Candidate {
	if c := l.made.Load(); c != nil {
		return c
	}
	c := &fit.Candidate{Name: l.ID, Kind: part.Kind(l.Kind), Quantity: l.Count, Place: l.Place, Source: l.From,
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

// NewStockLine turns a line of package stock into one of the journal.
func NewStockLine(l stock.Line) StockLine {
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

// Listed is the other way round, with maps of its own.
func (l *Line) Listed() stock.Line {
	out := l.Kept().Line
	out.Figures, out.Words = maps.Clone(out.Figures), maps.Clone(out.Words)
	return out
}

// Kept is the line as other rooms see it.
func (l *Line) Kept() stock.Kept {
	c := l.candidate()
	return stock.Kept{ID: l.ID, Line: stock.Line{Name: l.Name, Kind: c.Kind, Figures: c.Figures, Words: c.Words, Count: l.Count, Place: l.Place, From: l.From, Board: l.Board, Note: l.Note}}
}
