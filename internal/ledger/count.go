package ledger

// Count is on how much something rests.
type Count struct {
	Cases   int     // cases that had it more likely than not
	Weight  float64 // sum of the chances over all cases
	Benches int     // benches among the Cases
}

// counting sums up shares of one level.
type counting struct {
	share   []float64
	touched []int
	bench   []string // that of the last case counted
	tally   []Count
}

func newCounting(tally []Count) *counting {
	return &counting{make([]float64, len(tally)), nil, make([]string, len(tally)), tally}
}

func (c *counting) add(at int, n float64) {
	if c.share[at] == 0 {
		c.touched = append(c.touched, at)
	}
	c.share[at] += n
}

// close counts the case. The cases come in the order of their benches.
func (c *counting) close(bench string) {
	for _, at := range c.touched {
		n := c.share[at]
		c.share[at] = 0
		c.tally[at].Weight += n
		if n < 0.5 {
			continue
		}
		c.tally[at].Cases++
		if c.bench[at] != bench {
			c.bench[at] = bench
			c.tally[at].Benches++
		}
	}
	c.touched = c.touched[:0]
}

// count fills in, after the last round, how much each factor rests on, and
// returns the information of each device's cases about its log factors,
//
//	J = Σ r·rᵀ − Σ off-diagonal of E[z·zᵀ] − n·nᵀ/Σn,
//
// with z the faults of a case that came by themselves, r = E[z] and n = Σ r: the
// complete information diag(n) − n·nᵀ/Σn less the covariances of z that the
// evidence leaves (Louis). A case of which nothing is known adds nothing.
func (f *fit) count(b *Book, cases []*entry) [][]float64 {
	info := make([][]float64, len(f.members))
	for g, m := range f.members {
		info[g] = make([]float64, len(m)*len(m))
	}
	kinds, blocks, leaves := newCounting(f.tally[0]), newCounting(f.tally[1]), newCounting(f.tally[2])
	var r []float64
	var own []float64
	for i, c := range cases {
		sheet := b.sheets[c.Sheet]
		if sheet == nil {
			continue
		}
		sets, leaf := c.candidates(sheet), f.leafOf[c.Sheet]
		r = f.weigh(i, r)
		for i, s := range sets {
			own = own[:0]
			for _, m := range s.members {
				l := leaf[m.mode]
				z := f.itself(l, m.own)
				own = append(own, z)
				kinds.add(f.kind[f.block[l]], r[i]*z)
				blocks.add(f.block[l], r[i]*z)
				leaves.add(l, r[i]*z)
			}
			f.together(info, leaf, s, own, r[i])
		}
		f.spread(info, leaves)
		kinds.close(c.Bench)
		blocks.close(c.Bench)
		leaves.close(c.Bench)
	}
	f.centre(info)
	return info
}

// together takes off what was there together for certain of one candidate.
func (f *fit) together(info [][]float64, leaf []int, s set, own []float64, p float64) {
	for i := range s.members {
		li := leaf[s.members[i].mode]
		m := info[f.group[li]]
		n := len(f.members[f.group[li]])
		for j := range s.members {
			if j != i {
				m[f.place[li]*n+f.place[leaf[s.members[j].mode]]] -= p * own[i] * own[j]
			}
		}
	}
}

// spread adds r·rᵀ of one case.
func (f *fit) spread(info [][]float64, leaves *counting) {
	for _, i := range leaves.touched {
		m := info[f.group[i]]
		row := m[f.place[i]*len(f.members[f.group[i]]):]
		ri := leaves.share[i]
		for _, j := range leaves.touched {
			row[f.place[j]] += ri * leaves.share[j]
		}
	}
}

// centre takes off n·nᵀ/Σn, for the scale of each device is free.
func (f *fit) centre(info [][]float64) {
	for g, leaves := range f.members {
		sum := 0.0
		for _, l := range leaves {
			sum += f.n[l]
		}
		if sum == 0 {
			continue
		}
		for i, a := range leaves {
			for j, b := range leaves {
				info[g][i*len(leaves)+j] -= f.n[a] * f.n[b] / sum
			}
		}
	}
}
