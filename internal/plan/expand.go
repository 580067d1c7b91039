package plan

import (
	"math"
	"slices"
	"sort"
)

// How many moves are worked out at once when a node beyond the root is expanded:
// checks that tell most, checks that tell most per cost, and repairs that cure most per cost. The
// others get a lower bound, and are worked out when that turns out to be the least.
const (
	keenChecks  = 6
	keenRepairs = 8
)

// expand adds every move from the node. At the root all of them are valued by
// the base policy at the children; beyond it the keenest, and the rest by a bound.
func (p *Planner) expand(n *node) { p.expandTo(n, keenChecks, keenRepairs) }

func (p *Planner) expandTo(n *node, keenChecks, keenRepairs int) {
	n.b = p.lotOf(n)
	n.open, n.arcs = true, nil
	if pass := p.worlds.passing(n.b); pass > least {
		n.arcs = append(n.arcs, p.testArc(n, pass))
	}
	floors := map[int]float64{}
	checks, keen := p.lookOrder(n, keenChecks)
	for k, c := range checks {
		if n.from == nil || k < keen {
			n.arcs = append(n.arcs, p.checkArc(n, c))
		} else if p.bounding {
			n.arcs = append(n.arcs, p.roughArc(n, Move{Check, c}, p.tariff.check(c, n.at.access), floors))
		}
	}
	for k, r := range p.mendOrder(n) {
		if n.from == nil || k < keenRepairs {
			n.arcs = append(n.arcs, p.repairArc(n, r))
		} else if p.bounding {
			n.arcs = append(n.arcs, p.roughArc(n, Move{Repair, r}, p.tariff.repair(r, n.at.access), nil))
		}
	}
	p.settleNode(n)
}

// roughArc is a move of which only a bound is known. A check cannot do better
// than to make everything known; a repair not better than to cost nothing besides.
func (p *Planner) roughArc(n *node, m Move, l *leg, floors map[int]float64) *arc {
	a := &arc{move: m, cost: l.cost, rough: true, lower: l.cost.Total}
	a.upper.total = math.Inf(1)
	if m.Kind == Check {
		f, ok := floors[l.to]
		if !ok {
			f = p.floor(n.b, place{access: l.to, done: n.at.done})
			floors[l.to] = f
		}
		a.lower += f
	}
	return a
}

// workOut replaces a rough arc of n by the real one.
func (p *Planner) workOut(n *node, a *arc) {
	if a.move.Kind == Check {
		*a = *p.checkArc(n, a.move.Index)
	} else {
		*a = *p.repairArc(n, a.move.Index)
	}
}

// lookOrder lists the checks that would tell something, and how many at the head
// of the list are keen: they tell most, or most for what they cost.
func (p *Planner) lookOrder(n *node, keenChecks int) (checks []int, keen int) {
	tells := map[int]float64{}
	for c := range p.tariff.m.Checks {
		if p.barredCheck[c] == "" && !n.at.asked.has(c) && len(p.worlds.checks[c].results) > 0 {
			if t := p.worlds.telling(n.b, c); t > 1e-9 {
				tells[c] = t
				checks = append(checks, c)
			}
		}
	}
	if n.from == nil || len(checks) <= keenChecks {
		return checks, len(checks)
	}
	byTelling, byCost := slices.Clone(checks), slices.Clone(checks)
	sort.SliceStable(byTelling, func(i, j int) bool { return tells[byTelling[i]] > tells[byTelling[j]] })
	perCost := func(c int) float64 { return tells[c] / (p.tariff.check(c, n.at.access).cost.Total + tiny) }
	sort.SliceStable(byCost, func(i, j int) bool { return perCost(byCost[i]) > perCost(byCost[j]) })
	head := newBits(len(p.tariff.m.Checks))
	for k := range keenChecks {
		head.set(byTelling[k])
		head.set(byCost[k])
	}
	sort.SliceStable(checks, func(i, j int) bool { return head.has(checks[i]) && !head.has(checks[j]) })
	for keen < len(checks) && head.has(checks[keen]) {
		keen++
	}
	return checks, keen
}

// mendOrder lists the repairs worth a thought, those that bring it nearest for what they cost first.
func (p *Planner) mendOrder(n *node) []int {
	out := p.helping(n.b, n.at)
	if n.from == nil {
		return out
	}
	ratio := map[int]float64{}
	for _, r := range out { // p.buffer still holds how near they bring it
		ratio[r] = p.buffer[r] / (p.tariff.repair(r, n.at.access).cost.Total + tiny)
	}
	sort.SliceStable(out, func(i, j int) bool { return ratio[out[i]] > ratio[out[j]] })
	return out
}

// helping lists the repairs worth a thought: those that bring it nearer to passing the test.
func (p *Planner) helping(b lot, at place) []int {
	nearer := p.progress(b, p.buffer)
	var out []int
	for _, r := range p.useful {
		if !at.done.has(r) && nearer[r] > least && p.affordable(r, at.spent) {
			out = append(out, r)
		}
	}
	return out
}

func (p *Planner) testArc(n *node, pass float64) *arc {
	l := p.tariff.test(n.at.access)
	a := &arc{move: Move{Test, -1}, cost: l.cost}
	shut := p.tariff.closing(l.to)
	sound := estimate{total: p.tariff.time(shut), minutes: shut, success: 1, first: Move{Stop, -1}}
	a.next = append(a.next, branch{pass, 1, &node{at: place{access: l.to}, upper: sound, lower: sound.total, open: true, end: true, depth: n.depth + 1}})
	if pass < 1-1e-12 {
		at := place{access: l.to, spent: n.at.spent, done: n.at.done, asked: n.at.asked}
		a.next = append(a.next, branch{1 - pass, 0, p.child(p.worlds.failed(n.b), at, n, a.move, 0)})
	}
	return p.settleArc(a)
}

// checkArc is a check and what follows each of its results.
func (p *Planner) checkArc(n *node, c int) *arc {
	l := p.tariff.check(c, n.at.access)
	a := &arc{move: Move{Check, c}, cost: l.cost}
	chances := p.worlds.chances(n.b, c)
	at := place{access: l.to, spent: n.at.spent, done: n.at.done, asked: n.at.asked.with(c)}
	for r, pr := range chances {
		if pr > 1e-9 {
			a.next = append(a.next, branch{pr, r, p.child(p.worlds.learnt(n.b, c, r), at, n, a.move, r)})
		}
	}
	return p.settleArc(a)
}

func (p *Planner) repairArc(n *node, r int) *arc {
	l := p.tariff.repair(r, n.at.access)
	a := &arc{move: Move{Repair, r}, cost: l.cost}
	at := place{access: l.to, spent: n.at.spent + l.cost.Money, done: n.at.done.with(r), asked: n.at.asked}
	a.next = []branch{{1, 0, p.child(p.worlds.repair(n.b, r), at, n, a.move, 0)}}
	return p.settleArc(a)
}
