package belief

import "math/bits"

// A row is the state of a sweep between two steps: small fields packed into
// words. A field never straddles two words.
type row []uint64

// A field is a place in a row.
type field struct {
	word  int
	shift uint
	mask  uint64 // unshifted
}

func (f field) get(r row) int { return int(r[f.word] >> f.shift & f.mask) }

func (f field) put(r row, v int) {
	r[f.word] = r[f.word]&^(f.mask<<f.shift) | uint64(v)<<f.shift
}

// raise puts v where it is more than what is there.
func (f field) raise(r row, v int) {
	if v > f.get(r) {
		f.put(r, v)
	}
}

// A layout hands out fields.
type layout struct {
	words int
	used  uint
}

func newLayout() layout { return layout{words: 1} }

// field returns room for the values 0…states-1.
func (l *layout) field(states int) field {
	width := uint(bits.Len(uint(states - 1)))
	if l.used+width > 64 {
		l.words++
		l.used = 0
	}
	f := field{word: l.words - 1, shift: l.used, mask: 1<<width - 1}
	l.used += width
	return f
}

// A layer is a set of weighted states: the distinct rows reached after a step,
// with the edges that lead from each to the next layer.
type layer struct {
	words  int
	rows   []uint64
	weight []float64
	start  []int32 // edges of state s: start[s]…start[s+1]
	edges  []edge
}

type edge struct {
	to     int32
	option int32
	weight float64
}

func (l *layer) len() int      { return len(l.weight) }
func (l *layer) row(i int) row { return l.rows[i*l.words : (i+1)*l.words] }

// A gatherer adds up weights of equal rows: a hash table with open addressing
// that is reused from step to step.
type gatherer struct {
	slots []int32
	used  []int
}

func (g *gatherer) reset(expect int) {
	size := 16
	for size < 2*expect {
		size *= 2
	}
	if size > len(g.slots) {
		g.slots = make([]int32, size)
		g.used = g.used[:0]
		return
	}
	for _, s := range g.used {
		g.slots[s] = 0
	}
	g.used = g.used[:0]
}

// add finds or makes the state of row r in l, adds weight to it and returns its index.
func (g *gatherer) add(l *layer, r row, weight float64) int32 {
	if 2*(l.len()+1) > len(g.slots) {
		g.grow(l)
	}
	mask := uint64(len(g.slots) - 1)
	for s := hash(r) & mask; ; s = (s + 1) & mask {
		id := g.slots[s] - 1
		if id < 0 {
			l.rows = append(l.rows, r...)
			l.weight = append(l.weight, weight)
			g.slots[s] = int32(l.len())
			g.used = append(g.used, int(s))
			return int32(l.len() - 1)
		}
		if equal(l.row(int(id)), r) {
			l.weight[id] += weight
			return id
		}
	}
}

func (g *gatherer) grow(l *layer) {
	g.slots = make([]int32, max(16, 2*len(g.slots)))
	g.used = g.used[:0]
	mask := uint64(len(g.slots) - 1)
	for i := range l.len() {
		s := hash(l.row(i)) & mask
		for g.slots[s] != 0 {
			s = (s + 1) & mask
		}
		g.slots[s] = int32(i + 1)
		g.used = append(g.used, int(s))
	}
}

func hash(r row) uint64 {
	h := uint64(0x9e3779b97f4a7c15)
	for _, w := range r {
		h ^= w
		h *= 0xff51afd7ed558ccd
		h ^= h >> 32
	}
	return h
}

func equal(a, b row) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
