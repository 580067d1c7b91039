package ledger

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// A Book is a set of records, and of the sheets they refer to. The zero value is
// an empty book. It is not safe for concurrent use; what Refresh returns is.
//
// A record is identified by its bench, its case and its content. Of several
// revisions of a case only the latest counts, so that merging books is plain
// union: in any order and as often as one likes, the result is the same.
type Book struct {
	sheets  map[string]*sheetInfo
	records map[recordID]*entry
	sorted  []*entry // what counts, in a fixed order; nil after a change
}

type recordID struct{ bench, place, hash string }

type entry struct {
	Record
	sets []set // made when first needed
}

type sheetInfo struct {
	Sheet
	key    string
	modes  map[string]int
	signs  map[string]int
	clears map[[2]string]int
}

// AddSheet adds a sheet and returns the key by which records refer to it.
func (b *Book) AddSheet(s Sheet) (string, error) {
	if err := s.check(); err != nil {
		return "", err
	}
	key := s.Key()
	if b.sheets[key] != nil {
		return key, nil
	}
	if b.sheets == nil {
		b.sheets = make(map[string]*sheetInfo)
	}
	x := &sheetInfo{Sheet: s, key: key, modes: map[string]int{}, signs: map[string]int{}, clears: map[[2]string]int{}}
	for i, m := range s.Modes {
		x.modes[m.ID] = i
	}
	for i, f := range s.Signs {
		x.signs[f.ID] = i
	}
	for i, c := range s.Clears {
		x.clears[[2]string{c.Repair, s.Modes[c.Mode].ID}] = i
	}
	b.sheets[key] = x
	b.sorted = nil
	return key, nil
}

// Add adds sealed records. If one of them cannot be taken, the others are taken
// all the same, and the errors are joined.
func (b *Book) Add(records ...Record) error {
	var errs []error
	for _, r := range records {
		if err := b.add(r); err != nil {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

func (b *Book) add(r Record) error {
	want, err := Seal(r)
	if err != nil {
		return err
	}
	if r.Hash != want.Hash {
		return &FieldError{r.place(), "the hash", "not that of its content", "the record as it was sealed, or seal it anew as a higher revision"}
	}
	return b.take(want)
}

// Enter seals records and adds them, as Seal and Add would one after the other, and
// returns those that could be taken, sealed. They are sealed once, and on all processors.
func (b *Book) Enter(records ...Record) ([]Record, error) {
	sealed, errs := make([]Record, len(records)), make([]error, len(records))
	var wait sync.WaitGroup
	const share = 256 // so many at a time
	for first := 0; first < len(records); first += share {
		wait.Go(func() {
			for i := first; i < min(first+share, len(records)); i++ {
				sealed[i], errs[i] = Seal(records[i])
			}
		})
	}
	wait.Wait()
	taken := make([]Record, 0, len(sealed))
	for i := range sealed {
		if errs[i] == nil {
			errs[i] = b.take(sealed[i])
		}
		if errs[i] == nil {
			taken = append(taken, sealed[i])
		}
	}
	return taken, errors.Join(errs...)
}

// take adds a record that has been sealed just now.
func (b *Book) take(want Record) error {
	if err := b.known(want); err != nil {
		return err
	}
	if b.records == nil {
		b.records = make(map[recordID]*entry)
	}
	id := recordID{want.Bench, want.Case, want.Hash}
	if b.records[id] == nil {
		b.records[id] = &entry{Record: want}
		b.sorted = nil
	}
	return nil
}

// known checks the names in a record against its sheet. Findings and repairs
// that the sheet does not have are left out when learning: a note may drop them.
func (b *Book) known(r Record) error {
	if r.Sheet == "" {
		return nil
	}
	s := b.sheets[r.Sheet]
	if s == nil {
		return &FieldError{r.place(), "its sheet", "not in the book", "the sheet first, with AddSheet"}
	}
	know := func(mode string) error {
		if _, ok := s.modes[mode]; ok {
			return nil
		}
		return &FieldError{r.place(), fmt.Sprintf("the fault %q", mode), "unknown to its sheet", "a fault mode of " + s.Device}
	}
	for _, share := range r.Because {
		if err := know(share.Mode); err != nil {
			return err
		}
	}
	for _, set := range r.Sets {
		for _, m := range set.Modes {
			if err := know(m); err != nil {
				return err
			}
		}
	}
	return nil
}

// Remove takes a case out, all revisions of it, and says whether it was there.
// Afterwards everything is as if it had never been. To take it out on other
// benches too, add a revision that is Withdrawn.
func (b *Book) Remove(bench, place string) bool {
	n := len(b.records)
	for id := range b.records {
		if id.bench == bench && id.place == place {
			delete(b.records, id)
		}
	}
	if len(b.records) == n {
		return false
	}
	b.sorted = nil
	return true
}

// Merge adds all of another book, which stays as it is.
func (b *Book) Merge(other *Book) error {
	var errs []error
	for _, s := range other.Sheets() {
		if _, err := b.AddSheet(s); err != nil {
			errs = append(errs, err)
		}
	}
	for id, e := range other.records {
		if b.records[id] == nil {
			errs = append(errs, b.add(e.Record))
		}
	}
	return errors.Join(errs...)
}

// Sheets returns all sheets, by key.
func (b *Book) Sheets() []Sheet {
	keys := make([]string, 0, len(b.sheets))
	for k := range b.sheets {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	out := make([]Sheet, len(keys))
	for i, k := range keys {
		out[i] = b.sheets[k].Sheet
	}
	return out
}

// All returns every record, superseded revisions included, in a fixed order.
func (b *Book) All() []Record {
	out := make([]Record, 0, len(b.records))
	for _, e := range b.records {
		out = append(out, e.Record)
	}
	slices.SortFunc(out, func(x, y Record) int { return compare(&x, &y) })
	return out
}

// compare orders by bench, case, revision and hash.
func compare(x, y *Record) int {
	if c := strings.Compare(x.Bench, y.Bench); c != 0 {
		return c
	}
	if c := strings.Compare(x.Case, y.Case); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(x.Revision, y.Revision), strings.Compare(x.Hash, y.Hash))
}

// Counting returns the records that count: the last revision of every case
// unless it is withdrawn, in a fixed order.
func (b *Book) Counting() []Record {
	es := b.counting()
	out := make([]Record, len(es))
	for i, e := range es {
		out[i] = e.Record
	}
	return out
}

func (b *Book) counting() []*entry {
	if b.sorted != nil {
		return b.sorted
	}
	all := make([]*entry, 0, len(b.records))
	for _, e := range b.records {
		all = append(all, e)
	}
	slices.SortFunc(all, func(x, y *entry) int { return compare(&x.Record, &y.Record) })
	out := all[:0]
	for i, e := range all {
		last := i+1 == len(all) || all[i+1].Bench != e.Bench || all[i+1].Case != e.Case
		if last && !e.Withdrawn {
			out = append(out, e)
		}
	}
	b.sorted = out
	return out
}

// Sum identifies the records that count: equal sums are equal sets.
func (b *Book) Sum() string {
	h := sha256.New()
	for _, e := range b.counting() {
		h.Write([]byte(e.Hash)) // of one length each
	}
	return hex.EncodeToString(h.Sum(nil))
}

// ByKey returns the sheets by their keys.
func (b *Book) ByKey() map[string]*Sheet {
	out := make(map[string]*Sheet, len(b.sheets))
	for k, s := range b.sheets {
		out[k] = &s.Sheet
	}
	return out
}

// candidates returns the record's candidates.
func (e *entry) candidates(s *sheetInfo) []set {
	switch {
	case e.sets != nil:
	case len(e.Sets) > 0:
		e.sets = given(&s.Sheet, s.modes, e.Sets)
	default:
		e.sets = setsOf(&s.Sheet, s.modes, e.Because)
	}
	return e.sets
}
