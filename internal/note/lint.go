package note

// lint looks at a model that is right by the letter for what cannot be meant:
// a fault that leaves no trace, one that no repair clears.
func (c *composer) lint() {
	if c.alone { // a block's device may add what is missing here
		return
	}
	seen := c.observed()
	traced := make([]bool, len(c.m.Modes))
	for i := len(c.m.Modes) - 1; i >= 0; i-- { // what it brings about comes after it
		for _, e := range c.m.Modes[i].Effects {
			traced[i] = traced[i] || seen.cond[e.Cond]
		}
		traced[i] = traced[i] || seen.mode[i]
		if traced[i] {
			for _, cause := range c.m.Modes[i].Causes {
				traced[cause.Mode] = true
			}
		}
	}
	cleared := make([]bool, len(c.m.Modes))
	for _, r := range c.m.Repairs {
		for _, cl := range r.Clears {
			cleared[cl.Mode] = true
		}
	}
	for i, r := range c.modeDefs {
		switch {
		case traced[i]:
		case len(r.def.does) == 0:
			c.fail(r.def.name, "say what it does:, or name it in a finding", "%q of %q does nothing and shows nowhere", r.def.name.text, r.part.name.text)
		default:
			c.warn(r.def.name, "no finding looks at what it does", "%q of %q shows nowhere", r.def.name.text, r.part.name.text)
		}
		if !cleared[i] {
			c.warn(r.def.name, "add a repair, or one that clears everything", "no repair clears %q of %q", r.def.name.text, r.part.name.text)
		}
	}
}

// seenBy says what findings look at: modes by name, and conditions directly or downstream.
type seenBy struct{ mode, cond []bool }

func (c *composer) observed() seenBy {
	seen := seenBy{make([]bool, len(c.m.Modes)), make([]bool, len(c.m.Conditions))}
	for _, f := range c.m.Findings {
		if f.Cond >= 0 {
			seen.cond[f.Cond] = true
		}
		for _, t := range f.Trigger {
			if t.Mode >= 0 {
				seen.mode[t.Mode] = true
			} else {
				seen.cond[t.Cond] = true
			}
		}
	}
	for i := len(c.m.Conditions) - 1; i >= 0; i-- {
		if seen.cond[i] {
			for _, l := range c.m.Conditions[i].From {
				seen.cond[l.Cond] = true
			}
		}
	}
	return seen
}
