package ledger

import (
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"time"
)

// The forms of what Pack and Lessons.Pack write; another form is not read. Raise one
// when what it names is written otherwise, or means something else.
const (
	recordsForm = "ledger records 1"
	lessonsForm = "ledger lessons 2"
)

// errKept says that what was kept cannot be used.
var errKept = errors.New("ledger: what was kept is damaged or of another version; make it anew")

// Pack writes sheets and sealed records short and quick to read, for keeping beside the
// place they come from. [Book.Restore] reads it. What is given away are [Book.Sheets] and [Book.All].
func Pack(sheets []Sheet, records []Record) ([]byte, error) {
	p := &packer{index: map[string]int{}}
	p.count(len(sheets))
	for _, s := range sheets {
		data, err := json.Marshal(s)
		if err != nil {
			return nil, fmt.Errorf("ledger: a sheet cannot be written down: %w", err)
		}
		p.text(string(data))
	}
	p.count(len(records))
	for i := range records {
		if err := p.record(&records[i]); err != nil {
			return nil, err
		}
	}
	return p.done(recordsForm), nil
}

// Restore adds what Pack has written. The records are not sealed anew: give only what
// is known to be as it was written. What is damaged all the same is an error, and the
// book is then to be thrown away.
func (b *Book) Restore(data []byte) error {
	u, err := unpack(recordsForm, data)
	if err != nil {
		return err
	}
	for n := u.count(1); n > 0 && u.err == nil; n-- {
		var s Sheet
		if json.Unmarshal([]byte(u.text()), &s) != nil {
			return errKept
		}
		if _, err := b.AddSheet(s); err != nil {
			return errors.Join(errKept, err)
		}
	}
	n := u.count(40)
	if b.records == nil {
		b.records = make(map[recordID]*entry, n)
	}
	room := make([]entry, n)
	for i := range room {
		e := &room[i]
		u.record(&e.Record)
		if u.err != nil {
			return u.err
		}
		if err := b.known(e.Record); err != nil {
			return errors.Join(errKept, err)
		}
		b.records[recordID{e.Bench, e.Case, e.Hash}] = e
	}
	b.sorted = nil
	return u.end()
}

func (p *packer) record(r *Record) error {
	hash, err := hex.DecodeString(r.Hash)
	if err != nil || len(hash) != 32 {
		return fmt.Errorf("ledger: %s is not sealed", r.place())
	}
	p.out = append(p.out, hash...)
	p.name(r.Bench)
	p.text(r.Case)
	p.count(r.Revision)
	p.flags(r.Withdrawn, r.Fixed, r.Cost.Foretold)
	p.out = binary.AppendVarint(p.out, r.Closed.UnixMicro())
	p.name(r.Sheet)
	p.figure(r.Unknown)
	p.count(len(r.Because))
	for _, s := range r.Because {
		p.name(s.Mode)
		p.figure(s.P)
		p.figure(s.Factor)
	}
	p.count(len(r.Sets))
	for _, s := range r.Sets {
		p.count(len(s.Modes))
		for _, m := range s.Modes {
			p.name(m)
		}
		p.figure(s.P)
		p.figure(s.Factor)
	}
	p.count(len(r.Looks))
	for _, l := range r.Looks {
		p.name(l.Finding)
		p.count(l.Shown)
		p.count(l.Of)
	}
	p.count(len(r.Tries))
	for _, t := range r.Tries {
		p.name(t.Repair)
		p.name(t.Mode)
		p.figure(t.There)
		p.figure(t.Cleared)
	}
	p.count(len(r.Said))
	for _, s := range r.Said {
		p.name(s.About)
		p.figure(s.P)
		p.flags(s.Came)
	}
	p.name(r.Cost.Currency)
	for _, v := range r.money() {
		p.figure(*v)
	}
	return nil
}

// money lists the figures of a record's cost and gain.
func (r *Record) money() [11]*float64 {
	c, g := &r.Cost, &r.Gain
	return [11]*float64{&c.Money, &c.Minutes, &c.MoneyMean, &c.MoneyLow, &c.MoneyHigh, &c.MinMean, &c.MinLow, &c.MinHigh, &g.Worth, &g.Scrap, &g.Kg}
}

func (u *unpacker) record(r *Record) {
	r.Hash = hex.EncodeToString(u.take(32))
	r.Bench, r.Case, r.Revision = u.name(), u.text(), u.whole()
	flags := u.flags()
	r.Withdrawn, r.Fixed, r.Cost.Foretold = flags&1 > 0, flags&2 > 0, flags&4 > 0
	r.Closed = time.UnixMicro(u.signed()).UTC()
	r.Sheet, r.Unknown = u.name(), u.figure()
	r.Because = u.shares.take(u.count(3))
	for i := range r.Because {
		r.Because[i] = Share{u.name(), u.figure(), u.figure()}
	}
	r.Sets = u.sets.take(u.count(3))
	for i := range r.Sets {
		modes := u.modes.take(u.count(1))
		for k := range modes {
			modes[k] = u.name()
		}
		r.Sets[i] = Set{modes, u.figure(), u.figure()}
	}
	r.Looks = u.looks.take(u.count(3))
	for i := range r.Looks {
		r.Looks[i] = Look{u.name(), u.whole(), u.whole()}
	}
	r.Tries = u.tries.take(u.count(4))
	for i := range r.Tries {
		r.Tries[i] = Try{u.name(), u.name(), u.figure(), u.figure()}
	}
	r.Said = u.said.take(u.count(3))
	for i := range r.Said {
		r.Said[i] = Saying{u.name(), u.figure(), u.flags()&1 > 0}
	}
	r.Cost.Currency = u.name()
	for _, v := range r.money() {
		*v = u.figure()
	}
}

// A packer writes numbers short and every name once.
type packer struct {
	out   []byte
	names []string
	index map[string]int
}

func (p *packer) count(n int) { p.out = binary.AppendUvarint(p.out, uint64(n)) }

func (p *packer) text(s string) {
	p.count(len(s))
	p.out = append(p.out, s...)
}

// name writes a text that is likely to come again.
func (p *packer) name(s string) {
	i, ok := p.index[s]
	if !ok {
		i = len(p.names)
		p.index[s] = i
		p.names = append(p.names, s)
	}
	p.count(i)
}

func (p *packer) flags(set ...bool) {
	v := 0
	for i, on := range set {
		if on {
			v |= 1 << i
		}
	}
	p.count(v)
}

// figure writes a number to the last bit: as so many hundred-thousandths where it is that
// many, for most are rounded so, else in full.
func (p *packer) figure(v float64) {
	if n := math.Round(v * shortUnit); !math.Signbit(n) && n < 1<<40 && math.Float64bits(n/shortUnit) == math.Float64bits(v) {
		p.out = binary.AppendUvarint(p.out, uint64(n)<<1)
		return
	}
	p.out = binary.AppendUvarint(p.out, 1)
	p.out = binary.LittleEndian.AppendUint64(p.out, math.Float64bits(v))
}

const shortUnit = 1e5

// done puts the form and the names before what was written.
func (p *packer) done(form string) []byte {
	head := packer{}
	head.text(form)
	head.count(len(p.names))
	for _, s := range p.names {
		head.text(s)
	}
	return append(head.out, p.out...)
}

// An unpacker reads what a packer wrote. After the first thing that cannot be, err is
// set and all it reads is zero.
type unpacker struct {
	in    []byte
	names []string
	err   error

	shares slab[Share]
	sets   slab[Set]
	modes  slab[string]
	looks  slab[Look]
	tries  slab[Try]
	said   slab[Saying]
}

func unpack(form string, data []byte) (*unpacker, error) {
	u := &unpacker{in: data}
	if u.text() != form {
		return nil, errKept
	}
	u.names = make([]string, u.count(1))
	for i := range u.names {
		u.names[i] = u.text()
	}
	return u, u.err
}

func (u *unpacker) fail() { u.in, u.err = nil, errKept }

func (u *unpacker) take(n int) []byte {
	if n > len(u.in) {
		u.fail()
		return nil
	}
	out := u.in[:n]
	u.in = u.in[n:]
	return out
}

func (u *unpacker) uint() uint64 {
	v, n := binary.Uvarint(u.in)
	if n <= 0 {
		u.fail()
		return 0
	}
	u.in = u.in[n:]
	return v
}

func (u *unpacker) signed() int64 {
	v, n := binary.Varint(u.in)
	if n <= 0 {
		u.fail()
		return 0
	}
	u.in = u.in[n:]
	return v
}

func (u *unpacker) whole() int {
	v := u.uint()
	if v > math.MaxInt32 {
		u.fail()
		return 0
	}
	return int(v)
}

// count is how many things of at least so many bytes follow: never more than there is room for.
func (u *unpacker) count(least int) int {
	n := u.whole()
	if n > len(u.in)/least {
		u.fail()
		return 0
	}
	return n
}

func (u *unpacker) flags() int { return u.whole() }

func (u *unpacker) text() string { return string(u.take(u.count(1))) }

func (u *unpacker) name() string {
	i := u.whole()
	if i >= len(u.names) {
		u.fail()
		return ""
	}
	return u.names[i]
}

func (u *unpacker) figure() float64 {
	v := u.uint()
	if v&1 == 0 {
		return float64(v>>1) / shortUnit
	}
	b := u.take(8)
	if len(b) < 8 {
		return 0
	}
	return math.Float64frombits(binary.LittleEndian.Uint64(b))
}

// end says whether all was read and nothing is left over.
func (u *unpacker) end() error {
	if u.err == nil && len(u.in) > 0 {
		u.fail()
	}
	return u.err
}

// A slab hands out small slices of one large one.
type slab[T any] struct{ free []T }

func (s *slab[T]) take(n int) []T {
	if n == 0 {
		return nil
	}
	if n > len(s.free) {
		s.free = make([]T, max(n, 1024))
	}
	out := s.free[:n:n]
	s.free = s.free[n:]
	return out
}
