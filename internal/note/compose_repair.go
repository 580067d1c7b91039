package note

import "strings"

// Access, repairs and trials.

func (c *composer) addAccess() {
	c.m.Access = []Access{{ID: "outside", Title: "closed", Behind: -1}}
	c.access["outside"] = 0
	list := c.dev.access
	byName := map[string]int{"outside": -1}
	for i := range list {
		if list[i].name.text == "outside" {
			c.fail(list[i].name, "leave it out", "outside always exists")
			continue
		}
		byName[list[i].name.text] = i
	}
	order, circle := inOrder(len(list), func(i int) []int {
		if b := list[i].behind; b != nil && byName[b.text] >= 0 {
			if j, ok := byName[b.text]; ok {
				return []int{j}
			}
		}
		return nil
	})
	if circle != nil {
		c.fail(list[circle[0]].name, "one of them must be reached first", "access goes round in a circle")
	}
	for _, i := range order {
		a := list[i]
		if a.name.text == "outside" {
			continue
		}
		behind := 0
		if a.behind != nil {
			at, ok := c.access[a.behind.text]
			if !ok && circle == nil {
				c.fail(a.behind, hintNames(a.behind.text, sortedKeys(byName)), "there is no access %q", clip(a.behind.text))
			}
			behind = at
		}
		c.access[a.name.text] = len(c.m.Access)
		c.m.Access = append(c.m.Access, Access{ID: a.name.text, Title: a.title, How: a.how, Behind: behind, OpenMinutes: a.opens, CloseMinutes: a.closes})
		if a.tries != nil {
			c.tries[c.access[a.name.text]] = *a.tries
		}
	}
	for _, u := range c.units[1:] {
		c.addWords(u)
	}
}

// addTries marks the access levels at which the device can be powered and tried:
// those that say so, and, of those that say nothing, those at which a live check is made.
func (c *composer) addTries() {
	for i := range c.m.Access {
		live := false
		for _, x := range c.m.Checks {
			live = live || x.Live && x.Access == i
		}
		said, ok := c.tries[i]
		c.m.Access[i].Tries = said || !ok && (live || i == 0)
	}
}

// addWords maps a block's access words to the device's.
func (c *composer) addWords(u *unitRef) {
	u.words = map[string]string{}
	for _, p := range u.use.at {
		if _, ok := c.access[p.val.text]; !ok {
			c.fail(p.val, hintNames(p.val.text, sortedKeys(c.access)), "there is no access %q", clip(p.val.text))
			continue
		}
		u.words[p.key.text] = p.val.text
	}
}

// accessOf resolves an access word; nothing stated means from outside.
func (c *composer) accessOf(u *unitRef, at *node) int {
	if at == nil {
		return 0
	}
	word := at.text
	if w, ok := u.words[word]; ok {
		word = w
	}
	i, ok := c.access[word]
	switch {
	case ok:
		return i
	case c.alone: // the words of a block are settled by the device
		c.access[word] = len(c.m.Access)
		c.m.Access = append(c.m.Access, Access{ID: word, Title: word})
		return c.access[word]
	case u.use != nil:
		if _, said := u.words["missing "+word]; !said { // once per unit
			u.words["missing "+word] = "outside"
			c.fail(u.use.name, "add it to access:, or say at: {"+word+": …} here; there are: "+strings.Join(sortedKeys(c.access), ", "),
				"block %q works at %q (%s), which this device does not have", u.use.use.text, word, whereIs(at))
		}
	default:
		c.fail(at, hintNames(word, sortedKeys(c.access)), "there is no access %q", clip(word))
	}
	return 0
}

func whereIs(n *node) string {
	p := n.pos().String()
	if len(p) > 2 {
		p = p[:len(p)-2]
	}
	return p
}

func (c *composer) addRepairs() {
	for _, u := range c.units {
		for i := range u.body.repairs {
			c.addRepair(u, &u.body.repairs[i])
		}
	}
}

func (c *composer) addRepair(u *unitRef, d *repairDef) {
	r := Repair{ID: u.prefix + d.name.text, Title: d.title, How: d.how, With: d.with, Unit: u.index, Minutes: d.minutes,
		Access: c.accessOf(u, d.at), Live: d.live, Hazards: c.stepHazards(d.hazards), Days: d.days, Harm: d.harm, Harms: -1, Whole: d.all}
	for _, b := range d.buys {
		item := Item{What: b.what, Count: b.count, Price: c.cash(b.price)}
		r.Buys = append(r.Buys, item)
		r.Price += float64(item.Count) * item.Price
	}
	if d.harms != nil {
		if m, ok := c.findMode(u, d.harms, d.harms.text); ok {
			r.Harms = m
		}
	}
	before := len(c.list)
	cleared := make([]bool, len(c.m.Modes))
	if d.all {
		for m := range cleared {
			cleared[m] = u.index == 0 || c.m.Parts[c.m.Modes[m].Part].Unit == u.index
		}
	}
	for _, cl := range d.clears {
		r.Whole = c.clear(u, cl, cleared) || r.Whole
	}
	for m, yes := range cleared {
		if yes {
			r.Clears = append(r.Clears, Clear{Mode: m, Success: min(d.success, 1)})
		}
	}
	if len(r.Clears) == 0 && !c.failed(before) {
		if d.success > 0 && u.removed == nil {
			c.fail(d.name, "", "repair %q clears nothing", d.name.text)
		}
		return // all it clears has been left out
	}
	if d.success == 0 {
		c.fail(d.name, "give it a chance above never", "repair %q never succeeds", d.name.text)
	}
	c.m.Repairs = append(c.m.Repairs, r)
}

// clear marks what one entry of clears stands for: a part or some of its
// modes, or in a device a whole unit. It reports whether it was a whole unit.
func (c *composer) clear(u *unitRef, cl clearDef, cleared []bool) (whole bool) {
	name := cl.part.text
	if p, ok := c.parts[u.prefix+name]; ok {
		for m := range cleared {
			cleared[m] = cleared[m] || cl.all && c.m.Modes[m].Part == p
		}
		for _, mode := range cl.modes {
			if m, ok := c.findMode(u, mode, name+" "+mode.text); ok {
				cleared[m] = true
			}
		}
		return false
	}
	if other := c.unit(name); other != nil && u.index == 0 && cl.all {
		for m := range cleared {
			cleared[m] = cleared[m] || c.m.Parts[c.m.Modes[m].Part].Unit == other.index
		}
		return true
	}
	if !u.gone(name, "") {
		c.fail(cl.part, hintNames(name, c.partNames(u)), "there is no part %q", clip(name))
	}
	return false
}
