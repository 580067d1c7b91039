package plan

import (
	"context"
	"math"
)

// A node of the search: a belief at a place, with bounds on the least expected cost from there.
type node struct {
	b     lot
	at    place
	upper estimate // a policy that achieves this is known
	lower float64  // no policy does better
	arcs  []*arc   // nil until expanded
	open  bool
	depth int
}

// An arc is one move from a node.
type arc struct {
	move  Move
	cost  Cost
	next  []branch
	upper estimate
	lower float64
}

type branch struct {
	p      float64
	result int // check: index of the result; test: 1 works
	n      *node
}

func (p *Planner) node(b lot, at place, depth int) *node {
	n := &node{b: b, at: at, depth: depth}
	n.upper = p.base(b, at)
	n.lower = math.Min(p.floor(b), n.upper.total)
	return n
}

// expand adds every move from the node, each child valued by the base policy.
func (p *Planner) expand(n *node) {
	n.open = true
	if n.at.pending {
		n.arcs = append(n.arcs, p.testArc(n))
	}
	for c := range p.tariff.m.Checks {
		if p.barredCheck[c] == "" && !n.at.asked.has(c) && len(p.worlds.checks[c].results) > 0 {
			if a := p.checkArc(n, c); a != nil {
				n.arcs = append(n.arcs, a)
			}
		}
	}
	cures := p.cures(n.b, make([]float64, len(p.buffer)))
	idle := p.worlds.passing(n.b)
	for _, r := range p.useful {
		if !n.at.done.has(r) && cures[r]-idle > least && p.affordable(r, n.at.spent) {
			n.arcs = append(n.arcs, p.repairArc(n, r))
		}
	}
	p.settleNode(n)
}

func (p *Planner) testArc(n *node) *arc {
	a := &arc{move: Move{Test, -1}}
	var to int
	a.cost, to = p.tariff.test(n.at.access)
	pass := p.worlds.passing(n.b)
	if pass > 0 {
		shut := p.tariff.closing(to)
		end := estimate{total: p.tariff.time(shut), minutes: shut, success: 1, first: Move{Stop, -1}}
		works := &node{at: place{access: to}, upper: end, lower: end.total, open: true, depth: n.depth + 1}
		a.next = append(a.next, branch{pass, 1, works})
	}
	if pass < 1 {
		at := place{access: to, spent: n.at.spent, done: n.at.done, asked: n.at.asked}
		a.next = append(a.next, branch{1 - pass, 0, p.node(p.worlds.failed(n.b), at, n.depth+1)})
	}
	return p.settleArc(a)
}

// checkArc returns nil if the check would tell nothing.
func (p *Planner) checkArc(n *node, c int) *arc {
	a := &arc{move: Move{Check, c}}
	var to int
	a.cost, to = p.tariff.check(c, n.at.access)
	at := place{access: to, pending: n.at.pending, spent: n.at.spent, done: n.at.done, asked: n.at.asked.with(c)}
	tells := false
	for r := range p.worlds.checks[c].results {
		pr := p.worlds.chance(n.b, c, r)
		if pr < 1e-9 {
			continue
		}
		b := p.worlds.learnt(n.b, c, r)
		tells = tells || moved(n.b, b)
		a.next = append(a.next, branch{pr, r, &node{b: b, at: at, depth: n.depth + 1}})
	}
	if !tells {
		return nil
	}
	for i := range a.next {
		k := a.next[i].n
		a.next[i].n = p.node(k.b, k.at, k.depth)
	}
	return p.settleArc(a)
}

// moved tells whether two lots over the same worlds differ.
func moved(a, b lot) bool {
	if len(a.ids) != len(b.ids) {
		return true
	}
	for k := range a.w {
		if math.Abs(a.w[k]-b.w[k]) > 1e-6 {
			return true
		}
	}
	return false
}

func (p *Planner) repairArc(n *node, r int) *arc {
	a := &arc{move: Move{Repair, r}}
	var to int
	a.cost, to = p.tariff.repair(r, n.at.access)
	at := place{access: to, pending: true, spent: n.at.spent + a.cost.Money, done: n.at.done.with(r), asked: n.at.asked}
	a.next = []branch{{1, 0, p.node(p.worlds.repair(n.b, r), at, n.depth+1)}}
	return p.settleArc(a)
}

// settleArc backs bounds up from the children of an arc.
func (p *Planner) settleArc(a *arc) *arc {
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

// refine expands leaves, the most promising first, until the root's bounds meet,
// the number of expansions is used up, or ctx ends. It returns how many it made.
func (p *Planner) refine(ctx context.Context, root *node, expansions int) int {
	made := 0
	for made < expansions && ctx.Err() == nil && root.upper.total-root.lower > 1e-9 {
		path, ok := p.descend(root)
		if !ok {
			break
		}
		p.expand(path[len(path)-1].n)
		made++
		for k := len(path) - 2; k >= 0; k-- {
			p.settleArc(path[k].a)
			p.settleNode(path[k].n)
		}
	}
	return made
}

type hop struct {
	n *node
	a *arc
}

// descend walks from the root along the arc with the least lower bound, into the
// branch that leaves most in doubt, to a node not expanded yet.
func (p *Planner) descend(root *node) ([]hop, bool) {
	var path []hop
	n := root
	for n.open {
		a := p.promising(n)
		if a == nil {
			return nil, false
		}
		path = append(path, hop{n, a})
		var next *node
		doubt := 0.0
		for _, x := range a.next {
			if d := x.p * (x.n.upper.total - x.n.lower); d > doubt {
				doubt, next = d, x.n
			}
		}
		if next == nil {
			return nil, false
		}
		n = next
	}
	return append(path, hop{n: n}), true
}

// promising is the arc that may turn out best: least lower bound among those
// that could still beat what is known.
func (p *Planner) promising(n *node) *arc {
	var best *arc
	for _, a := range n.arcs {
		if a.lower < n.upper.total-1e-12 && a.upper.total-a.lower > 1e-12 && (best == nil || a.lower < best.lower) {
			best = a
		}
	}
	return best
}
