package school

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"strconv"

	"fettler/internal/journal"
)

// A milestone is how far a journal had been read: the Tracker's mark, and the last event read
// before it by name and content. A journal that has that event where it says goes on
// from there; another one, or one put back to an earlier state, has not.
type milestone struct {
	mark int64
	kase string
	seq  int
	sum  [sha256.Size]byte
}

// after is the milestone at which these last events of cases had been read.
func (p milestone) after(ends []journal.Event, mark int64) milestone {
	p.mark = mark
	if n := len(ends); n > 0 {
		e := ends[n-1]
		p.kase, p.seq, p.sum = e.Case, e.Seq, sumOf(e)
	}
	return p
}

func sumOf(e journal.Event) [sha256.Size]byte {
	var head []byte
	for _, s := range []string{e.Case, string(e.Kind), e.Who} {
		head = append(strconv.AppendInt(head, int64(len(s)), 10), ':')
		head = append(head, s...)
	}
	for _, n := range []int64{int64(e.Seq), int64(e.Version), e.At.UnixMicro()} {
		head = binary.AppendVarint(head, n)
	}
	return sha256.Sum256(append(head, e.Data...))
}

// passed tells whether the journal once stood at this milestone.
func (p milestone) passed(ctx context.Context, j journal.Journal) (bool, error) {
	if p.seq < 1 {
		return false, nil
	}
	events, err := j.Events(ctx, p.kase, p.seq-1)
	if err != nil {
		return false, err
	}
	return len(events) > 0 && events[0].Seq == p.seq && sumOf(events[0]) == p.sum, nil
}

func (p milestone) append(out []byte) []byte {
	out = binary.AppendVarint(out, p.mark)
	out = binary.AppendUvarint(out, uint64(p.seq))
	out = appendText(out, p.kase)
	return append(out, p.sum[:]...)
}

func appendText(out []byte, s string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(s))), s...)
}

// sealed closes a jar: the form of what is in it, and a sum that tells whether it is whole.
func sealed(form string, data []byte) []byte {
	sum := sha256.Sum256(data)
	return append(append(append([]byte(form), 0), sum[:]...), data...)
}

// unsealed opens a jar; false if it is of another form or not whole.
func unsealed(form string, data []byte) (*pulp, bool) {
	data, ok := bytes.CutPrefix(data, append([]byte(form), 0))
	if !ok || len(data) < sha256.Size || sha256.Sum256(data[sha256.Size:]) != [sha256.Size]byte(data) {
		return nil, false
	}
	return &pulp{in: data[sha256.Size:]}, true
}

// A pulp is what is read out of a jar; bad is set by the first thing that cannot be.
type pulp struct {
	in  []byte
	bad bool
}

func (p *pulp) number() int64 {
	v, n := binary.Varint(p.in)
	return v * p.used(n)
}

func (p *pulp) count() int {
	v, n := binary.Uvarint(p.in)
	if n > 0 && v > uint64(len(p.in)) {
		n = 0
	}
	return int(v) * int(p.used(n))
}

// used takes n bytes off; 0, and bad, if there are none.
func (p *pulp) used(n int) int64 {
	if n <= 0 {
		p.in, p.bad = nil, true
		return 0
	}
	p.in = p.in[n:]
	return 1
}

func (p *pulp) take(n int) []byte {
	if n > len(p.in) {
		p.in, p.bad = nil, true
		return nil
	}
	out := p.in[:n]
	p.in = p.in[n:]
	return out
}

func (p *pulp) text() string { return string(p.take(p.count())) }

func (p *pulp) texts() []string {
	var out []string
	for n := p.count(); n > 0 && !p.bad; n-- {
		out = append(out, p.text())
	}
	return out
}

func (p *pulp) milestone() milestone {
	x := milestone{mark: p.number()}
	v, n := binary.Uvarint(p.in)
	x.seq = int(min(v, 1<<31-1)) * int(p.used(n))
	x.kase = p.text()
	copy(x.sum[:], p.take(sha256.Size))
	return x
}
