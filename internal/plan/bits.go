package plan

// bits is a small set of numbers.
type bits []uint64

func newBits(n int) bits { return make(bits, (n+63)/64) }

func (b bits) has(i int) bool { return b != nil && b[i/64]>>uint(i%64)&1 == 1 }
func (b bits) set(i int)      { b[i/64] |= 1 << uint(i%64) }

func (b bits) clone() bits {
	out := make(bits, len(b))
	copy(out, b)
	return out
}

func (b bits) with(i int) bits {
	out := b.clone()
	out.set(i)
	return out
}
