package school

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

// A School is what closed cases have taught so far. It is derived from the journals
// and brought up to date whenever one of them has moved on. What it has made is kept
// beside the journal (keep.go), so that the next process begins from there. It is safe for concurrent use.
type School struct {
	journal journal.Journal
	cases   Cases
	o       Options

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
	sum     string             // of the book as of the lessons
	stale   bool               // the book may say more than the lessons
	changed map[string]Closing // cases to be put into the book
	trouble string

	unkept []ledger.Record // put into the book since it was kept
	anew   bool            // all of the book is to be kept, and not only those
	jars   int             // of the book as it is kept
	jarred map[string]bool // sheets in them
	until  milestone       // how far they go
	told   milestone       // that of the lessons as they are kept
}

// taught is what is known of a case that is in the book.
type taught struct {
	revision int
	gone     bool
}

// hereBench names this bench in the book as long as it has no name of its own.
const hereBench = "here"

// Options are what a School needs besides journal and cases. The zero value is the default.
type Options struct {
	Files    journal.Files // what came from other benches; nil means nothing does
	KeepFrom int           // cases from which on anything is kept: fewer are sooner read; 0 stands for 200
}

// New is a school of the cases of a journal.
func New(j journal.Journal, c Cases, o Options) *School { return &School{journal: j, cases: c, o: o} }

// Lessons brings what closed cases teach up to date; nil if that is nothing. Own is the
// name of this bench, "" if it has none yet; others are the files taken over.
func (x *School) Lessons(ctx context.Context, own string, others []string) (*ledger.Lessons, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	err := x.catchUp(ctx, own, others, false)
	return x.lessons, err
}

// A Report is all that a school knows. Its book is to be looked at only as long as Open lasts.
type Report struct {
	Book    *ledger.Book
	Lessons *ledger.Lessons // nil for none
	Bench   string          // by which this bench goes in the book
	Trouble string          // what could not be used
	Missing []string        // of the files taken over, those that cannot be read
}

// Open brings the book itself up to date, and not only what it teaches, and shows it.
func (x *School) Open(ctx context.Context, own string, others []string, look func(Report) error) error {
	x.mu.Lock()
	defer x.mu.Unlock()
	if err := x.catchUp(ctx, own, others, true); err != nil {
		return err
	}
	return look(Report{Book: x.book, Lessons: x.lessons, Bench: x.name(), Trouble: x.trouble, Missing: x.missing})
}

// Opened tells whether the book itself has been read.
func (x *School) Opened() bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.book != nil
}

// catchUp reads what is new and makes the lessons anew if that changes them. With whole
// the book is wanted too. The caller holds the lock.
func (x *School) catchUp(ctx context.Context, own string, others []string, whole bool) error {
	if !x.begun {
		x.begin()
		if err := x.recallLessons(ctx); err != nil {
			return err
		}
	}
	same := own == x.own && slices.Equal(others, x.others)
	if !same {
		x.told = milestone{}
	}
	if x.book == nil {
		if x.lessons != nil && same && !whole {
			if taught, err := x.taughtSince(ctx); err != nil || !taught {
				return err
			}
		}
		if err := x.openBook(ctx, own, others); err != nil {
			return err
		}
		x.stale = true
	} else if !same {
		x.stale = true
		if err := x.rename(ctx, own, others); err != nil {
			return err
		}
	}
	if err := x.readClosings(ctx); err != nil {
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
	x.keepLessons(ctx)
	x.keepBook(ctx)
	return nil
}

func (x *School) begin() {
	x.begun, x.taught, x.sheets, x.entered, x.brought = true, map[string]taught{}, map[string]*ledger.Sheet{}, map[string]bool{}, map[string]bool{}
	x.jarred = map[string]bool{}
	x.keys, x.from, x.seen, x.changed = map[*note.Model]string{}, map[string]*ledger.Book{}, map[string]int{}, map[string]Closing{}
}

// refresh makes the lessons anew.
func (x *School) refresh() {
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
func (x *School) readClosings(ctx context.Context) error {
	ends, mark, err := x.changedSince(ctx, x.at.mark)
	if err != nil {
		return journal.Failed(err)
	}
	read := x.cases.Closings(ctx, ends)
	for i, e := range ends {
		r := read[i].Closing
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := read[i].Err; err != nil { // a damaged case teaches nothing, and keeps no other from being shown
			x.trouble = err.Error()
			continue
		}
		old, had := x.taught[e.Case]
		if !read[i].OK || had && old == (taught{r.Revision, r.Gone}) {
			continue
		}
		x.taught[e.Case] = taught{r.Revision, r.Gone}
		if !r.Gone && r.Lesson.Note != nil {
			x.sheets[r.Lesson.Sheet], x.brought[r.Lesson.Sheet] = r.Lesson.Note, true
		}
		x.stale = true
		x.changed[e.Case] = r
	}
	x.at = x.at.after(ends, mark)
	return nil
}

// changedSince asks the journal what has changed, or compares its heads.
func (x *School) changedSince(ctx context.Context, mark int64) ([]journal.Event, int64, error) {
	if t, ok := x.journal.(journal.Tracker); ok {
		return t.Changed(ctx, mark)
	}
	heads, err := x.journal.Heads(ctx)
	if err != nil {
		return nil, mark, err
	}
	var out []journal.Event
	for _, h := range heads {
		if x.seen[h.Case] == h.Seq {
			continue
		}
		events, err := x.journal.Events(ctx, h.Case, h.Seq-1)
		if err != nil {
			return nil, mark, err
		}
		x.seen[h.Case] = h.Seq
		if len(events) > 0 {
			out = append(out, events[len(events)-1])
		}
	}
	return out, mark, nil
}

// addOthersTo puts what other benches have seen into a book.
func (x *School) addOthersTo(ctx context.Context, book *ledger.Book, own string, others []string) error {
	x.missing = nil
	var errs []error
	for _, hash := range others {
		other, err := x.otherBook(ctx, hash)
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
func (x *School) rename(ctx context.Context, own string, others []string) error {
	book, err := renamed(x.book, x.name(), nameOr(own))
	if err != nil {
		return err
	}
	x.anew = x.anew || own != x.own
	x.book, x.trouble, x.own, x.others = book, "", own, nil
	if err := x.addOthersTo(ctx, book, own, others); err != nil {
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
func (x *School) fillBook() {
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

func (x *School) name() string { return nameOr(x.own) }

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

func (r Closing) sheet() string {
	if r.Lesson == nil {
		return ""
	}
	return r.Lesson.Sheet
}

// record is what the ledger keeps of the case, not sealed yet.
func (r Closing) record(bench, id string, s *ledger.Sheet) (ledger.Record, error) {
	out := ledger.Record{Bench: bench, Case: id, Revision: r.Revision, Closed: r.At, Withdrawn: r.Gone}
	if r.Gone {
		return out, nil
	}
	l := r.Lesson
	out.Fixed, out.Unknown, out.Looks, out.Tries, out.Said, out.Cost, out.Gain = r.Fixed, l.Unknown, l.Looks, l.Tries, l.Said, l.Cost, l.Gain
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

// Sheet returns the key of a device's sheet, and the sheet itself if no closed case has brought it yet.
func (x *School) Sheet(m *note.Model) (string, *ledger.Sheet) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if key := x.keys[m]; key != "" && x.brought[key] {
		return key, nil
	}
	s := ledger.SheetOf(m)
	key := s.Key()
	if x.keys != nil {
		x.keys[m] = key
	}
	if x.brought[key] {
		return key, nil
	}
	return key, &s
}
