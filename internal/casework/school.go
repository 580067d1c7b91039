package casework

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"fettler/internal/ledger"
	"fettler/internal/note"
)

// school is what closed cases have taught so far. It is derived from the journals
// and brought up to date whenever one of them has moved on.
type school struct {
	mu      sync.Mutex
	mark    int64             // of the Tracker
	seen    map[string]int    // without a Tracker: last event known, by case
	taught  map[string]record // closed cases that count, by case
	sheets  map[string]*ledger.Sheet
	entered map[string]bool        // sheets in the book
	keys    map[*note.Model]string // sheets of models in use
	others  []string               // files taken over, as of the book
	from    map[string]*ledger.Book
	missing []string // files that cannot be read

	own     string // name of this bench, as of the book
	book    *ledger.Book
	lessons *ledger.Lessons
	stale   bool
	rebuild bool     // the book as a whole, and not only the changed cases
	changed []string // cases to be put into the book
	trouble string
}

// A record is a closed case as the book wants it, but for the name of the bench.
type record struct {
	revision int
	closed   Event
	lesson   *Lesson
	fixed    bool
	gone     bool // it was closed once and is no more
}

// hereBench names this bench in the book as long as it has no name of its own.
const hereBench = "here"

// study brings what closed cases teach up to date and says whether to reckon with
// it. It never keeps a case from being shown: what is wrong is said on the page of lessons.
func (b *Bench) study(ctx context.Context, bench []Event) error {
	s := Settings{Learn: true}
	if err := s.overlay(bench, effects(bench)); err != nil {
		return err
	}
	x := &b.school
	x.mu.Lock()
	defer x.mu.Unlock()
	if !s.Learn {
		b.teach(nil)
		return nil
	}
	if err := b.catchUp(ctx, bench); err != nil {
		return err
	}
	b.teach(x.lessons)
	return nil
}

// teach lets the bench reason with lessons from now on.
func (b *Bench) teach(l *ledger.Lessons) {
	b.mu.Lock()
	b.lessons = l
	b.mu.Unlock()
}

// catchUp reads what is new and makes the lessons anew if that changes them. The
// caller holds the lock.
func (b *Bench) catchUp(ctx context.Context, bench []Event) error {
	x := &b.school
	if x.taught == nil {
		x.taught, x.sheets, x.keys, x.from, x.seen = map[string]record{}, map[string]*ledger.Sheet{}, map[*note.Model]string{}, map[string]*ledger.Book{}, map[string]int{}
		x.stale, x.rebuild = true, true
	}
	if err := b.readClosings(ctx); err != nil {
		return err
	}
	own, others := benchName(bench), takenOver(bench)
	if own != x.own || !slices.Equal(others, x.others) {
		x.own, x.others, x.stale, x.rebuild = own, others, true, true
	}
	if !x.stale {
		return nil
	}
	if err := b.fillBook(ctx); err != nil {
		return err
	}
	x.lessons, x.stale = nil, false
	lessons, err := x.book.Refresh(ledger.Settings{})
	switch {
	case err != nil:
		x.trouble = err.Error()
	case lessons.Cases > 0:
		x.lessons = lessons
	}
	return nil
}

// readClosings looks at every case written to since it last did.
func (b *Bench) readClosings(ctx context.Context) error {
	x := &b.school
	ends, mark, err := b.changedSince(ctx, x.mark)
	if err != nil {
		return storeError(err)
	}
	read := make([]lookedAt, len(ends))
	parallel(len(ends), func(i int) { read[i].r, read[i].ok, read[i].err = b.closing(ctx, ends[i]) })
	for i, e := range ends {
		r, ok, err := read[i].r, read[i].ok, read[i].err
		if err != nil {
			return err
		}
		old, had := x.taught[e.Case]
		switch {
		case !ok && !had:
			continue
		case !ok: // it taught something, and is open again
			x.taught[e.Case] = record{revision: e.Seq, closed: e, gone: true}
		case had && old.revision == r.revision:
			continue
		default:
			x.taught[e.Case] = r
			if r.lesson.Note != nil {
				x.sheets[r.lesson.Sheet] = r.lesson.Note
			}
		}
		x.stale = true
		x.changed = append(x.changed, e.Case)
	}
	x.mark = mark
	return nil
}

// lookedAt is what a case was found to teach.
type lookedAt struct {
	r   record
	ok  bool
	err error
}

// parallel does a thing for 0 … n-1, on all processors.
func parallel(n int, do func(i int)) {
	const share = 256 // so many at a time
	var wait sync.WaitGroup
	for first := 0; first < n; first += share {
		wait.Go(func() {
			for i := first; i < min(first+share, n); i++ {
				do(i)
			}
		})
	}
	wait.Wait()
}

// changedSince asks the journal what has changed, or compares its heads.
func (b *Bench) changedSince(ctx context.Context, mark int64) ([]Event, int64, error) {
	if t, ok := b.journal.(Tracker); ok {
		return t.Changed(ctx, mark)
	}
	heads, err := b.journal.Heads(ctx)
	if err != nil {
		return nil, mark, err
	}
	var out []Event
	for _, h := range heads {
		if b.school.seen[h.Case] == h.Seq {
			continue
		}
		events, err := b.journal.Events(ctx, h.Case, h.Seq-1)
		if err != nil {
			return nil, mark, err
		}
		b.school.seen[h.Case] = h.Seq
		if len(events) > 0 {
			out = append(out, events[len(events)-1])
		}
	}
	return out, mark, nil
}

// closing returns what a case teaches, given its last event. A closing that is the
// last event stands as it is: nothing can have undone or corrected it.
func (b *Bench) closing(ctx context.Context, last Event) (record, bool, error) {
	if last.Kind == KindClosed {
		p, err := decode[ClosedCase](last, last.Data)
		return record{revision: last.Seq, closed: last, lesson: p.Lesson, fixed: p.Verdict == Fixed}, err == nil && p.Lesson != nil, err
	}
	events, err := b.events(ctx, last.Case)
	if err != nil {
		return record{}, false, err
	}
	return closingOf(events)
}

// closingOf finds the closing that stands among all events of a case. Its figures
// are those at the closing; what is corrected later counts once the case is closed anew.
func closingOf(events []Event) (record, bool, error) {
	eff := effects(events)
	var at *Event
	revision := 0
	for i, e := range events {
		switch {
		case e.Kind == KindUndone, e.Kind == KindCorrected:
			revision = e.Seq
		case eff[i].void:
		case e.Kind == KindClosed:
			at, revision = &events[i], e.Seq
		case e.Kind == KindReopened:
			at, revision = nil, e.Seq
		}
	}
	if at == nil {
		return record{}, false, nil
	}
	p, err := decode[ClosedCase](*at, eff[at.Seq-1].data)
	if err != nil || p.Lesson == nil {
		return record{}, false, err
	}
	return record{revision: revision, closed: *at, lesson: p.Lesson, fixed: p.Verdict == Fixed}, true, nil
}

// fillBook puts own records and those taken over into the book: those of changed
// cases, or all if the bench has another name or other files than before. Of
// several revisions of a case the book counts the last.
func (b *Bench) fillBook(ctx context.Context) error {
	x := &b.school
	if x.rebuild {
		x.book, x.trouble, x.changed, x.entered = new(ledger.Book), "", x.changed[:0], map[string]bool{}
		for id := range x.taught {
			x.changed = append(x.changed, id)
		}
	}
	errs := []error{x.enter(x.changed)}
	x.changed = x.changed[:0]
	if x.rebuild {
		x.missing = nil
		for _, hash := range x.others {
			other, err := b.otherBook(ctx, hash)
			if err != nil {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				x.missing = append(x.missing, hash)
				continue
			}
			errs = append(errs, addOthers(x.book, other, x.name()))
		}
		x.rebuild = false
	}
	if err := errors.Join(errs...); err != nil {
		x.trouble = err.Error()
	}
	return nil
}

// enter puts cases into the book, and the sheets they need.
func (x *school) enter(ids []string) error {
	var errs []error
	records := make([]ledger.Record, 0, len(ids))
	for _, id := range ids {
		r := x.taught[id]
		s := x.sheets[r.sheet()]
		if s != nil && !x.entered[r.sheet()] {
			if _, err := x.book.AddSheet(*s); err != nil {
				errs = append(errs, err)
				continue
			}
			x.entered[r.sheet()] = true
		}
		made, err := r.record(x.name(), id, s)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		records = append(records, made)
	}
	return errors.Join(append(errs, x.book.Enter(records...))...)
}

func (x *school) name() string {
	if x.own == "" {
		return hereBench
	}
	return x.own
}

// addOthers adds what other benches have seen. What this bench has sent out and
// gets back is left out: its own journal knows better.
func addOthers(book, other *ledger.Book, own string) error {
	var errs []error
	for _, s := range other.Sheets() {
		_, err := book.AddSheet(s)
		errs = append(errs, err)
	}
	for _, r := range other.All() {
		if r.Bench != own {
			errs = append(errs, book.Add(r))
		}
	}
	return errors.Join(errs...)
}

func (r record) sheet() string {
	if r.lesson == nil {
		return ""
	}
	return r.lesson.Sheet
}

// record is what the ledger keeps of the case, not sealed yet.
func (r record) record(bench, id string, s *ledger.Sheet) (ledger.Record, error) {
	out := ledger.Record{Bench: bench, Case: id, Revision: r.revision, Closed: r.closed.At, Withdrawn: r.gone}
	if r.gone {
		return out, nil
	}
	l := r.lesson
	out.Fixed, out.Unknown, out.Looks, out.Tries, out.Said, out.Cost, out.Gain = r.fixed, l.Unknown, l.Looks, l.Tries, l.Said, l.Cost, l.Gain
	if s == nil {
		return out, fmt.Errorf("case %q: the sheet of its note is not in the journal", id)
	}
	out.Sheet = l.Sheet
	for _, set := range l.Sets {
		x := ledger.Set{P: set.P, Modes: make([]string, len(set.Modes))}
		for i, m := range set.Modes {
			if m < 0 || m >= len(s.Modes) {
				return out, fmt.Errorf("case %q: its sheet has no fault number %d", id, m)
			}
			x.Modes[i] = s.Modes[m].ID
		}
		out.Sets = append(out.Sets, x)
	}
	return out, nil
}

// sheet returns the key of a device's sheet, and the sheet itself if no closed case has brought it yet.
func (x *school) sheet(k *knowledge) (string, *ledger.Sheet) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if key := x.keys[k.source]; key != "" && x.sheets[key] != nil {
		return key, nil
	}
	s := ledger.SheetOf(k.source)
	key := s.Key()
	if x.keys != nil {
		x.keys[k.source] = key
	}
	if x.sheets[key] != nil {
		return key, nil
	}
	return key, &s
}
