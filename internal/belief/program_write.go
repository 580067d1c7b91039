package belief

import "fettler/internal/note"

// writeMode writes how the mode comes to be present, what it does, and how
// repairs change it, run by run.
func (p *planner) writeMode(i int) {
	m := &p.n.m.Modes[i]
	runs := p.n.runs[i]
	simple := len(runs) == 1 && len(m.Causes)+len(p.heirs[i])+len(p.sparks[i]) == 0
	if simple {
		o := p.effects(i, 0)
		o.weight *= m.Odds
		p.add(step{options: []option{{weight: 1}, o}, mode: i, run: 0, tally: true})
		return
	}
	p.writeArrival(i)
	for r := range runs {
		if r > 0 {
			p.writeChange(i, r)
		}
		p.add(step{guard: []field{p.present}, options: []option{p.effects(i, r)}, mode: i, run: r, tally: true})
		p.writeSparks(i, r)
		p.writeHeirs(i, r)
	}
	p.clearLater(p.present)
}

// writeArrival decides whether the mode is there on arrival: for certain if a
// cause brought it about, else by its own odds. (Own odds o and a chance b of
// being brought about weigh o+b against 1-b.)
func (p *planner) writeArrival(i int) {
	odds := p.n.m.Modes[i].Odds
	here := []raise{{p.present, 1}}
	var unless []field
	if len(p.n.m.Modes[i].Causes) > 0 {
		f := p.brought(i, 0)
		p.add(step{guard: []field{f}, options: []option{{weight: 1 + odds, raise: here}}, mode: -1})
		unless = []field{f}
	}
	p.add(step{unless: unless, options: []option{{weight: 1}, {weight: odds, raise: here}}, mode: -1})
	for _, f := range unless {
		p.clearLater(f)
	}
}

// writeHeirs lets the mode, where present in run r, bring about others at the
// start of each of their runs that falls into it: on arrival, or when they have just been replaced.
func (p *planner) writeHeirs(i, r int) {
	x := p.n.runs[i][r]
	for _, h := range p.heirs[i] {
		for hr, y := range p.n.runs[h] {
			if y.first < x.first || y.first > x.last || hr > 0 && p.n.success(h, hr) == 0 {
				continue
			}
			f := p.brought(h, hr)
			for _, c := range p.n.m.Modes[h].Causes {
				if c.Mode == i {
					p.add(step{guard: []field{p.present}, unless: []field{f}, mode: -1, options: []option{
						{weight: 1 - c.Chance}, {weight: c.Chance, raise: []raise{{f, 1}}}}})
				}
			}
		}
	}
}

// writeChange writes what the repair before run r does to the mode: clear it,
// have it brought back by a cause still there, or do it as harm.
func (p *planner) writeChange(i, r int) {
	rep := p.n.repairBefore(i, r)
	success := p.n.success(i, r)
	harms := rep.Harms == i && rep.Harm > 0
	if success > 0 {
		p.add(step{guard: []field{p.present}, mode: -1, options: []option{
			{weight: 1 - success}, {weight: success, put: []raise{{p.present, 0}, {p.replaced, 1}}}}})
		if len(p.n.m.Modes[i].Causes) > 0 {
			p.add(step{guard: []field{p.replaced, p.brought(i, r)}, mode: -1, options: []option{
				{weight: 1, raise: []raise{{p.present, 1}}}}, clear: []field{p.brought(i, r)}})
		}
		p.clearLater(p.replaced)
	}
	if harms {
		p.add(step{unless: []field{p.present}, mode: -1, options: []option{
			{weight: 1 - rep.Harm}, {weight: rep.Harm, raise: []raise{{p.present, 1}}}}})
	}
}

func (p *planner) add(s step) { p.steps = append(p.steps, s) }

// clearLater forgets a field after the last step written so far.
func (p *planner) clearLater(f field) {
	last := &p.steps[len(p.steps)-1]
	last.clear = append(last.clear, f)
}

// effects is what mode i does to nodes and to signs that did not show, in run r.
func (p *planner) effects(i, r int) option {
	o := option{weight: 1, present: true}
	x := p.n.runs[i][r]
	if r == 0 {
		o.raise = append(o.raise, raise{p.any, 1})
	}
	for _, nd := range p.touches[i] {
		if g := p.n.nodes[nd].group; g < x.first || g > x.last {
			continue
		}
		for _, e := range p.n.m.Modes[i].Effects {
			if e.Cond == p.n.nodes[nd].cond {
				o.raise = append(o.raise, raise{p.fieldOf(nd), e.State})
			}
		}
	}
	for id := range p.n.looks {
		l := &p.n.looks[id]
		if l.Epoch < x.first || l.Epoch > x.last || l.f.Kind != note.Sign {
			continue
		}
		for _, t := range l.direct {
			switch {
			case t.Mode != i:
			case l.quiet():
				o.weight *= 1 - t.Chance
			case l.counted():
				o.raise = append(o.raise, raise{p.markOf(id, i), 1})
			}
		}
	}
	return o
}

// writeSparks lets a present mode strike, or not, the signs it triggers directly.
func (p *planner) writeSparks(i, r int) {
	x := p.n.runs[i][r]
	for _, id := range p.sparks[i] {
		l := &p.n.looks[id]
		if !l.spark() || l.Epoch < x.first || l.Epoch > x.last {
			continue
		}
		f := p.sparkOf(id)
		for _, t := range l.direct {
			if t.Mode == i {
				p.add(step{guard: []field{p.present}, unless: []field{f}, mode: -1, options: []option{
					{weight: 1 - t.Chance}, {weight: t.Chance, raise: []raise{{f, 1}}}}})
			}
		}
	}
}

func (p *planner) sparkOf(id int) field {
	f, ok := p.lookField[id]
	if !ok {
		f = p.lay.field(2)
		p.lookField[id] = f
	}
	return f
}

func (p *planner) markOf(id, mode int) field {
	key := [2]int{id, mode}
	f, ok := p.markField[key]
	if !ok {
		f = p.lay.field(2)
		p.markField[key] = f
	}
	return f
}

// settleNode fixes the node's state from its own field and its upstream nodes,
// judges what that makes possible, and forgets what is no longer needed.
func (p *planner) settleNode(id int) {
	nd := &p.n.nodes[id]
	s := &settle{node: id, self: p.fieldOf(id)}
	for _, f := range nd.from {
		s.from = append(s.from, inheritField{p.fieldOf(f.node), f.to})
	}
	p.settled[id] = true
	p.judgeReady(s)
}

// judgeReady writes a step that judges every observation whose conditions are
// settled and whose direct triggers are decided, together with s if there is one.
func (p *planner) judgeReady(s *settle) {
	if s == nil {
		s = &settle{node: -1}
	}
	var clear []field
	for id := range p.n.looks {
		l := &p.n.looks[id]
		if p.judged[id] || !p.lookSettled(l) || !p.allDone(awaited(l)) {
			continue
		}
		p.judged[id] = true
		j := judge{l: l, nodes: map[int]field{}}
		for cond, nd := range l.nodes {
			j.nodes[cond] = p.fieldOf(nd)
		}
		if f, ok := p.lookField[id]; ok {
			j.spark = &f
			clear = append(clear, f)
		}
		if l.counted() {
			for _, t := range l.direct {
				f := p.markOf(id, t.Mode)
				j.marks = append(j.marks, mark{f, t.Chance})
				clear = append(clear, f)
			}
		}
		s.looks = append(s.looks, j)
	}
	clear = append(clear, p.spent()...)
	if s.node >= 0 || len(s.looks) > 0 {
		p.add(step{settle: s, clear: clear, mode: -1})
	}
}

func (p *planner) allDone(modes []int) bool {
	for _, i := range modes {
		if !p.done[i] {
			return false
		}
	}
	return true
}

// spent returns the fields of settled nodes that nothing ahead needs.
func (p *planner) spent() []field {
	var out []field
	for id := range p.n.nodes {
		if !p.openNode[id] || !p.settled[id] || !p.unneeded(id) {
			continue
		}
		out = append(out, p.nodeField[id])
		p.openNode[id] = false
	}
	return out
}

func (p *planner) unneeded(id int) bool { return p.lastHeir(id, -1) && p.looksDone(id) }
