package combine

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
)

// Goal is what is wanted. The zero values of the last three fields are defaults.
type Goal struct {
	Element  Element
	Value    float64 // SI
	Rating   float64 // what the whole must carry; 0 = any
	MaxParts int     // 1 to 4; 0 = 3
	Best     int     // answers wanted, up to 100; 0 = 5
	// Close is the error, as a fraction, below which and within steps of which two
	// networks count as equally close, so that the one of fewer parts comes first. 0 = exactness decides.
	Close float64
}

// Find gives the closest networks: by error (in steps of Close), then by
// number of parts, then by exact error. It returns an error when the goal or the
// stock makes no sense, when nothing in stock carries the rating, or when ctx
// ends.
func Find(ctx context.Context, stock []Stock, g Goal) ([]Network, error) {
	if g.MaxParts == 0 {
		g.MaxParts = 3
	}
	if g.Best == 0 {
		g.Best = 5
	}
	if err := g.check(stock); err != nil {
		return nil, err
	}
	s := &search{ctx: ctx, stock: stock, goal: g, keys: map[string]bool{}}
	s.list()
	if err := s.run(); err != nil {
		return nil, err
	}
	if len(s.best) == 0 {
		return nil, fmt.Errorf("nothing at hand carries %g %s in a network of up to %d parts (parts of unknown rating are left out)", g.Rating, g.Element.RatingUnit(), g.MaxParts)
	}
	out := make([]Network, len(s.best))
	for i, h := range s.best {
		out[i] = describe(h.n, g.Element, stock, g.Value)
	}
	return out, nil
}

func (g Goal) check(stock []Stock) error {
	switch {
	case g.Element < Resistors || g.Element > Inductors:
		return fmt.Errorf("only resistors, capacitors and inductors can be combined")
	case !(g.Value > 1e-18) || !(g.Value < 1e18):
		return fmt.Errorf("the value wanted must be a positive figure, not %g", g.Value)
	case !(g.Rating >= 0) || math.IsInf(g.Rating, 0):
		return fmt.Errorf("the rating wanted must be 0 (any) or a positive figure")
	case !(g.Close >= 0) || g.Close >= 1:
		return fmt.Errorf("closeness is a fraction below 1, such as 0.01")
	case g.MaxParts < 1 || g.MaxParts > 4:
		return fmt.Errorf("networks have one to four parts, not %d", g.MaxParts)
	case g.Best < 1 || g.Best > 100:
		return fmt.Errorf("ask for 1 to 100 answers, not %d", g.Best)
	case len(stock) == 0:
		return fmt.Errorf("there is nothing at hand to combine")
	}
	n := 0
	for i, s := range stock {
		if !(s.Value > 1e-18) || !(s.Value < 1e18) || !(s.Tolerance >= 0) || s.Tolerance >= 1 || !(s.Rating >= 0) || math.IsInf(s.Rating, 0) {
			return fmt.Errorf("line %d of the stock (%s) needs a positive value, a tolerance below 1 and a rating of 0 (not known) or more", i+1, s.Name)
		}
		if s.Count > 0 {
			n++
		}
	}
	if n > 50 && g.MaxParts == 4 || n > 2000 {
		return fmt.Errorf("%d different values are too many for %d parts; ask for fewer parts, or leave out values far from the one wanted", n, g.MaxParts)
	}
	return nil
}

type hit struct {
	n     *node
	step  float64
	err   float64
	key   string
	parts int
}

type search struct {
	ctx    context.Context
	stock  []Stock
	goal   Goal
	levels [4][]*node // networks of 1, 2, 3 parts, sorted by value
	best   []hit
	keys   map[string]bool
}

// list makes all networks of up to MaxParts−1 parts.
func (s *search) list() {
	for i, p := range s.stock {
		if p.Count > 0 {
			s.levels[1] = append(s.levels[1], leaf(i, p.Value))
		}
	}
	for size := 2; size < s.goal.MaxParts; size++ {
		for _, a := range s.levels[1] {
			for _, b := range s.levels[size-1] {
				for _, sum := range []bool{true, false} {
					if b.size == 1 && b.item < a.item || !ordered(a, b, sum) {
						continue // the same network in another order
					}
					if n := join(sum, a, b); s.enough(n) {
						s.levels[size] = append(s.levels[size], n)
					}
				}
			}
		}
	}
	for _, l := range s.levels {
		slices.SortStableFunc(l, func(a, b *node) int { return cmp.Compare(a.value, b.value) })
	}
}

// ordered keeps one order of a chain: a before the first leaf of b's chain.
func ordered(a, b *node, sum bool) bool {
	return b.left == nil || b.sum != sum || b.left.left != nil || a.item <= b.left.item
}

// enough reports whether the stock has the pieces.
func (s *search) enough(n *node) bool {
	var buf [4]int
	idx := n.leaves(buf[:0])
	for i, x := range idx {
		count := 0
		for _, y := range idx[:i+1] {
			if x == y {
				count++
			}
		}
		if count > s.stock[x].Count {
			return false
		}
	}
	return true
}

// run offers every network of each size that may be among the best.
func (s *search) run() error {
	for _, n := range s.levels[1] {
		s.offer(n)
	}
	for size := 2; size <= s.goal.MaxParts; size++ {
		for k := 1; k <= size/2; k++ {
			for i, a := range s.levels[k] {
				if i%256 == 0 && s.ctx.Err() != nil {
					return fmt.Errorf("the search was broken off: %w", s.ctx.Err())
				}
				s.complete(a, s.levels[size-k], true)
				s.complete(a, s.levels[size-k], false)
			}
		}
	}
	return nil
}

// complete joins a with the networks of list whose value is nearest to what is
// missing, outward until they are worse than the worst answer kept.
func (s *search) complete(a *node, list []*node, sum bool) {
	need := s.goal.Value - a.value
	if !sum {
		need = 1 / (1/s.goal.Value - 1/a.value)
		if need < 0 || math.IsInf(need, 0) {
			need = math.MaxFloat64 // even the largest leaves too little
		}
	}
	start := sort.Search(len(list), func(i int) bool { return list[i].value >= need })
	for i := start; i < len(list) && s.promising(a, list[i], sum); i++ {
		s.offer(join(sum, a, list[i]))
	}
	for i := start - 1; i >= 0 && s.promising(a, list[i], sum); i-- {
		s.offer(join(sum, a, list[i]))
	}
}

// promising reports whether the join could still enter the answers; its error
// only grows outward.
func (s *search) promising(a, b *node, sum bool) bool {
	if len(s.best) < s.goal.Best {
		return true
	}
	return s.step(s.miss(joined(sum, a.value, b.value))) <= s.best[len(s.best)-1].step
}

func (s *search) miss(v float64) float64 { return math.Abs(v/s.goal.Value - 1) }

// step is the error in steps of Close; rounding errors count as no difference.
func (s *search) step(miss float64) float64 {
	if s.goal.Close > 0 {
		return math.Floor(miss/s.goal.Close + 1e-9)
	}
	return math.Round(miss * 1e9)
}

// offer takes a network among the best if it belongs there.
func (s *search) offer(n *node) {
	err := s.miss(n.value)
	h := hit{n: n, err: err, step: s.step(err), parts: n.size}
	full := len(s.best) == s.goal.Best
	if full && !h.before(s.best[len(s.best)-1], false) || !s.enough(n) || !s.carries(n) {
		return
	}
	h.key = n.text(s.goal.Element, func(i int) string { return fmt.Sprintf("%06d", i) })
	if s.keys[h.key] || full && !h.before(s.best[len(s.best)-1], true) {
		return
	}
	at := sort.Search(len(s.best), func(i int) bool { return h.before(s.best[i], true) })
	s.best = slices.Insert(s.best, at, h)
	s.keys[h.key] = true
	if len(s.best) > s.goal.Best {
		delete(s.keys, s.best[s.goal.Best].key)
		s.best = s.best[:s.goal.Best]
	}
}

// before orders the answers; with key, ties are broken by it so that the result
// does not depend on the order of the stock's joins.
func (h hit) before(o hit, key bool) bool {
	c := cmp.Or(cmp.Compare(h.step, o.step), cmp.Compare(h.parts, o.parts), cmp.Compare(math.Round(h.err*1e9), math.Round(o.err*1e9)))
	if c == 0 {
		return !key || h.key < o.key
	}
	return c < 0
}

// carries reports whether the network bears the rating wanted at its worst corner.
func (s *search) carries(n *node) bool {
	if s.goal.Rating == 0 {
		return true
	}
	idx := n.leaves(nil)
	lo, hi := make([]float64, len(idx)), make([]float64, len(idx))
	for i, x := range idx {
		lo[i] = s.stock[x].Value * (1 - s.stock[x].Tolerance)
		hi[i] = s.stock[x].Value * (1 + s.stock[x].Tolerance)
	}
	return rating(idx, worstStress(n, s.goal.Element, lo, hi), s.stock) >= s.goal.Rating*(1-1e-9)
}
