package note

import "strings"

// Damage that follows damage: what a mode brings about inside its block, and
// what an overload does to whoever supplies the block.

func (c *composer) addCauses() {
	for _, r := range c.condList { // every overload is resolved once, so that a wrong one is found though nothing causes it
		if r.def != nil {
			for _, n := range r.def.overload {
				c.overloadStep(r, n, map[*condRef]bool{})
			}
		}
	}
	for i, r := range c.modeDefs {
		for _, b := range r.def.brings {
			if m, ok := c.findMode(r.unit, b.key, b.key.text); ok {
				c.addCause(i, m, b.chance, b.key)
			}
		}
		for _, o := range r.def.overloads {
			cond := c.conds[r.unit.prefix+o.key.text]
			if cond == nil || cond.part >= 0 {
				if !r.unit.gone(o.key.text, "") {
					c.fail(o.key, hintNames(o.key.text, c.condNames(r.unit, false)), "there is no need %q to overload", clip(o.key.text))
				}
				continue
			}
			quiet := len(c.list)
			for _, m := range c.overloaded(cond, map[*condRef]bool{}) {
				if m != i {
					c.addCause(i, m, o.chance, o.key)
				}
			}
			c.list = c.list[:quiet] // already said above
		}
	}
}

// addCause records that mode from brings about mode to.
func (c *composer) addCause(from, to int, chance float64, at *node) {
	if from == to {
		c.fail(at, "", "a mode cannot bring itself about")
		return
	}
	if chance <= 0 {
		return
	}
	causes := &c.modeDefs[to].causes
	for i := range *causes {
		if old := &(*causes)[i]; old.mode == from { // on two ways at once
			old.chance = clampChance(1 - (1-old.chance)*(1-chance))
			return
		}
	}
	*causes = append(*causes, rawCause{from, clampChance(chance)})
}

// overloaded finds the modes that an overload on a condition brings about. A
// need hands it to its suppliers, and a supplier to what its note says;
// where nobody says anything it has no consequence.
func (c *composer) overloaded(r *condRef, seen map[*condRef]bool) []int {
	if seen[r] || r.def == nil {
		return nil
	}
	seen[r] = true
	var out []int
	for _, n := range r.def.overload {
		out = append(out, c.overloadStep(r, n, seen)...)
	}
	if r.need {
		for _, id := range r.unit.wires[r.def.name.text] {
			out = append(out, c.overloaded(c.conds[id], seen)...)
		}
	}
	return out
}

// overloadStep follows one entry of overload: a mode of the unit, or a condition to hand it on to.
func (c *composer) overloadStep(r *condRef, n *node, seen map[*condRef]bool) []int {
	u := r.unit
	if strings.Contains(n.text, " ") {
		if m, ok := c.findMode(u, n, n.text); ok {
			return []int{m}
		}
		return nil
	}
	next := c.conds[u.prefix+n.text]
	if next == nil || next.part >= 0 {
		if !u.gone(n.text, "") {
			c.fail(n, also(hintNames(n.text, c.condNames(u, false)), "A fault mode is written with its part, such as fuse open"),
				"an overload cannot go on to %q", clip(n.text))
		}
		return nil
	}
	return c.overloaded(next, seen)
}

// orderModes puts causes before what they bring about.
func (c *composer) orderModes() {
	order, circle := inOrder(len(c.modeDefs), func(i int) []int {
		var before []int
		for _, cause := range c.modeDefs[i].causes {
			before = append(before, cause.mode)
		}
		return before
	})
	if circle != nil {
		var ids []string
		for k := len(circle) - 1; k >= 0; k-- {
			ids = append(ids, c.m.Modes[circle[k]].ID)
		}
		c.fail(c.modeDefs[circle[0]].def.name, "say which damage comes first", "modes bring each other about in a circle: %s",
			strings.Join(append(ids, ids[0]), " → "))
	}
	place := make([]int, len(order))
	for to, from := range order {
		place[from] = to
	}
	modes, defs, weights := make([]Mode, len(order)), make([]*modeRef, len(order)), make([]float64, len(order))
	for to, from := range order {
		modes[to], defs[to], weights[to] = c.m.Modes[from], c.modeDefs[from], c.weights[from]
		for _, cause := range defs[to].causes {
			modes[to].Causes = append(modes[to].Causes, Cause{place[cause.mode], cause.chance})
		}
		c.modes[modes[to].ID] = to
	}
	c.m.Modes, c.modeDefs, c.weights = modes, defs, weights
}
