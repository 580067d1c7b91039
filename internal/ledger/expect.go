package ledger

// flat holds the candidates of all cases one after the other, for the rounds walk
// them many times.
type flat struct {
	caseEnd []int32 // of each case, into the sets
	known   []float64
	setEnd  []int32 // of each set, into the members
	p       []float64
	leaf    []int32
	own     []float64
}

func (f *fit) flatten(b *Book, cases []*entry) flat {
	x := flat{caseEnd: make([]int32, 0, len(cases)), known: make([]float64, 0, len(cases))}
	for _, c := range cases {
		known := 0.0
		if sheet := b.sheets[c.Sheet]; sheet != nil {
			leaf := f.leafOf[c.Sheet]
			for _, s := range c.candidates(sheet) {
				for _, m := range s.members {
					x.leaf = append(x.leaf, int32(leaf[m.mode]))
					x.own = append(x.own, m.own)
				}
				x.setEnd = append(x.setEnd, int32(len(x.leaf)))
				x.p = append(x.p, s.p)
				known += s.p
			}
		}
		x.caseEnd = append(x.caseEnd, int32(len(x.p)))
		x.known = append(x.known, min(known, 1-c.Unknown))
	}
	return x
}

// weigh returns the chances of the candidates of case i under the present
// factors, in r. What was unknown stays so.
func (f *fit) weigh(i int, r []float64) []float64 {
	x := &f.flat
	from := int32(0)
	if i > 0 {
		from = x.caseEnd[i-1]
	}
	r = r[:0]
	total := 0.0
	at := int32(0)
	if from > 0 {
		at = x.setEnd[from-1]
	}
	for s := from; s < x.caseEnd[i]; s++ {
		w := x.p[s]
		for ; at < x.setEnd[s]; at++ {
			w *= x.own[at]*f.theta[x.leaf[at]] + 1 - x.own[at]
		}
		r = append(r, w)
		total += w
	}
	if total > 0 {
		scale := x.known[i] / total
		for j := range r {
			r[j] *= scale
		}
	}
	return r
}

// itself is the chance that a member of a set that is there came by itself.
func (f *fit) itself(leaf int, own float64) float64 {
	if own == 1 {
		return 1
	}
	t := own * f.theta[leaf]
	return t / (t + 1 - own)
}

// expect spreads every case over its candidates under the present factors and
// counts the faults that came by themselves.
func (f *fit) expect() {
	clear(f.n)
	x := &f.flat
	var r []float64
	set, at := 0, int32(0)
	for i := range x.caseEnd {
		r = f.weigh(i, r)
		for _, p := range r {
			for ; at < x.setEnd[set]; at++ {
				l := int(x.leaf[at])
				f.n[l] += p * f.itself(l, x.own[at])
			}
			set++
		}
	}
}
