package plan

import "math"

// A key names a belief at a place, so that a situation reached in two ways is
// thought about once: two sums of mixed numbers, which do not depend on the
// order of the worlds. That two of a million situations share all 128 bits by accident has a
// chance below 1e-26.
type key struct{ a, b uint64 }

func mix(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

func (k *key) add(x uint64) {
	m := mix(x + 0x9e3779b97f4a7c15)
	k.a += m
	k.b += mix(m ^ 0xd6e8feb86659fd93)
}

// chain mixes in a number whose place in the order counts.
func (k *key) chain(x uint64) {
	k.a = mix(k.a ^ mix(x+0x9e3779b97f4a7c15))
	k.b = mix(k.b + mix(x^0xd6e8feb86659fd93))
}

// near names the situation with weights to one in a thousand million: for the
// search, in which checks made in another order lead to the same belief but for rounding.
func (p *Planner) near(b lot, at place) key {
	var k key
	for i, id := range b.ids {
		if q := uint64(math.Round(b.w[i] * 1e9)); q > 0 {
			k.add(uint64(id)<<32 | q)
		}
	}
	p.place(&k, at)
	return k
}

// same names the situation to the bit: for what is remembered from one advice to the next.
func (p *Planner) same(b lot, at place) key {
	var k key
	for i, id := range b.ids {
		k.chain(uint64(id))
		k.chain(math.Float64bits(b.w[i]))
	}
	p.place(&k, at)
	return k
}

func (p *Planner) place(k *key, at place) {
	k.chain(uint64(at.access))
	for _, x := range at.done {
		k.chain(x)
	}
	for _, x := range at.asked {
		k.chain(x)
	}
	if p.settings.Budget > 0 {
		k.chain(math.Float64bits(at.spent))
	}
}
