package plan

import "math"

// head returns the first repair of the most efficient prefix, and its efficiency.
func (p *Planner) head(b lot, where int, spent float64, used bits) (rep int, ratio float64) {
	cures := p.progress(b, p.buffer)
	rep = -1
	for a := range p.tariff.m.Access {
		if r, eff := p.prefix(cures, a, where, spent, used); r >= 0 && eff > ratio {
			ratio, rep = eff, r
		}
	}
	return rep, ratio
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
	cure, cost, at := 0.0, 0.0, where
	for _, rep := range p.efficient(cures, a, spent, used) {
		if first < 0 {
			first = rep
		}
		l := p.tariff.repair(rep, at)
		t := p.tariff.test(l.to)
		cost += l.cost.Total + t.cost.Total
		cure += cures[rep]
		at = t.to
		best = math.Max(best, cure/(cost+tiny))
	}
	return first, best
}

// efficient lists up to mostPrefix repairs at access a by falling cure per cost once one is there.
func (p *Planner) efficient(cures []float64, a int, spent float64, used bits) []int {
	n := 0
	for _, r := range p.byAccess[a] {
		if cures[r] < least || used.has(r) || !p.affordable(r, spent) {
			continue
		}
		q := cures[r] / (p.tariff.repair(r, a).cost.Total + tiny)
		if n < mostPrefix {
			n++
		} else if p.ratios[n-1] >= q {
			continue
		}
		i := n - 1
		for ; i > 0 && p.ratios[i-1] < q; i-- {
			p.ratios[i], p.run[i] = p.ratios[i-1], p.run[i-1]
		}
		p.ratios[i], p.run[i] = q, r
	}
	return p.run[:n]
}

// tiny keeps ratios finite when everything is free.
const tiny = 1e-9

// also returns a further repair worth making before the test: one that costs
// less now than testing first and coming back for it in the cases where the test fails,
// and that would be made then, without a look first.
func (p *Planner) also(b lot, at place, looks bool) (int, bool) {
	fails := 1 - p.worlds.passing(b)
	if fails < least {
		return -1, false
	}
	where := at.access
	test := p.tariff.test(where)
	saving := p.saving[:0]
	for _, r := range p.useful {
		if !at.done.has(r) && p.affordable(r, at.spent) && p.saves(r, where, test, fails) > 0 {
			saving = append(saving, r)
		}
	}
	if p.saving = saving; len(saving) == 0 {
		return -1, false
	}
	gains := p.progress(b, p.buffer)
	best, rep := 0.0, -1
	for _, r := range saving {
		gain := gains[r]
		if gain < least {
			continue
		}
		if q := gain / (p.tariff.repair(r, where).cost.Total + tiny); q > best {
			best, rep = q, r
		}
	}
	return rep, rep >= 0 && p.follows(b, at, rep, gains[rep]/fails, looks)
}

// follows says that repair r, which cures with chance cure when the test has failed, would be
// made then: that it pays by itself, and that no look at what is wrong comes before it; or that it saves another way back often enough.
func (p *Planner) follows(b lot, at place, r int, cure float64, looks bool) bool {
	test := p.tariff.test(at.access)
	l := p.tariff.repair(r, test.to)
	again := p.tariff.test(l.to)
	now := p.tariff.repair(r, at.access).cost.Total
	if cure*(l.cost.Total-now+again.cost.Total) >= now { // the way back alone makes it worth while
		return true
	}
	ratio, pays := cure/(l.cost.Total+again.cost.Total+tiny), hopeless/(p.tariff.loss()+tiny)
	if ratio <= pays || !looks {
		return ratio > pays
	}
	b = p.worlds.failed(b)
	p.progress(b, p.buffer)
	at.access = test.to
	_, ok := p.keenest(b, at, ratio)
	return !ok
}

// saves is what making repair r now, before the test, saves against testing
// first and coming back for it when the test fails.
func (p *Planner) saves(r, where int, test *leg, fails float64) float64 {
	now := p.tariff.repair(r, where)
	later := p.tariff.repair(r, test.to)
	return test.cost.Total + fails*(later.cost.Total+p.tariff.test(later.to).cost.Total) - now.cost.Total - p.tariff.test(now.to).cost.Total
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

// progress is, per repair, how far it goes towards passing the test on average,
// written into buf: a repair that clears one of two faults goes half the way.
func (p *Planner) progress(b lot, buf []float64) []float64 {
	clear(buf)
	for k, id := range b.ids {
		w := b.w[k]
		for _, h := range p.worlds.helpful(id) {
			buf[h.r] += w * h.part
		}
	}
	return buf
}
