package school

import (
	"context"
	"encoding/binary"
	"fmt"
	"slices"

	"fettler/internal/journal"
	"fettler/internal/ledger"
)

// What closed cases teach is kept in the larder in two places: the lessons, which are all
// that a view needs, and the book, a row of jars each of which goes on where the one
// before it ends. Both say at which milestone of the journal they were made; what does not
// fit the journal is thrown away and made from the journal, which alone is the truth.
//
// Raise a form when what is in its jars is made otherwise.
const (
	lessonsPlace = "lessons"
	lessonsForm  = "lessons of closed cases 2"
	bookPlace    = "book"
	bookForm     = "book of closed cases 1"

	keepFrom    = 200  // cases; fewer are sooner read than kept
	recordsEach = 8192 // in a jar
	mostJars    = 200  // before they are put together
)

// keepFrom is from how many cases on anything is kept.
func (x *School) keepFrom() int {
	if x.o.KeepFrom > 0 {
		return x.o.KeepFrom
	}
	return keepFrom
}

// larder returns the place to keep things in, nil if there is none. Without marks there
// is no telling where to go on.
func (x *School) larder() journal.Larder {
	l, _ := x.journal.(journal.Larder)
	if _, tracks := x.journal.(journal.Tracker); !tracks {
		return nil
	}
	return l
}

// fetch returns the jars of a place; what cannot be read counts as not there.
func (x *School) fetch(ctx context.Context, place string) []journal.Jar {
	l := x.larder()
	if l == nil {
		return nil
	}
	jars, err := l.Fetch(ctx, place)
	if err != nil {
		return nil
	}
	return jars
}

// recallLessons takes up lessons that were kept, if they fit the journal.
func (x *School) recallLessons(ctx context.Context) error {
	for _, jar := range x.fetch(ctx, lessonsPlace) {
		k, ok := readLessons(jar.Data)
		if !ok {
			continue
		}
		passed, err := k.at.passed(ctx, x.journal)
		if err != nil {
			return journal.Failed(err)
		}
		if passed {
			x.at, x.told, x.own, x.others, x.sum, x.lessons = k.at, k.at, k.own, k.others, k.sum, k.lessons
			for _, key := range k.brought {
				x.brought[key] = true
			}
		}
	}
	return nil
}

// keptLessons is what the jar of the lessons holds.
type keptLessons struct {
	at              milestone
	own, sum        string
	others, brought []string
	lessons         *ledger.Lessons
}

func (k keptLessons) jar() journal.Jar {
	out := k.at.append(nil)
	out = appendText(appendText(out, k.own), k.sum)
	for _, list := range [][]string{k.others, k.brought} {
		out = binary.AppendUvarint(out, uint64(len(list)))
		for _, s := range list {
			out = appendText(out, s)
		}
	}
	return journal.Jar{Key: "1", Data: sealed(lessonsForm, append(out, k.lessons.Pack()...))}
}

func readLessons(data []byte) (keptLessons, bool) {
	p, ok := unsealed(lessonsForm, data)
	if !ok {
		return keptLessons{}, false
	}
	k := keptLessons{at: p.milestone(), own: p.text(), sum: p.text(), others: p.texts(), brought: p.texts()}
	if p.bad {
		return keptLessons{}, false
	}
	var err error
	k.lessons, err = ledger.UnpackLessons(p.in)
	return k, err == nil
}

// keepLessons keeps the lessons for the next process. That they cannot be kept is no
// reason to keep anybody from working.
func (x *School) keepLessons(ctx context.Context) {
	l := x.larder()
	if l == nil || x.lessons == nil || x.lessons.Cases < x.keepFrom() || x.trouble != "" || len(x.missing) > 0 || x.told == x.at {
		return
	}
	k := keptLessons{at: x.at, own: x.own, sum: x.sum, others: x.others, lessons: x.lessons}
	for key := range x.brought {
		k.brought = append(k.brought, key)
	}
	slices.Sort(k.brought)
	if l.Store(ctx, lessonsPlace, true, k.jar()) == nil {
		x.told = x.at
	}
}

// taughtSince tells whether a case that ever was closed has been written to since the
// lessons that were kept; if not, they stand for the journal as it is now.
func (x *School) taughtSince(ctx context.Context) (bool, error) {
	ends, mark, err := x.changedSince(ctx, x.at.mark)
	if err != nil {
		return false, journal.Failed(err)
	}
	for _, e := range ends {
		if closed, err := x.cases.EverClosed(ctx, e); err != nil || closed {
			return closed, err
		}
	}
	x.at = x.at.after(ends, mark)
	if len(ends) >= x.keepFrom() {
		x.keepLessons(ctx)
	}
	return false, nil
}

// A bookJar is records that were put into the book between two marks.
type bookJar struct {
	own   string
	from  int64
	until milestone
	pack  []byte // by package ledger
}

func (k bookJar) data() []byte {
	out := appendText(nil, k.own)
	out = k.until.append(binary.AppendVarint(out, k.from))
	return sealed(bookForm, append(out, k.pack...))
}

func readBookJar(data []byte) (bookJar, bool) {
	p, ok := unsealed(bookForm, data)
	if !ok {
		return bookJar{}, false
	}
	k := bookJar{own: p.text(), from: p.number(), until: p.milestone(), pack: p.in}
	return k, !p.bad
}

// openBook begins with the book as it was kept, or with an empty one, under the name the
// bench has now; readClosings brings it up to date.
func (x *School) openBook(ctx context.Context, own string, others []string) error {
	jars := x.fetch(ctx, bookPlace)
	book, name, until, ok := readBook(jars)
	if ok {
		passed, err := until.passed(ctx, x.journal)
		if err != nil {
			return journal.Failed(err)
		}
		ok = passed
	}
	if !ok {
		book, name, until, jars = new(ledger.Book), own, milestone{}, nil
	}
	clear(x.taught)
	clear(x.jarred)
	for _, r := range book.All() { // of a case the last revision comes last
		x.taught[r.Case] = taught{r.Revision, r.Withdrawn}
	}
	x.sheets = book.ByKey()
	for key := range x.sheets {
		x.entered[key], x.brought[key], x.jarred[key] = true, true, true
	}
	x.unkept, x.anew, x.jars, x.until, x.at = nil, name != own, len(jars), until, until
	if name != own {
		var err error
		if book, err = renamed(book, nameOr(name), nameOr(own)); err != nil {
			return err
		}
	}
	if err := x.addOthersTo(ctx, book, own, others); err != nil {
		return err
	}
	x.book, x.own, x.others = book, own, others
	return nil
}

// readBook puts the jars of the book together; false if there are none or they do not
// fit one another.
func readBook(jars []journal.Jar) (book *ledger.Book, own string, until milestone, ok bool) {
	book = new(ledger.Book)
	for i, jar := range jars {
		k, ok := readBookJar(jar.Data)
		if !ok || jar.Key != jarKey(i) || k.from != until.mark || i > 0 && k.own != own || book.Restore(k.pack) != nil {
			return nil, "", milestone{}, false
		}
		own, until = k.own, k.until
	}
	return book, own, until, len(jars) > 0
}

func jarKey(i int) string { return fmt.Sprintf("%06d", i) }

// keepBook keeps what has been put into the book since it last did, if it is worth it.
func (x *School) keepBook(ctx context.Context) {
	l := x.larder()
	if l == nil || x.trouble != "" {
		return
	}
	if x.anew || x.jars >= mostJars {
		x.unkept, x.anew, x.jars, x.until = ownOf(x.book, x.name()), true, 0, milestone{}
		clear(x.jarred)
	}
	if len(x.unkept) < x.keepFrom() {
		return
	}
	jars, err := x.fill()
	if err != nil || l.Store(ctx, bookPlace, x.jars == 0, jars...) != nil {
		x.unkept, x.anew = nil, true // the next time
		return
	}
	x.jars += len(jars)
	x.unkept, x.anew, x.until = nil, false, x.at
}

// fill puts what has not been kept into jars; the last of them says how far they go.
func (x *School) fill() ([]journal.Jar, error) {
	var jars []journal.Jar
	for part := range slices.Chunk(x.unkept, recordsEach) {
		k := bookJar{own: x.own, from: x.until.mark, until: x.until}
		if (len(jars)+1)*recordsEach >= len(x.unkept) {
			k.until = x.at
		}
		var sheets []ledger.Sheet
		for _, r := range part {
			if s := x.sheets[r.Sheet]; s != nil && !x.jarred[r.Sheet] {
				x.jarred[r.Sheet] = true
				sheets = append(sheets, *s)
			}
		}
		var err error
		if k.pack, err = ledger.Pack(sheets, part); err != nil {
			return nil, err
		}
		jars = append(jars, journal.Jar{Key: jarKey(x.jars + len(jars)), Data: k.data()})
	}
	return jars, nil
}
