package plan

import (
	"math"
)

// An estimate is what following some policy from a node is expected to take.
type estimate struct {
	total   float64 // all costs in money, the loss of a device not repaired included
	money   float64
	minutes float64
	success float64
	first   Move // what the policy does first
}

// A round of the base policy: a batch of repairs, then the test of the whole.
type round struct {
	repairs []int
	total   float64
	money   float64
	minutes float64
	days    float64
	passes  float64
}

// worthwhile is how many of the rounds are worth going into: from there on
// stopping is better.
func (p *Planner) worthwhile(rounds []round) int {
	loss := p.tariff.loss()
	value, n := loss, len(rounds)
	for k := len(rounds) - 1; k >= 0; k-- {
		value = rounds[k].total + (1-rounds[k].passes)*value
		if value >= loss-1e-9 {
			value, n = loss, k
		}
	}
	return n
}

// mostRounds, mostBatch and mostPrefix bound the base policy. After ten rounds of repairs
// what is left of the belief is the unknown fault.
const (
	mostRounds = 10
	mostBatch  = 5
	mostPrefix = 12
)

// place is where a policy stands, apart from its belief.
type place struct {
	access  int
	pending bool // a repair was made and the whole not tested since
	spent   float64
	done    bits // repairs made on the way here
	asked   bits // checks made on the way here
}

// base evaluates the base policy V₀ from a node: rounds of repairs by falling
// probability per cost, each followed by the test of the whole, no checks, and
// stopping wherever going on costs more than the loss.
//
// A round starts with the repair at the head of the most efficient prefix over
// all access levels (an unopened cover competes by its best prefix, as in
// Ottosen & Jensen's bottom-up P-over-C), and takes in further repairs before
// the test as long as doing them now costs less than testing first and coming
// back for them when the test fails (the postponed system test).
func (p *Planner) base(b lot, at place) estimate {
	rounds := p.rounds(b, at)
	best := p.stop()
	for k := len(rounds) - 1; k >= 0; k-- {
		r := rounds[k]
		left := 1 - r.passes
		e := estimate{
			total:   r.total + left*best.total,
			money:   r.money + left*best.money,
			minutes: r.minutes + left*best.minutes,
			success: r.passes + left*best.success,
			first:   Move{Test, -1},
		}
		if len(r.repairs) > 0 {
			e.first = Move{Repair, r.repairs[0]}
		}
		if s := p.stop(); s.total < e.total {
			e = s
		}
		best = e
	}
	return best
}

func (p *Planner) stop() estimate {
	return estimate{total: p.tariff.loss(), first: Move{Stop, -1}}
}

// rounds lays out the base policy's sequence along the path on which every test fails.
func (p *Planner) rounds(b lot, at place) []round {
	var out []round
	used := at.done.clone()
	for range mostRounds {
		r, next, where, ok := p.round(b, at, used)
		if !ok {
			break
		}
		out = append(out, r)
		if r.passes > 1-1e-9 {
			break
		}
		b = p.worlds.failed(next)
		at = place{access: where, spent: at.spent + r.money}
	}
	return out
}

// round chooses one batch and its test. It reports false when nothing helps any more.
func (p *Planner) round(b lot, at place, used bits) (r round, next lot, where int, ok bool) {
	where = at.access
	take := func(rep int) {
		c, to := p.tariff.repair(rep, where)
		where = to
		used.set(rep)
		b = p.worlds.repair(b, rep)
		r.repairs = append(r.repairs, rep)
		r.total += c.Total
		r.money += c.Money
		r.minutes += c.Minutes + c.Access
		r.days += c.Days
	}
	if !at.pending {
		rep, found := p.head(b, where, at.spent, used)
		if !found {
			return r, b, where, false
		}
		take(rep)
	}
	for len(r.repairs) < mostBatch {
		rep, found := p.also(b, where, at.spent+r.money, used)
		if !found {
			break
		}
		take(rep)
	}
	r.passes = p.worlds.passing(b)
	c, to := p.tariff.test(where)
	closing := r.passes * p.tariff.closing(to)
	r.total += c.Total + p.tariff.time(closing)
	r.minutes += c.Minutes + c.Access + closing
	return r, b, to, true
}

// least is the chance of a cure below which a repair is not worth a thought.
const least = 1e-4

// head returns the first repair of the most efficient prefix.
func (p *Planner) head(b lot, where int, spent float64, used bits) (int, bool) {
	cures := p.cures(b, p.buffer)
	best, rep := 0.0, -1
	for a := range p.tariff.m.Access {
		if r, eff := p.prefix(cures, a, where, spent, used); r >= 0 && eff > best {
			best, rep = eff, r
		}
	}
	return rep, best*p.tariff.loss() > hopeless
}

// hopeless is how little a run of repairs may save per cost before the base policy
// gives up. Below 1 it does not pay by itself; a little below, what is learnt
// from its failure may still make the next one pay.
const hopeless = 0.7

// prefix is the most efficient run of repairs at access a, each followed by its
// test, and its efficiency Σp/(K+Σc): the chance that the run cures, by the way
// there and the full costs. (With ECR = Σ c_i·(1-Σ_{j<i} p_j) two neighbouring
// runs are in the right order when these ratios fall; dividing by the expected
// cost of the run instead, as is sometimes written, can put a run too early.)
// Within a run the order is by probability per cost, the way there being shared.
func (p *Planner) prefix(cures []float64, a, where int, spent float64, used bits) (first int, best float64) {
	first = -1
	cure, cost, skip, at := 0.0, 0.0, used.clone(), where
	for range mostPrefix {
		rep, ratio := -1, 0.0
		for _, r := range p.byAccess[a] {
			if skip.has(r) || cures[r] < least || !p.affordable(r, spent) {
				continue
			}
			k, _ := p.tariff.repair(r, a)
			if q := cures[r] / (k.Total + tiny); q > ratio {
				rep, ratio = r, q
			}
		}
		if rep < 0 {
			break
		}
		skip.set(rep)
		if first < 0 {
			first = rep
		}
		c, to := p.tariff.repair(rep, at)
		t, closed := p.tariff.test(to)
		cost += c.Total + t.Total
		cure += cures[rep]
		at = closed
		best = math.Max(best, cure/(cost+tiny))
	}
	return first, best
}

// tiny keeps ratios finite when everything is free.
const tiny = 1e-9

// also returns a further repair worth making before the test: one that costs
// less now than testing first and coming back for it in the cases where the test fails.
func (p *Planner) also(b lot, where int, spent float64, used bits) (int, bool) {
	fails := 1 - p.worlds.passing(b)
	if fails < least {
		return -1, false
	}
	test, closed := p.tariff.test(where)
	cures := p.cures(b, p.buffer)
	rest := 1 - fails
	best, rep := 0.0, -1
	for _, r := range p.useful {
		gain := cures[r] - rest
		if used.has(r) || gain < least || !p.affordable(r, spent) {
			continue
		}
		now, to := p.tariff.repair(r, where)
		after, _ := p.tariff.test(to)
		later, back := p.tariff.repair(r, closed)
		again, _ := p.tariff.test(back)
		saved := test.Total + fails*(later.Total+again.Total) - now.Total - after.Total
		if saved > 0 && gain/(now.Total+tiny) > best {
			best, rep = gain/(now.Total+tiny), r
		}
	}
	return rep, rep >= 0
}

// cures is, per repair, the chance that the test passes after it, written into buf.
func (p *Planner) cures(b lot, buf []float64) []float64 {
	idle := p.worlds.passing(b)
	for r := range buf {
		buf[r] = idle
	}
	for k, id := range b.ids {
		w := b.w[k]
		for _, h := range p.worlds.helpful(id) {
			buf[h.r] += w * h.gain
		}
	}
	return buf
}

func (p *Planner) affordable(r int, spent float64) bool {
	price := p.tariff.m.Repairs[r].Price
	if p.tariff.atHand[r] {
		price = 0
	}
	return p.settings.Budget == 0 || spent+price <= p.settings.Budget
}

// floor is a lower bound on what any policy can expect to spend from here: each
// world repaired for the least its faults can cost, known beforehand, or given up.
func (p *Planner) floor(b lot) float64 {
	sum := 0.0
	for k, id := range b.ids {
		sum += b.w[k] * math.Min(p.tariff.loss(), p.cheapest(id))
	}
	return sum
}

// cheapest is the least that can cure a world: its dearest fault's cheapest
// repair, without any opening, and one test.
func (p *Planner) cheapest(id int) float64 {
	if c, ok := p.least[id]; ok {
		return c
	}
	w := p.worlds.list[id]
	worst := 0.0
	if w.unknown {
		worst = p.cheapestFor(func(r int) bool { return p.worlds.whole[r] > 0 })
	}
	for _, i := range w.modes {
		if p.worlds.hidden[i] > 1-1e-9 {
			continue // shows in no symptom
		}
		worst = math.Max(worst, p.cheapestFor(func(r int) bool {
			for _, c := range p.tariff.m.Repairs[r].Clears {
				if c.Mode == i && c.Success > 0 {
					return true
				}
			}
			return false
		}))
	}
	p.least[id] = worst
	return worst
}

func (p *Planner) cheapestFor(clears func(r int) bool) float64 {
	best := math.Inf(1)
	for r := range p.tariff.m.Repairs {
		if clears(r) {
			c, _ := p.tariff.repair(r, p.tariff.m.Repairs[r].Access)
			best = math.Min(best, c.Total+p.tariff.time(p.tariff.trying()))
		}
	}
	return best
}
