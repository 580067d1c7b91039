package plan

import "math"

// floor is a lower bound on what any policy can expect to spend from here: each
// world made known, and repaired or given up as is best for it alone.
func (p *Planner) floor(b lot, at place) float64 {
	sum := 0.0
	for k, id := range b.ids {
		if b.w[k] > 0 {
			sum += b.w[k] * p.known1(id, at.access, at.done)
		}
	}
	return sum
}

// A plight is a known world at an access, with the repairs made that matter to it.
type plight struct {
	id, access int
	done       key
}

// mostRelevant is up to how many repairs a world is solved exactly when known.
const mostRelevant = 8

// known1 is the least expected cost for a device known to be in world id: it is
// seen at once how each repair came out, and the test is only made to confirm.
func (p *Planner) known1(id, access int, done bits) float64 {
	w := p.worlds.list[id]
	if w.passes == 1 {
		l := p.tariff.test(access)
		return math.Min(p.tariff.loss(), l.cost.Total+p.tariff.time(p.tariff.closing(l.to)))
	}
	rs := p.relevant(id)
	if len(rs) > mostRelevant {
		return math.Min(p.tariff.loss(), p.cheapest(id))
	}
	at := plight{id: id, access: access}
	any := false
	for _, r := range rs {
		if done.has(r) {
			at.done.chain(uint64(r))
			any = true
		}
	}
	if !any { // the usual case is kept with the world
		if w.least == nil {
			w.least = make([]float64, len(p.tariff.m.Access))
		}
		if w.least[access] == 0 {
			w.least[access] = p.solve(id, access, done, rs)
		}
		return w.least[access]
	}
	if v, ok := p.least[at]; ok {
		return v
	}
	v := p.solve(id, access, done, rs)
	p.least[at] = v
	return v
}

// solve is known1 worked out anew.
func (p *Planner) solve(id, access int, done bits, rs []int) float64 {
	best := p.tariff.loss()
	for _, r := range rs {
		l := p.tariff.repair(r, access)
		if done.has(r) || l.cost.Total >= best {
			continue
		}
		sum, then := l.cost.Total, done.with(r)
		for _, d := range p.worlds.drifts(id, r) {
			sum += d.p * p.known1(d.id, l.to, then)
		}
		best = math.Min(best, sum)
	}
	return best
}

// relevant lists the repairs that change world id or a world that may come of it.
func (p *Planner) relevant(id int) []int {
	if rs := p.worlds.list[id].matters; rs != nil {
		return rs
	}
	seen := map[int]bool{id: true}
	in := newBits(len(p.tariff.m.Repairs))
	todo := []int{id}
	rs := []int{}
	for len(todo) > 0 && len(rs) <= mostRelevant {
		w := todo[0]
		todo = todo[1:]
		for _, r := range p.useful {
			for _, d := range p.worlds.drifts(w, r) {
				if d.id == w {
					continue
				}
				if !in.has(r) {
					in.set(r)
					rs = append(rs, r)
				}
				if !seen[d.id] {
					seen[d.id] = true
					todo = append(todo, d.id)
				}
			}
		}
	}
	p.worlds.list[id].matters = rs
	return rs
}

// cheapest is the least that can cure a world: its dearest fault's cheapest
// repair, without any opening, and one test. A fault that may show in no symptom need not be cured.
func (p *Planner) cheapest(id int) float64 {
	w := p.worlds.list[id]
	worst := 0.0
	if w.unknown {
		worst = p.cheapestFor(func(r int) bool { return p.worlds.whole[r] > 0 })
	}
	for _, i := range w.modes {
		if p.worlds.hidden[i] > 0 {
			continue
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
	return worst
}

func (p *Planner) cheapestFor(clears func(r int) bool) float64 {
	best := math.Inf(1)
	for _, r := range p.useful {
		if clears(r) {
			c := p.tariff.repair(r, p.tariff.m.Repairs[r].Access).cost
			best = math.Min(best, c.Total+p.tariff.time(p.tariff.trying()))
		}
	}
	return best
}

// forgetLeast drops what known worlds cost, because the tariff has changed.
func (ws *worlds) forgetLeast() {
	for _, w := range ws.list {
		w.least = nil
	}
}
