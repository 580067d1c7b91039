package plan

import (
	"math"
	"slices"
)

// A look is a check that tells whether one repair would help: the base policy
// may make it first and the repair only where it speaks for it.
type look struct {
	check int
	fits  float64 // how well it tells, from 0 to 1
}

// mostLooks is how many checks are kept in mind for a repair.
const mostLooks = 2

// leastFit is how well a check has to tell apart where a repair helps to be kept in mind.
const leastFit = 0.25

// layLooks finds for each repair the checks whose results differ most between
// the worlds in which it helps and the others (total variation distance).
func (ws *worlds) layLooks(b lot, barred []string) {
	m := ws.e.Model()
	before := ws.looks
	ws.looks = make([][]look, len(m.Repairs))
	helped := make([]float64, len(m.Repairs))
	for k, id := range b.ids {
		for _, h := range ws.helpful(id) {
			helped[h.r] += b.w[k] * h.gain
		}
	}
	for c := range m.Checks {
		n := len(ws.checks[c].results)
		if n == 0 || barred[c] != "" {
			continue
		}
		all := ws.chances(b, c)
		with := make([]float64, len(m.Repairs)*n)
		for k, id := range b.ids {
			for _, h := range ws.helpful(id) {
				for o, p := range ws.tells(id, c) {
					with[h.r*n+o] += b.w[k] * h.gain * p
				}
			}
		}
		for r, q := range helped {
			if q > 1e-6 && q < 1-1e-6 {
				ws.keepLook(r, look{c, distance(with[r*n:r*n+n], all, q)})
			}
		}
	}
	same := func(a, b look) bool { return a.check == b.check }
	ws.relaid = ws.relaid || !slices.EqualFunc(before, ws.looks, func(a, b []look) bool { return slices.EqualFunc(a, b, same) })
}

// distance is the total variation between the results where the repair helps, given with
// their joint chances, and where it does not; q is the chance that it helps.
func distance(with, all []float64, q float64) float64 {
	d := 0.0
	for o, a := range all {
		if x := with[o]/q - (a-with[o])/(1-q); x > 0 {
			d += x
		}
	}
	return d
}

func (ws *worlds) keepLook(r int, l look) {
	if l.fits < leastFit {
		return
	}
	ls := append(ws.looks[r], l)
	minutes := func(l look) float64 { return ws.e.Model().Checks[l.check].Minutes + 1 }
	for i := len(ls) - 1; i > 0 && ls[i].fits/minutes(ls[i]) > ls[i-1].fits/minutes(ls[i-1]); i-- {
		ls[i], ls[i-1] = ls[i-1], ls[i]
	}
	ws.looks[r] = ls[:min(mostLooks, len(ls))]
}

// A glimpse is what a look at check c would do for repair r at some belief:
// for which results the repair is made, how often, and how often it then cures.
type glimpse struct {
	rep, check int
	yes        []bool
	pYes       float64
	cures      float64
	ratio      float64 // cures per expected cost of the look, the repair and its test
}

// A glance is the scratch of keenest: what depends on the belief but not on which
// look is weighed.
type glance struct {
	slot   []int // per repair: its place among the rivals, from 1
	gains  [mostRivals][]gain
	of     []int // per check: where the chances of its results begin in all, if stamp is of now
	stamps []int
	stamp  int
	all    []float64
	with   []float64
	yes    []bool
}

// A gain is what a repair adds to the chance of passing in one world, times the world's weight.
type gain struct {
	id int
	p  float64
}

// lay gathers the gains of the rivals.
func (p *Planner) lay(b lot, rivals []int) *glance {
	g := &p.glance
	if len(g.slot) == 0 {
		g.slot = make([]int, len(p.tariff.m.Repairs))
		g.of, g.stamps = make([]int, len(p.tariff.m.Checks)), make([]int, len(p.tariff.m.Checks))
	}
	g.stamp++
	g.all = g.all[:0]
	for i, r := range rivals {
		g.slot[r] = i + 1
		g.gains[i] = g.gains[i][:0]
	}
	for k, id := range b.ids {
		for _, h := range p.worlds.helpful(id) {
			if i := g.slot[h.r]; i > 0 && h.gain != 0 {
				g.gains[i-1] = append(g.gains[i-1], gain{id, b.w[k] * h.gain})
			}
		}
	}
	for _, r := range rivals {
		g.slot[r] = 0
	}
	return g
}

// chances is how likely each result of check c is, worked out once per belief.
func (g *glance) chances(ws *worlds, b lot, c int) []float64 {
	n := len(ws.checks[c].results)
	if g.stamps[c] != g.stamp {
		g.stamps[c], g.of[c] = g.stamp, len(g.all)
		for range n {
			g.all = append(g.all, 0)
		}
		all := g.all[g.of[c]:]
		for k, id := range b.ids {
			w := b.w[k]
			for o, x := range ws.tells(id, c) {
				all[o] += w * x
			}
		}
	}
	return g.all[g.of[c] : g.of[c]+n]
}

// glimpse weighs look l before repair r, the i-th rival. The composite action "look, and repair
// if it speaks for it" competes by its chance of a cure per its expected cost,
// as in Heckerman, Breese & Rommelse's ordering of parts that can be looked at.
// Which results speak for it is left in p.glance.yes.
func (p *Planner) glimpse(b lot, where, r, i int, l look) glimpse {
	s := &p.glance
	all := s.chances(p.worlds, b, l.check)
	s.with, s.yes = s.with[:0], s.yes[:0]
	for range all {
		s.with, s.yes = append(s.with, 0), append(s.yes, false)
	}
	cure := 0.0
	for _, x := range s.gains[i] {
		cure += x.p
		for o, q := range p.worlds.tells(x.id, l.check) {
			s.with[o] += x.p * q
		}
	}
	g := glimpse{rep: r, check: l.check}
	for o := range all {
		if s.with[o] > cure*all[o] {
			s.yes[o] = true
			g.pYes += all[o]
			g.cures += s.with[o]
		}
	}
	see := p.tariff.check(l.check, where)
	mend := p.tariff.repair(r, see.to)
	g.ratio = g.cures / (see.cost.Total + g.pYes*(mend.cost.Total+p.tariff.test(mend.to).cost.Total) + tiny)
	return g
}

// keenest is the best look before any of the likelier repairs, if it is worth
// more per cost than ratio, the best repair made untested.
func (p *Planner) keenest(b lot, at place, ratio float64) (glimpse, bool) {
	var best glimpse
	cures := p.buffer // of b, as head left it
	rivals := p.likeliest(cures, at)
	if len(rivals) == 0 {
		return best, false
	}
	p.lay(b, rivals)
	for i, r := range rivals {
		for _, l := range p.worlds.looks[r] {
			if at.asked.has(l.check) || p.atBest(at.access, r, l, cures[r]) <= math.Max(best.ratio, ratio) {
				continue
			}
			if g := p.glimpse(b, at.access, r, i, l); g.ratio > best.ratio {
				best = g
				best.yes = slices.Clone(p.glance.yes)
			}
		}
	}
	return best, best.ratio > ratio*(1+1e-9)
}

// atBest is the ratio a glimpse would have if the look told all.
func (p *Planner) atBest(where, r int, l look, cure float64) float64 {
	see := p.tariff.check(l.check, where)
	mend := p.tariff.repair(r, see.to)
	return cure / (see.cost.Total + cure*(mend.cost.Total+p.tariff.test(mend.to).cost.Total) + tiny)
}

// likeliest lists up to mostRivals repairs by how near they bring it.
func (p *Planner) likeliest(cures []float64, at place) []int {
	out := &p.rivals
	n := 0
	for _, r := range p.useful {
		if at.done.has(r) || cures[r] < 10*least || len(p.worlds.looks[r]) == 0 || !p.affordable(r, at.spent) {
			continue
		}
		if n < mostRivals {
			n++
		} else if cures[out[n-1]] >= cures[r] {
			continue
		}
		i := n - 1
		for ; i > 0 && cures[out[i-1]] < cures[r]; i-- {
			out[i] = out[i-1]
		}
		out[i] = r
	}
	return out[:n]
}

const mostRivals = 8

// seen returns the lot after check c came out as one of the results in yes (or not in it).
func (ws *worlds) seen(b lot, c int, yes []bool, in bool) lot {
	w := ws.weightRoom(len(b.ids))
	sum := 0.0
	for k, id := range b.ids {
		fits := 0.0
		for o, p := range ws.tells(id, c) {
			if yes[o] == in {
				fits += p
			}
		}
		w[k] = b.w[k] * fits
		sum += w[k]
	}
	return ws.reweighed(b, w, sum)
}

// gain is what repair r adds to the chance of passing in world id.
func (ws *worlds) gain(id, r int) float64 {
	for _, h := range ws.helpful(id) {
		if h.r == r {
			return h.gain
		}
	}
	return 0
}
