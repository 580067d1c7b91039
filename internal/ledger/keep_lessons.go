package ledger

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Pack writes lessons to be kept beside the records they are made of, the same bytes for
// the same lessons. [UnpackLessons] reads it.
func (l *Lessons) Pack() []byte {
	p := &packer{index: map[string]int{}}
	for _, n := range []int{l.Cases, l.Informed, l.Rounds} {
		p.count(n)
	}
	p.figure(l.Residual)
	for _, v := range l.settings.all() {
		p.figure(*v)
	}
	p.count(len(l.covariance))
	for _, c := range l.covariance {
		n, _ := c.Dims()
		p.count(n)
		for i := range n {
			for j := range n {
				p.figure(c.At(i, j))
			}
		}
	}
	for _, m := range []map[string]known{l.leaf, l.block, l.kind} {
		p.count(len(m))
		for _, name := range sortedKeys(m) {
			p.text(name)
			p.known(m[name])
		}
	}
	for _, c := range []*chances{l.triggers, l.clears} {
		for _, seen := range c.seen {
			p.count(len(seen))
			for _, name := range sortedKeys(seen) {
				p.text(name)
				p.figure(seen[name].k)
				p.figure(seen[name].n)
			}
		}
	}
	return p.done(lessonsForm)
}

func (p *packer) known(k known) {
	p.figure(k.eta)
	p.figure(k.variance)
	p.count(k.group)
	p.count(k.place)
	for _, c := range k.counts {
		p.count(c.Cases)
		p.figure(c.Weight)
		p.count(c.Benches)
	}
}

// all lists the strengths.
func (s *Settings) all() [5]*float64 {
	return [5]*float64{&s.Kind, &s.Block, &s.Device, &s.Chance, &s.ChanceSpread}
}

// UnpackLessons reads what Pack has written. What is damaged is an error.
func UnpackLessons(data []byte) (*Lessons, error) {
	u, err := unpack(lessonsForm, data)
	if err != nil {
		return nil, err
	}
	l := &Lessons{Cases: u.whole(), Informed: u.whole(), Rounds: u.whole(), Residual: u.figure()}
	for _, v := range l.settings.all() {
		if *v = u.figure(); !(*v > 0) {
			u.fail() // none was ever kept so
		}
	}
	sizes := make([]int, u.count(1))
	for g := range sizes {
		n := u.whole()
		if n == 0 || n > len(u.in)/n {
			u.fail()
			return nil, u.err
		}
		sizes[g] = n
		c := mat.NewDense(n, n, nil)
		for i := range n {
			for j := range n {
				c.Set(i, j, u.finite())
			}
		}
		l.covariance = append(l.covariance, c)
	}
	for _, m := range []*map[string]known{&l.leaf, &l.block, &l.kind} {
		n := u.count(12)
		*m = make(map[string]known, n)
		for ; n > 0; n-- {
			name := u.text()
			(*m)[name] = u.known()
		}
	}
	for _, k := range l.leaf {
		if k.group >= len(sizes) || k.place >= sizes[k.group] {
			return nil, errKept
		}
	}
	for _, to := range []**chances{&l.triggers, &l.clears} {
		c := newChances(l.settings)
		for level := range c.seen {
			for n := u.count(3); n > 0; n-- {
				name := u.text()
				c.seen[level][name] = tried{u.finite(), u.finite()}
			}
		}
		*to = c
	}
	return l, u.end()
}

func (u *unpacker) known() known {
	k := known{eta: u.finite(), variance: u.finite(), group: u.whole(), place: u.whole()}
	for i := range k.counts {
		k.counts[i] = Count{Cases: u.whole(), Weight: u.finite(), Benches: u.whole()}
	}
	return k
}

// finite is a figure that must be a number.
func (u *unpacker) finite() float64 {
	v := u.figure()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		u.fail()
		return 0
	}
	return v
}
