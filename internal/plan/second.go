package plan

import (
	"cmp"
	"slices"
)

// The one-step look-ahead follows every first move by the base policy. What the base
// policy itself would do first then gains nothing by being done first, so anything
// that tells a little would go before it: a string of small checks before the telling one,
// a measurement before a test that most likely ends it all, a check before a repair that
// follows whatever the check says. So the two moves that may wrongly come second are
// looked one step further: what the base policy would do first, and what most
// results of the best move call for next. Being looked further can only lower what
// they are known to cost, and what is reached is reached by a policy, so the bound stays a bound.

const (
	secondTurns = 3    // how many moves are looked further at most
	secondShare = 0.05 // results less likely than this are not
	secondChain = 4    // repairs made on one visit that are followed to their test

	// How many moves are worked out there, as keenChecks and keenRepairs.
	secondChecks   = 2
	secondRepairs  = 3
	secondFavoured = 4 // and so many of those that cost least before
)

// think decides a place: the one-step look-ahead, and one step further where it matters.
func (p *Planner) think(n *node) {
	if n.end {
		return
	}
	if !n.open || n.peeked {
		p.expand(n)
		n.peeked = false
	}
	tried := make([]Move, 0, secondTurns+bareTurns+1)
	for _, m := range []func(*node) Move{p.basic, p.calledFor, p.calledFor} {
		if !p.lookInto(n, p.workedOut(n, m(n)), &tried) {
			break
		}
	}
	if n.from == nil {
		p.alike(n, &tried)
		p.lookInto(n, p.workedOut(n, p.calledFor(n)), &tried)
	}
}

// lookInto looks one step further along an arc that is not the best; it reports false if that was done before.
func (p *Planner) lookInto(n *node, a *arc, tried *[]Move) bool {
	if a == nil || a == p.chosen(n) {
		return true
	}
	if slices.Contains(*tried, a.move) {
		return false
	}
	*tried = append(*tried, a.move)
	p.further(a, p.favoured(n))
	p.settleNode(n)
	return true
}

// bareTurns is how many looks that take no more than eyes, nose, ears and hands are looked further.
const bareTurns = 2

// alike looks as far after the looks that a careful repairer would rather make first as after the best
// move, so that they can be compared with it (careful.go). It reports whether one of them comes out best.
func (p *Planner) alike(n *node, tried *[]Move) bool {
	best := p.chosen(n)
	if best == nil || best.move.Kind == Check && bare(p.e.Model(), best.move.Index) {
		return false
	}
	var looks []*arc
	for _, a := range n.arcs {
		if a.move.Kind == Check && !a.rough && bare(p.e.Model(), a.move.Index) && a.cost.Access == 0 && a.cost.Minutes <= senseCheap {
			looks = append(looks, a)
		}
	}
	slices.SortStableFunc(looks, func(a, b *arc) int { return cmp.Compare(a.upper.total, b.upper.total) })
	for _, a := range looks[:min(bareTurns, len(looks))] {
		p.lookInto(n, a, tried)
	}
	return p.chosen(n) != best
}

const (
	foreseen      = 2    // likely results of the chosen move that are thought about
	foreseenShare = 0.25 // and how likely they must be
)

// foresee thinks about the likely results of the chosen repair or test as they will be thought
// about when they come, so that what is announced to follow is what will be advised.
func (p *Planner) foresee(n *node) {
	a := p.liked(n)
	if a == nil || a.move.Kind == Check { // after a look the belief is another, and the advice is asked for anew
		return
	}
	next := slices.Clone(a.next)
	slices.SortStableFunc(next, func(x, y branch) int { return cmp.Compare(y.p, x.p) })
	for _, x := range next[:min(foreseen, len(next))] {
		if x.p >= foreseenShare {
			p.think(x.n)
		}
	}
	p.settleNode(n)
}

// basic is what the base policy does first.
func (p *Planner) basic(n *node) Move { return p.base(n.b, n.at).first }

// calledFor is what most results of the best move call for next.
func (p *Planner) calledFor(n *node) Move {
	a := p.chosen(n)
	if a == nil {
		return Move{Stop, -1}
	}
	share := map[Move]float64{}
	best := Move{Stop, -1}
	for _, x := range a.next {
		m := x.n.upper.first
		if share[m] += x.p; share[m] > share[best] || best.Kind == Stop {
			best = m
		}
	}
	if share[best] < 0.5 {
		return Move{Stop, -1}
	}
	return best
}

// arc is the arc of a move, nil if the node has none or it is not worked out.
func (n *node) arc(m Move) *arc {
	if a := n.any(m); a != nil && !a.rough {
		return a
	}
	return nil
}

// any is the arc of a move, worked out or not; nil if the node has none.
func (n *node) any(m Move) *arc {
	for _, a := range n.arcs {
		if a.move == m {
			return a
		}
	}
	return nil
}

// favoured are the moves from n that cost least in all: what would come first if it were not for
// the move looked further, and so what to look at after it.
func (p *Planner) favoured(n *node) []Move {
	var best [secondFavoured]*arc
	for _, a := range n.arcs {
		if a.rough || a.move.Kind == Test {
			continue
		}
		for i := range best {
			if best[i] == nil || a.upper.total < best[i].upper.total {
				copy(best[i+1:], best[i:])
				best[i] = a
				break
			}
		}
	}
	var out []Move
	for _, a := range best {
		if a != nil {
			out = append(out, a.move)
		}
	}
	return out
}

// further looks one step further along an arc: through repairs to the test that
// follows them, and into every likely result.
func (p *Planner) further(a *arc, favoured []Move) {
	path := []*arc{a}
	for a.move.Kind == Repair && len(path) < secondChain {
		n := a.next[0].n
		p.peek(n, favoured)
		if a = p.chosen(n); a == nil {
			break
		}
		path = append(path, a)
	}
	for k := len(path) - 1; k >= 0; k-- {
		for _, x := range path[k].next {
			if x.p >= secondShare {
				p.peek(x.n, favoured)
			}
			if k < len(path)-1 {
				p.settleNode(x.n)
			}
		}
		p.settleArc(path[k])
	}
}

// peek expands a node if it is not, with the few keenest moves and the favoured ones.
func (p *Planner) peek(n *node, favoured []Move) {
	if n.open {
		return
	}
	p.expandTo(n, secondChecks, secondRepairs)
	n.peeked = true
	for _, m := range favoured {
		p.workedOut(n, m)
	}
	p.settleNode(n)
}

// workedOut is the arc of a move from an open node, worked out if it was not; nil if it cannot be made or tells nothing.
func (p *Planner) workedOut(n *node, m Move) *arc {
	a := n.any(m)
	switch {
	case a != nil && a.rough:
		p.workOut(n, a)
	case a != nil:
	case m.Kind == Check && !n.at.asked.has(m.Index) && p.worlds.telling(n.b, m.Index) > 1e-9:
		a = p.checkArc(n, m.Index)
		n.arcs = append(n.arcs, a)
	case m.Kind == Repair && slices.Contains(p.helping(n.b, n.at), m.Index):
		a = p.repairArc(n, m.Index)
		n.arcs = append(n.arcs, a)
	}
	return a
}
