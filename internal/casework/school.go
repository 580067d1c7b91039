package casework

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"

	"fettler/internal/journal"
	"fettler/internal/ledger"
	"fettler/internal/note"
)

// school is what closed cases have taught so far. It is derived from the journals
// and brought up to date whenever one of them has moved on. What it has made is kept
// beside the journal (school_keep.go), so that the next process begins from there.
type school struct {
	mu      sync.Mutex
	begun   bool
	at      milestone                // how far the journal has been read
	seen    map[string]int           // without a Tracker: last event known, by case
	taught  map[string]taught        // closed cases in the book, by case
	sheets  map[string]*ledger.Sheet // brought by closed cases
	entered map[string]bool          // sheets in the book
	brought map[string]bool          // sheets that a closed case has brought, also if there is no book yet
	keys    map[*note.Model]string   // sheets of models in use
	others  []string                 // files taken over, as of the lessons
	from    map[string]*ledger.Book
	missing []string // files that cannot be read

	own     string       // name of this bench, as of the lessons
	book    *ledger.Book // nil as long as lessons that were kept are all that is needed
	lessons *ledger.Lessons
	sum     string            // of the book as of the lessons
	stale   bool              // the book may say more than the lessons
	changed map[string]record // cases to be put into the book
	trouble string

	unkept []ledger.Record // put into the book since it was kept
	anew   bool            // all of the book is to be kept, and not only those
	jars   int             // of the book as it is kept
	jarred map[string]bool // sheets in them
	until  milestone       // how far they go
	told   milestone       // that of the lessons as they are kept
	keep   int             // see keepFrom
}

// taught is what is known of a case that is in the book.
type taught struct {
	revision int
	gone     bool
}

// A record is a closed case as the book wants it, but for the name of the bench.
type record struct {
	revision int
	closed   Event
	lesson   *Lesson
	fixed    bool
	gone     bool // it taught something once and does no more
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
	if err := b.catchUp(ctx, bench, false); err != nil {
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

// catchUp reads what is new and makes the lessons anew if that changes them. With whole
// the book is wanted too. The caller holds the lock.
func (b *Bench) catchUp(ctx context.Context, bench []Event, whole bool) error {
	x := &b.school
	own, others := benchName(bench), takenOver(bench)
	if !x.begun {
		x.begin()
		if err := b.recallLessons(ctx); err != nil {
			return err
		}
	}
	same := own == x.own && slices.Equal(others, x.others)
	if !same {
		x.told = milestone{}
	}
	if x.book == nil {
		if x.lessons != nil && same && !whole {
			if taught, err := b.taughtSince(ctx); err != nil || !taught {
				return err
			}
		}
		if err := b.openBook(ctx, own, others); err != nil {
			return err
		}
		x.stale = true
	} else if !same {
		x.stale = true
		if err := b.rename(ctx, own, others); err != nil {
			return err
		}
	}
	if err := b.readClosings(ctx); err != nil {
		return err
	}
	x.fillBook()
	if !x.stale {
		return nil
	}
	if sum := x.book.Sum(); x.lessons == nil || x.sum != sum {
		x.refresh()
		x.sum, x.told = sum, milestone{}
	}
	x.stale = false
	b.keepLessons(ctx)
	b.keepBook(ctx)
	return nil
}

func (x *school) begin() {
	x.begun, x.taught, x.sheets, x.entered, x.brought = true, map[string]taught{}, map[string]*ledger.Sheet{}, map[string]bool{}, map[string]bool{}
	x.jarred = map[string]bool{}
	x.keys, x.from, x.seen, x.changed = map[*note.Model]string{}, map[string]*ledger.Book{}, map[string]int{}, map[string]record{}
}

// refresh makes the lessons anew.
func (x *school) refresh() {
	x.lessons = nil
	lessons, err := x.book.Refresh(ledger.Settings{})
	switch {
	case err != nil:
		x.trouble = err.Error()
	case lessons.Cases > 0:
		x.lessons = lessons
	}
}

// readClosings looks at every case written to since it last did.
func (b *Bench) readClosings(ctx context.Context) error {
	x := &b.school
	ends, mark, err := b.changedSince(ctx, x.at.mark)
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
		if !ok || had && old == (taught{r.revision, r.gone}) {
			continue
		}
		x.taught[e.Case] = taught{r.revision, r.gone}
		if !r.gone && r.lesson.Note != nil {
			x.sheets[r.lesson.Sheet], x.brought[r.lesson.Sheet] = r.lesson.Note, true
		}
		r.closed.Data = nil // what it says is in the lesson
		x.stale = true
		x.changed[e.Case] = r
	}
	x.at = x.at.after(ends, mark)
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
	if t, ok := b.journal.(journal.Tracker); ok {
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

// closing returns what a case teaches, given its last event; false if it never taught
// anything. A closing that is the last event stands as it is: nothing can have undone or
// corrected it.
func (b *Bench) closing(ctx context.Context, last Event) (record, bool, error) {
	if last.Kind == KindClosed {
		p, err := decode[ClosedCase](last, last.Data)
		if err != nil || p.Lesson != nil {
			return record{revision: last.Seq, closed: last, lesson: p.Lesson, fixed: p.Verdict == Fixed}, err == nil, err
		}
	}
	events, err := b.events(ctx, last.Case)
	if err != nil {
		return record{}, false, err
	}
	return closingOf(events)
}

// closingOf finds the closing that stands among all events of a case. Its figures
// are those at the closing; what is corrected later counts once the case is closed anew.
// A case that taught something once and is open again is gone.
func closingOf(events []Event) (record, bool, error) {
	eff := effects(events)
	var at, ever *Event
	revision := 0
	for i, e := range events {
		switch {
		case e.Kind == KindUndone, e.Kind == KindCorrected:
			revision = e.Seq
		case e.Kind == KindClosed && ever == nil:
			if p, err := decode[ClosedCase](e, e.Data); err == nil && p.Lesson != nil {
				ever = &events[i]
			}
		}
		switch {
		case eff[i].void:
		case e.Kind == KindClosed:
			at, revision = &events[i], e.Seq
		case e.Kind == KindReopened:
			at, revision = nil, e.Seq
		}
	}
	if at != nil {
		p, err := decode[ClosedCase](*at, eff[at.Seq-1].data)
		if err != nil {
			return record{}, false, err
		}
		if p.Lesson != nil {
			return record{revision: revision, closed: *at, lesson: p.Lesson, fixed: p.Verdict == Fixed}, true, nil
		}
	}
	if ever != nil {
		return record{revision: revision, closed: *ever, gone: true}, true, nil
	}
	return record{}, false, nil
}

// addOthersTo puts what other benches have seen into a book.
func (b *Bench) addOthersTo(ctx context.Context, book *ledger.Book, own string, others []string) error {
	x := &b.school
	x.missing = nil
	var errs []error
	for _, hash := range others {
		other, err := b.otherBook(ctx, hash)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			x.missing = append(x.missing, hash)
			continue
		}
		errs = append(errs, addOthers(book, other, nameOr(own)))
	}
	if err := errors.Join(errs...); err != nil {
		x.trouble = err.Error()
	}
	return nil
}

// rename makes the book anew because the bench has another name, or other files.
func (b *Bench) rename(ctx context.Context, own string, others []string) error {
	x := &b.school
	book, err := renamed(x.book, x.name(), nameOr(own))
	if err != nil {
		return err
	}
	x.anew = x.anew || own != x.own
	x.book, x.trouble, x.own, x.others = book, "", own, nil
	if err := b.addOthersTo(ctx, book, own, others); err != nil {
		return err
	}
	x.others = others
	return nil
}

// renamed is a book of the records of this bench alone, under another name.
func renamed(old *ledger.Book, was, name string) (*ledger.Book, error) {
	book := new(ledger.Book)
	for _, s := range old.Sheets() {
		if _, err := book.AddSheet(s); err != nil {
			return nil, err
		}
	}
	mine := ownOf(old, was)
	for i := range mine {
		mine[i].Bench = name
	}
	_, err := book.Enter(mine...)
	return book, err
}

// ownOf are the records of a bench in a book.
func ownOf(book *ledger.Book, name string) []ledger.Record {
	return slices.DeleteFunc(book.All(), func(r ledger.Record) bool { return r.Bench != name })
}

// fillBook puts the changed cases into the book. Of several revisions of a case the book
// counts the last.
func (x *school) fillBook() {
	var errs []error
	records := make([]ledger.Record, 0, len(x.changed))
	for _, id := range slices.Sorted(maps.Keys(x.changed)) {
		r := x.changed[id]
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
	entered, err := x.book.Enter(records...)
	x.unkept = append(x.unkept, entered...)
	if err := errors.Join(append(errs, err)...); err != nil {
		x.trouble = err.Error()
	}
	clear(x.changed)
}

func (x *school) name() string { return nameOr(x.own) }

func nameOr(own string) string {
	if own == "" {
		return hereBench
	}
	return own
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
	if key := x.keys[k.source]; key != "" && x.brought[key] {
		return key, nil
	}
	s := ledger.SheetOf(k.source)
	key := s.Key()
	if x.keys != nil {
		x.keys[k.source] = key
	}
	if x.brought[key] {
		return key, nil
	}
	return key, &s
}
