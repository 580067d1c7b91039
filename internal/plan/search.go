package plan

import (
	"context"
	"math"
)

// A node of the search: a belief at a place, with bounds on the least expected
// cost from there. Situations reached in two ways are one node.
type node struct {
	b     lot // dropped while the node is closed: see Planner.lotOf
	at    place
	upper estimate // a policy that achieves this is known
	lower float64  // no policy does better
	arcs  []*arc   // nil until expanded
	open  bool
	end   bool // it works: nothing is left to do but to close it
	depth int

	peeked bool // open, but with few of its moves

	from *node // how it was first reached, to get its belief again
	via  Move
	way  int
}

// An arc is one move from a node.
type arc struct {
	move  Move
	cost  Cost
	next  []branch
	upper estimate
	lower float64
	rough bool // not worked out yet: only its lower bound is known
	turns int  // how often the search went this way
}

type branch struct {
	p      float64
	result int // check: index of the result; test: 1 works
	n      *node
}

// child returns the node for a belief at a place, the one there is if it was met before.
func (p *Planner) child(b lot, at place, from *node, via Move, way int) *node {
	k := p.near(b, at)
	if n, ok := p.met[k]; ok {
		return n
	}
	n := p.node(b, at, from.depth+1)
	n.b, n.from, n.via, n.way = lot{}, from, via, way
	p.met[k] = n
	return n
}

func (p *Planner) node(b lot, at place, depth int) *node {
	n := &node{b: b, at: at, depth: depth}
	n.upper = p.base(b, at)
	if p.bounding {
		n.lower = math.Min(p.floor(b, at), n.upper.total)
	}
	return n
}

// lotOf is the belief at a node, worked out again if it is not kept.
func (p *Planner) lotOf(n *node) lot {
	if n.b.ids != nil || n.end {
		return n.b
	}
	b := p.lotOf(n.from)
	switch n.via.Kind {
	case Check:
		return p.worlds.learnt(b, n.via.Index, n.way)
	case Repair:
		return p.worlds.repair(b, n.via.Index)
	default:
		return p.worlds.failed(b)
	}
}

// settleArc backs bounds up from the children of an arc.
func (p *Planner) settleArc(a *arc) *arc {
	if a.rough {
		return a
	}
	a.upper = estimate{total: a.cost.Total, money: a.cost.Money, minutes: a.cost.Minutes + a.cost.Access, first: a.move}
	a.lower = a.cost.Total
	for _, x := range a.next {
		a.upper.total += x.p * x.n.upper.total
		a.upper.money += x.p * x.n.upper.money
		a.upper.minutes += x.p * x.n.upper.minutes
		a.upper.success += x.p * x.n.upper.success
		a.lower += x.p * x.n.lower
	}
	return a
}

// settleNode backs bounds up from the arcs of a node. Where the base policy is
// as good as any arc found so far, its value stands: it is a policy too.
func (p *Planner) settleNode(n *node) {
	low := p.tariff.loss()
	for _, a := range n.arcs {
		if a.upper.total < n.upper.total-1e-12 {
			n.upper = a.upper
		}
		low = math.Min(low, a.lower)
	}
	n.lower = math.Min(math.Max(n.lower, low), n.upper.total)
}

// refine expands leaves, the most promising first, until the root's bounds are
// within gap, the number of expansions is used up (below 0: no number), or ctx
// ends. It returns how many it made.
func (p *Planner) refine(ctx context.Context, root *node, effort Effort) int {
	made, idle := 0, 0
	for turn := 0; made != effort.Expansions && idle < kinds && ctx.Err() == nil; turn++ {
		if root.upper.total-root.lower <= math.Max(effort.Gap, 1e-9) {
			break
		}
		path, rough := p.descend(root, turn)
		leaf := path[len(path)-1]
		switch {
		case rough != nil:
			p.workOut(leaf, rough)
		case !leaf.open:
			p.expand(leaf)
		default: // closed meanwhile on another way here
			if !p.back(path) {
				idle++
			}
			continue
		}
		made, idle = made+1, 0
		p.back(path)
	}
	return made
}

// back brings the bounds along a path up to date, deepest first, and tells whether any moved.
func (p *Planner) back(path []*node) bool {
	moved := false
	for k := len(path) - 1; k >= 0; k-- {
		n := path[k]
		if !n.open || n.end {
			continue
		}
		low, up := n.lower, n.upper.total
		p.settle(n)
		moved = moved || n.lower != low || n.upper.total != up
	}
	return moved
}

// settle brings the bounds of an open node up to date with those of its children.
func (p *Planner) settle(n *node) {
	for _, a := range n.arcs {
		p.settleArc(a)
	}
	p.settleNode(n)
}

// descend walks from the root along the arc that may turn out best into the
// branch that leaves most in doubt, down to a node not expanded yet or a move
// not worked out yet.
func (p *Planner) descend(root *node, turn int) ([]*node, *arc) {
	path := []*node{root}
	n := root
	for n.open && !n.end {
		p.settle(n)
		a := promising(n, turn)
		if a == nil {
			break
		}
		a.turns++
		if a.rough {
			return path, a
		}
		doubt := -1.0
		var next *node
		for _, x := range a.next {
			if d := x.p * (x.n.upper.total - x.n.lower); d > doubt {
				doubt, next = d, x.n
			}
		}
		n = next
		path = append(path, n)
	}
	return path, nil
}

// kinds is the number of turns after which the search has looked for all it
// looks for: one in four goes after the least lower bound, to close the bounds; the others after
// the least upper bound, to make the plan better, each arc with some credit for
// its doubt until it has been looked into.
const kinds = 4

// credit is how much of its doubt is taken off an arc never looked into.
const credit = 0.6

// promising is the arc to look into of those that could still beat what is known.
func promising(n *node, turn int) *arc {
	var best *arc
	score := math.Inf(1)
	for _, a := range n.arcs {
		if a.lower >= n.upper.total-1e-12 || a.upper.total-a.lower <= 1e-12 {
			continue
		}
		v := a.lower
		if turn%kinds != 0 {
			up := math.Min(a.upper.total, n.upper.total+(n.upper.total-a.lower)/2) // a rough arc has none
			v = up - credit*(up-a.lower)/math.Sqrt(1+float64(a.turns))
		}
		if v < score {
			best, score = a, v
		}
	}
	return best
}
