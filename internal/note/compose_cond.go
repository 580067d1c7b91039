package note

import (
	"fmt"
	"strings"
)

// The conditions: listed, linked, and put upstream before downstream.

const maxStates = 64 // a Trigger keeps them in the bits of a word

func (c *composer) addConditions() {
	for _, u := range c.units {
		c.addCondDefs(u, u.body.needs, true)
		c.addCondDefs(u, u.body.gives, false)
		c.addCondDefs(u, u.body.inside, false)
	}
}

func (c *composer) addCondDefs(u *unitRef, defs []condDef, need bool) {
	for i := range defs {
		d := &defs[i]
		r := &condRef{unit: u, def: d, part: -1, need: need}
		r.cond = Condition{ID: u.prefix + d.name.text, Title: d.title, Unit: u.index}
		if d.title == "" {
			r.cond.Title = spoken(d.name.text)
		}
		for _, s := range d.states {
			switch name := strings.Join(strings.Fields(s.text), " "); {
			case strings.Contains(name, " or ") || name == "worse" || name == "else":
				c.fail(s, "worse, else and or have a meaning of their own", "%q cannot be the name of a state", name)
			case indexOf(r.cond.States, name) >= 0:
				c.fail(s, "", "the state %q stands here twice", name)
			default:
				r.cond.States = append(r.cond.States, name)
			}
		}
		if n := len(r.cond.States); n < 2 || n > maxStates {
			c.fail(d.name, fmt.Sprintf("2 to %d: the first is good, the others say how bad it can be", maxStates), "the number of states of %q is %d", d.name.text, n)
			if n > maxStates {
				r.cond.States = r.cond.States[:maxStates]
			}
		}
		c.addCond(r, d.name)
	}
}

func (c *composer) addCond(r *condRef, at *node) {
	if old := c.conds[r.cond.ID]; old != nil {
		hint := "a unit's conditions and parts need different names"
		if old.need && r.def != nil {
			hint = fmt.Sprintf("call the need %s-in: %s", at.text, hint)
		}
		c.fail(at, hint, "there is another condition or part called %q", at.text)
		return
	}
	r.index = len(c.condList)
	c.conds[r.cond.ID] = r
	c.condList = append(c.condList, r)
}

// spoken is a name as one says it.
func spoken(name string) string { return strings.ReplaceAll(name, "-", " ") }

func (c *composer) linkConditions() {
	for _, r := range c.condList {
		if r.def == nil {
			continue
		}
		for _, f := range r.def.from {
			c.linkFrom(r, f)
		}
	}
	for _, u := range c.units[1:] {
		c.linkWires(u)
	}
}

// linkFrom adds what one upstream condition does to r.
func (c *composer) linkFrom(r *condRef, f fromDef) {
	u := r.unit
	up := c.conds[u.prefix+f.up.text]
	if up == nil {
		if !u.gone(f.up.text, "") {
			c.fail(f.up, hintNames(f.up.text, c.condNames(u, true)), "there is no condition %q", clip(f.up.text))
		}
		return
	}
	link := rawLink{from: up, to: make([]int, len(up.cond.States)), at: f.up}
	stated := uint64(0)
	for _, p := range f.maps {
		bits, unknown := stateBits(p.key.text, up.cond.States)
		if unknown != "" {
			if !u.gone(f.up.text, unknown) {
				c.fail(p.key, hintNames(unknown, up.cond.States), "%q has no state %q", f.up.text, clip(unknown))
			}
			continue
		}
		to := indexOf(r.cond.States, p.val.text)
		if to < 0 {
			c.fail(p.val, hintNames(p.val.text, r.cond.States), "%q has no state %q", r.def.name.text, clip(p.val.text))
			continue
		}
		for s := range link.to {
			if bits&(1<<s) != 0 {
				link.to[s] = to
			}
		}
		stated |= bits
	}
	passByName(link.to, stated, up.cond.States, r.cond.States)
	r.links = append(r.links, link)
}

// passByName lets the states that are not stated pass to the state of the same name.
func passByName(to []int, stated uint64, from, here []string) {
	for s, name := range from {
		if stated&(1<<s) == 0 {
			to[s] = max(indexOf(here, name), 0)
		}
	}
}

// linkWires connects a unit's needs to who supplies them.
func (c *composer) linkWires(u *unitRef) {
	u.wires = map[string][]string{}
	for _, w := range u.use.wire {
		need := c.conds[u.prefix+w.need.text]
		if need == nil || !need.need {
			if u.gone(w.need.text, "") {
				continue
			}
			var needs []string
			for _, d := range u.body.needs {
				needs = append(needs, d.name.text)
			}
			c.fail(w.need, hintNames(w.need.text, needs), "block %q has no need %q", u.use.use.text, clip(w.need.text))
			continue
		}
		for _, f := range w.from {
			up := c.conds[f.text]
			if up == nil || up.part >= 0 {
				c.fail(f, hintNames(f.text, c.condNames(c.units[0], false)), "there is no condition %q", clip(f.text))
				continue
			}
			link := rawLink{from: up, to: make([]int, len(up.cond.States)), at: f}
			passByName(link.to, 0, up.cond.States, need.cond.States)
			lost := true
			for s := range link.to {
				lost = lost && link.to[s] == 0
			}
			if lost {
				c.fail(f, "they need at least one bad state of the same name; a condition of the device with from: can translate",
					"%q [%s] and %q [%s] have no trouble in common", f.text, strings.Join(up.cond.States, ", "), w.need.text, strings.Join(need.cond.States, ", "))
			}
			need.links = append(need.links, link)
			u.wires[w.need.text] = append(u.wires[w.need.text], f.text)
		}
	}
}

// orderConditions settles the indexes.
func (c *composer) orderConditions() {
	order, circle := inOrder(len(c.condList), func(i int) []int {
		var up []int
		for _, l := range c.condList[i].links {
			up = append(up, l.from.index)
		}
		return up
	})
	if circle != nil {
		var ids []string
		for k := len(circle) - 1; k >= 0; k-- {
			ids = append(ids, c.condList[circle[k]].cond.ID)
		}
		at := c.condList[circle[0]].links[0].at
		c.fail(at, "one of them has to go", "the conditions go round in a circle: %s", strings.Join(append(ids, ids[0]), " → "))
	}
	sorted := make([]*condRef, len(order))
	for to, from := range order {
		sorted[to] = c.condList[from]
	}
	for i, r := range sorted {
		r.index = i
	}
	c.condList = sorted
	c.m.Conditions = make([]Condition, len(sorted))
	for i, r := range sorted {
		for _, l := range r.links {
			r.cond.From = append(r.cond.From, Link{Cond: l.from.index, Map: l.to})
		}
		c.m.Conditions[i] = r.cond
		if r.part >= 0 {
			c.m.Parts[r.part].Cond = i
		}
	}
}
