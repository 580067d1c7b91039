package plan

import (
	"fmt"
	"math"
)

// A habit decides what to do at a place, nil to stop.
type habit struct {
	name string
	next func(x *bout) *arc
}

// habits are the advice and what it is measured against. All of them believe by the
// same rules, stop a repair that costs more than it can be expected to save, and
// replace by the same order when they have done looking.
func habits() []habit {
	return []habit{{"advice", advised}, {"p/c order", pcOrder}, {"checklist", checklist}, {"most telling check", mostTelling}, {"swap the board", swapBoard}}
}

// advised follows the advice at once.
func advised(x *bout) *arc {
	x.p.think(x.n)
	return x.p.chosen(x.n)
}

// tried is the test of the whole if a repair waits for it, else nil.
func tried(x *bout) *arc {
	x.n.b = x.p.lotOf(x.n)
	if pass := x.p.worlds.passing(x.n.b); pass > least {
		return x.p.testArc(x.n, pass)
	}
	return nil
}

// pcOrder makes repairs by falling chance of a cure per cost, the test included, and
// tries the whole after each: Kadane and Simon's order. It makes no checks, and
// stops when no repair saves more than it costs.
func pcOrder(x *bout) *arc { return replace(x, func(int) bool { return true }) }

func replace(x *bout, may func(r int) bool) *arc {
	if a := tried(x); a != nil {
		return a
	}
	p := x.p
	cures := p.cures(x.n.b, make([]float64, len(p.buffer)))
	best, ratio := -1, 0.0
	for _, r := range p.helping(x.n.b, x.n.at) {
		l := p.tariff.repair(r, x.n.at.access)
		if q := cures[r] / (l.cost.Total + p.tariff.test(l.to).cost.Total); may(r) && q > ratio {
			best, ratio = r, q
		}
	}
	if best < 0 || ratio*p.tariff.loss() < 1 {
		return nil
	}
	return p.repairArc(x.n, best)
}

// sure is from which chance of one suspect on a habit stops looking and replaces.
const sure = 0.8

// looking reports whether a habit that looks first goes on looking.
func looking(x *bout) bool {
	return x.p.worlds.passing(x.n.b) <= least && first(x.p.tops(x.n.b, 1)).P < sure && x.spent.Total < x.p.tariff.loss()
}

// checklist makes the checks in the order of the note until one suspect has four in five, and then replaces.
func checklist(x *bout) *arc {
	x.n.b = x.p.lotOf(x.n)
	if looking(x) {
		for c := range x.p.tariff.m.Checks {
			if x.open(c) {
				return x.p.checkArc(x.n, c)
			}
		}
	}
	return pcOrder(x)
}

// open tells whether check c is still to be made.
func (x *bout) open(c int) bool {
	return x.p.barredCheck[c] == "" && !x.n.at.asked.has(c) && len(x.p.worlds.checks[c].results) > 0
}

// mostTelling makes the check with the most information per cost, until one suspect has four in five
// or no check tells a twentieth of a bit, and then replaces.
func mostTelling(x *bout) *arc {
	p := x.p
	x.n.b = p.lotOf(x.n)
	if looking(x) {
		best, score := -1, 0.0
		for c := range p.tariff.m.Checks {
			if !x.open(c) {
				continue
			}
			if info := p.entropy(x.n.b, c); info > 0.05*math.Ln2 {
				if q := info / (p.tariff.check(c, x.n.at.access).cost.Total + tiny); q > score {
					best, score = c, q
				}
			}
		}
		if best >= 0 {
			return p.checkArc(x.n, best)
		}
	}
	return pcOrder(x)
}

// entropy is how much the result of check c tells about what is wrong, in nats.
func (p *Planner) entropy(b lot, c int) float64 {
	inner := 0.0
	for k, id := range b.ids {
		for _, q := range p.worlds.tells(id, c) {
			inner += b.w[k] * plogp(q)
		}
	}
	for _, q := range p.worlds.chances(b, c) {
		inner -= plogp(q)
	}
	return inner
}

// swapBoard replaces whole blocks where the note has them, the likeliest per cost first, and
// goes on with part repairs where it has none.
func swapBoard(x *bout) *arc {
	if a := replace(x, func(r int) bool { return x.p.tariff.m.Repairs[r].Whole }); a != nil {
		return a
	}
	return pcOrder(x)
}

// A score is what a habit came to over many bouts.
type score struct {
	fixed, money, minutes, total float64
	n                            int
}

func (s *score) add(l Leaf, loss float64) float64 {
	total := l.Total
	s.n++
	s.money += l.Money
	s.minutes += l.Minutes
	if l.Works {
		s.fixed++
	} else {
		total += loss
	}
	s.total += total
	return total
}

func (s score) String() string {
	n := float64(s.n)
	return fmt.Sprintf("%3.0f %% | %5.2f | %3.0f | %6.2f", 100*s.fixed/n, s.money/n, s.minutes/n, s.total/n)
}
