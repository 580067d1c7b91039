package plan

import (
	"math"
	"sort"
)

// advice reads the answer off the root.
func (p *Planner) advice(root *node) *Advice {
	loss := p.tariff.loss()
	out := &Advice{Lower: root.lower, Depth: p.depth(root)}
	if !p.bounding {
		out.Lower = math.Min(p.floor(root.b, root.at), root.upper.total)
	}
	bears := p.bearing(root.b)
	for _, a := range root.arcs {
		r := p.ranked(root, a)
		if a.move.Kind == Check {
			r.Bears = bears(a.move.Index)
		}
		out.Ranking = append(out.Ranking, r)
	}
	out.Ranking = append(out.Ranking, Ranked{Move: Move{Stop, -1}, Total: loss})
	sort.SliceStable(out.Ranking, func(i, j int) bool { return before(out.Ranking[i], out.Ranking[j]) })
	out.Best = out.Ranking[0]
	for i := range out.Ranking {
		out.Ranking[i].Behind = out.Ranking[i].Total - out.Best.Total
	}
	out.Ranking = append(out.Ranking, p.wishes(root)...)
	if len(out.Ranking) > 1 {
		out.Best = out.Ranking[0]
	}
	out.Gain = loss - out.Best.Total
	for _, a := range root.arcs {
		if a.move == out.Best.Move {
			out.Success, out.Money, out.Minutes = a.upper.success, a.upper.money, a.upper.minutes
		}
	}
	out.StopAfter = p.stopAfter(root)
	p.reasons(root, out)
	return out
}

// reasons adds what decided: the break-evens and the batch.
func (p *Planner) reasons(root *node, out *Advice) {
	out.Batch = p.batch(root, out.Best.Move)
	if out.Best.Kind == Stop || len(out.Ranking) < 2 {
		return
	}
	out.Best.Pays = p.pays(root, out.Ranking)
	out.Ranking[0].Pays = out.Best.Pays
	if p.tariff.loss() > 0 {
		out.Going, _ = p.tie(root, out.Best.Move, Move{Stop, -1}, p.worth())
	}
}

// before orders moves by expected cost; among equals by what they cost now.
func before(a, b Ranked) bool {
	if math.Abs(a.Total-b.Total) > 1e-9 {
		return a.Total < b.Total
	}
	if a.Kind == Stop || b.Kind == Stop {
		return b.Kind == Stop && a.Kind != Stop
	}
	return a.Cost.Minutes+a.Cost.Access < b.Cost.Minutes+b.Cost.Access
}

// depth is how many moves the deepest look went ahead.
func (p *Planner) depth(root *node) int {
	d := 0
	for _, n := range p.met {
		if n.open && !n.end {
			d = max(d, n.depth)
		}
	}
	return d + 1
}

func (p *Planner) ranked(root *node, a *arc) Ranked {
	r := Ranked{Move: a.move, Cost: a.cost, Total: a.upper.total}
	if a.move.Kind == Repair {
		r.Cures = p.cures(root.b, p.buffer)[a.move.Index]
	}
	for _, x := range a.next {
		res := Result{P: x.p, Next: p.next(x.n), Total: x.n.upper.total, Tops: p.tops(p.lotOf(x.n), 3)}
		switch a.move.Kind {
		case Check:
			res.Values = p.worlds.checks[a.move.Index].results[x.result]
		case Test:
			res.Works = x.result == 1
		}
		r.Results = append(r.Results, res)
	}
	sort.SliceStable(r.Results, func(i, j int) bool { return r.Results[i].P > r.Results[j].P })
	return r
}

// tops returns the likeliest modes of a lot.
func (p *Planner) tops(b lot, n int) []Suspect {
	chance := map[int]float64{}
	for k, id := range b.ids {
		for _, i := range p.worlds.list[id].modes {
			chance[i] += b.w[k]
		}
	}
	out := make([]Suspect, 0, len(chance))
	for i, c := range chance {
		out = append(out, Suspect{i, c})
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].P != out[j].P {
			return out[i].P > out[j].P
		}
		return out[i].Mode < out[j].Mode
	})
	return out[:min(n, len(out))]
}

// wishes lists the checks and repairs this bench cannot do, with the reason.
// For a check it also says what it would be worth: the move is valued as if it could be done.
func (p *Planner) wishes(root *node) []Ranked {
	var out []Ranked
	for c, why := range p.barredCheck {
		if why == "" || len(p.worlds.checks[c].results) == 0 {
			continue
		}
		if p.worlds.telling(root.b, c) > 1e-9 {
			r := p.ranked(root, p.checkArc(root, c))
			r.Blocked = why
			r.Behind = r.Total - root.upper.total
			out = append(out, r)
		}
	}
	cures := p.cures(root.b, make([]float64, len(p.buffer)))
	for r, why := range p.barredRepair {
		if why == "" {
			continue
		}
		if cures[r] > least {
			x := p.ranked(root, p.repairArc(root, r))
			x.Blocked, x.Cures, x.Behind = why, cures[r], x.Total-root.upper.total
			out = append(out, x)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Total < out[j].Total })
	return out
}

// stopAfter lists the repairs after which, if it still fails, going on no longer
// pays: the base policy's repairs up to where it stops.
func (p *Planner) stopAfter(root *node) []int {
	rounds := p.rounds(root.b, root.at)
	_, n := p.value(rounds)
	var out []int
	for _, r := range rounds[:n] {
		out = append(out, r.repairs...)
	}
	return out
}
