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

// habits are the advice and what it is measured against: first the four, which go on until it
// works, nothing is left to try or the device's worth is spent; then three of them made
// sharper, which no habit is: they stop where going on costs more than it saves, by the
// chances that the advice itself goes by; last the cheapest move where another is shown. All believe by the same rules.
func habits() []habit {
	plain, stops := manner{}, manner{stops: true}
	return []habit{{"advice", advised},
		{"p/c order", plain.replacing}, {"checklist", plain.listing}, {"information gain", plain.telling}, {"swap the board", plain.swapping},
		{"p/c order that stops", stops.replacing}, {"information gain that stops", stops.telling},
		{"information per cost that stops", manner{stops: true, perCost: true}.telling},
		{"cheapest move", cheapest}}
}

// cheapest makes the move that comes out cheapest, also where a careful one is shown (Prefer).
func cheapest(x *bout) *arc {
	x.p.think(x.n)
	return x.p.chosen(x.n)
}

// A manner is how sharp a habit is.
type manner struct {
	stops   bool // where going on costs more than it saves
	perCost bool // information is divided by what the check costs from here
}

// advised follows the advice at once, as it is shown.
func advised(x *bout) *arc {
	x.p.think(x.n)
	return x.p.liked(x.n)
}

// tried is the test of the whole if a repair waits for it, else nil.
func tried(x *bout) *arc {
	x.n.b = x.p.lotOf(x.n)
	if pass := x.p.worlds.passing(x.n.b); pass > least {
		return x.p.testArc(x.n, pass)
	}
	return nil
}

// replacing makes repairs by falling chance of a cure per cost, the test included, and
// tries the whole after each: Kadane and Simon's order. It makes no checks.
func (h manner) replacing(x *bout) *arc { return h.replace(x, func(int) bool { return true }) }

func (h manner) replace(x *bout, may func(r int) bool) *arc {
	if a := tried(x); a != nil {
		return a
	}
	p := x.p
	cures := p.cures(x.n.b, make([]float64, len(p.buffer)))
	best, ratio, price := -1, 0.0, 0.0
	for _, r := range p.helping(x.n.b, x.n.at) {
		l := p.tariff.repair(r, x.n.at.access)
		c := l.cost.Total + p.tariff.test(l.to).cost.Total
		if q := cures[r] / c; may(r) && q > ratio {
			best, ratio, price = r, q, c
		}
	}
	if best < 0 || h.stops && ratio*p.tariff.loss() < 1 || x.spent.Total+price >= p.tariff.loss() {
		return nil
	}
	return p.repairArc(x.n, best)
}

// sure is from which chance of one suspect on a habit stops looking and replaces.
const sure = 0.8

// looking reports whether a habit that looks first goes on looking.
func looking(x *bout) bool {
	return x.p.worlds.passing(x.n.b) <= least && first(x.p.tops(x.n.b, 1)).P < sure
}

// open tells whether check c is still to be made, and the worth of the device not spent by it.
func (x *bout) open(c int) bool {
	p := x.p
	return p.barredCheck[c] == "" && !x.n.at.asked.has(c) && len(p.worlds.checks[c].results) > 0 &&
		x.spent.Total+p.tariff.check(c, x.n.at.access).cost.Total < p.tariff.loss()
}

// listing makes the checks in the order of the note until one suspect has four in five, and then replaces.
func (h manner) listing(x *bout) *arc {
	x.n.b = x.p.lotOf(x.n)
	if looking(x) {
		for c := range x.p.tariff.m.Checks {
			if x.open(c) {
				return x.p.checkArc(x.n, c)
			}
		}
	}
	return h.replacing(x)
}

// telling makes the check with the most information, until one suspect has four in five
// or no check tells a twentieth of a bit, and then replaces.
func (h manner) telling(x *bout) *arc {
	x.n.b = x.p.lotOf(x.n)
	if looking(x) {
		best, score := -1, 0.0
		for c := range x.p.tariff.m.Checks {
			if !x.open(c) {
				continue
			}
			price := 1.0
			if h.perCost {
				price = x.p.tariff.check(c, x.n.at.access).cost.Total + tiny
			}
			if info := x.p.entropy(x.n.b, c); info > 0.05*math.Ln2 && info/price > score {
				best, score = c, info/price
			}
		}
		if best >= 0 {
			return x.p.checkArc(x.n, best)
		}
	}
	return h.replacing(x)
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

// swapping replaces whole blocks where the note has them, the likeliest per cost first, and
// goes on with part repairs where it has none.
func (h manner) swapping(x *bout) *arc {
	if a := h.replace(x, func(r int) bool { return x.p.tariff.m.Repairs[r].Whole }); a != nil {
		return a
	}
	return h.replacing(x)
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
