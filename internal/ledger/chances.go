package ledger

import "math"

// tried is a count of looks or tries and of those that came out.
type tried struct{ k, n float64 }

// chances pools counts under up to three names, finest first.
type chances struct {
	s    Settings
	seen [3]map[string]tried
}

func newChances(s Settings) *chances {
	return &chances{s, [3]map[string]tried{{}, {}, {}}}
}

func (c *chances) add(keys []string, k, n float64) {
	for level, key := range keys {
		t := c.seen[level][key]
		c.seen[level][key] = tried{t.k + k, t.n + n}
	}
}

// at returns the chance of the thing with these names, for which its note says q.
// From the coarsest level to the finest, the mean of what is known is a Beta's,
// whose strength is weakened by the spread between one level and the next; at each
// level only what others have seen is added, so that nothing counts twice.
func (c *chances) at(keys []string, q float64) Chance {
	q = min(max(q, leastChance), 1-leastChance)
	strength := c.s.Chance
	a, b := strength*q, strength*(1-q)
	others := 0.0
	for level := len(keys) - 1; level > 0; level-- {
		all, finer := c.seen[level][keys[level]], c.seen[level-1][keys[level-1]]
		k, n := max(0, all.k-finer.k), max(0, all.n-finer.n)
		if n < 1e-9*all.n { // only rounding is left
			k, n = 0, 0
		}
		a, b, others = a+min(k, n), b+max(0, n-k), others+n
		mean := a / (a + b)
		strength = 1 / (1/(a+b) + 1/c.s.ChanceSpread)
		a, b = strength*mean, strength*(1-mean)
	}
	own := c.seen[0][keys[0]]
	out := betaChance(a+own.k, b+max(0, own.n-own.k))
	out.Looks, out.Others = own.n, others
	return out
}

// leastChance is how near to 0 or 1 a chance may come; the notes have the same limit.
const leastChance = 0.001

// learnChances counts the looks and tries of all cases. A look at a sign counts
// for a trigger as far as the trigger was active; a sign that was there is put down to
// each active trigger in proportion to P(it fired | sign) = q/P(sign), one step
// of expectation-maximisation from the note's chances. Counted looks at one device count for
// less than as many devices (worth).
func (b *Book) learnChances(s Settings, f *fit, cases []*entry) (triggers, clears *chances) {
	triggers, clears = newChances(s), newChances(s)
	var r []float64
	for i, c := range cases {
		sheet := b.sheets[c.Sheet]
		if sheet == nil {
			continue
		}
		sets := c.candidates(sheet)
		r = f.weigh(i, r)
		for _, l := range c.Looks {
			if i, ok := sheet.signs[l.Finding]; ok {
				sheet.look(triggers, &sheet.Signs[i], l, sets, r)
			}
		}
		for _, t := range c.Tries {
			if i, ok := sheet.clears[[2]string{t.Repair, t.Mode}]; ok {
				keys := sheet.clearKeys(&sheet.Clears[i])
				clears.add(keys[:], t.There*t.Cleared, t.There)
			}
		}
	}
	return triggers, clears
}

func (s *sheetInfo) look(into *chances, f *SheetSign, l Look, sets []set, r []float64) {
	k, n := make([]float64, len(f.Triggers)), make([]float64, len(f.Triggers))
	active := make([]bool, len(f.Triggers))
	of := float64(max(l.Of, 1))
	each := worth(of) / of
	for i, set := range sets {
		silent := 1 - f.Leak
		for j, t := range f.Triggers {
			active[j] = touches(t.Modes, set.members)
			if active[j] {
				silent *= 1 - t.Chance
			}
		}
		for j, t := range f.Triggers {
			if !active[j] {
				continue
			}
			n[j] += r[i] * each * of
			if shows := 1 - silent; shows > 0 {
				k[j] += r[i] * each * float64(l.Shown) * math.Min(1, t.Chance/shows)
			}
		}
	}
	for j := range f.Triggers {
		if n[j] > 0 {
			keys := s.triggerKeys(f, &f.Triggers[j])
			into.add(keys[:], k[j], n[j])
		}
	}
}

// worth is how many looks at different devices n looks at one device are worth: n·(s+1)/(s+n), the design
// effect of an intraclass correlation 1/(s+1) (L. Kish, Survey Sampling, 1965, section 5.4; from memory). s is
// the concentration by which package belief judges counted signs, and for the same reason.
func worth(n float64) float64 {
	const s = 2
	return n * (s + 1) / (s + n)
}

func touches(modes []int, members []member) bool {
	for _, m := range members {
		for _, i := range modes {
			if i == m.mode {
				return true
			}
		}
	}
	return false
}
