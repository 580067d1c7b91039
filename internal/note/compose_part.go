package note

import (
	"fmt"
	"strings"
)

// The parts and their modes: listed, given their effects and causes, and put
// in the order in which one brings about the other.

func (c *composer) addParts() {
	for _, u := range c.units {
		for i := range u.body.parts {
			c.addPart(u, &u.body.parts[i])
		}
	}
}

func (c *composer) addPart(u *unitRef, d *partDef) {
	p := Part{ID: u.prefix + d.name.text, Title: d.title, Unit: u.index, Mark: d.mark, Value: d.value, Count: d.count}
	if p.Title == "" {
		p.Title = spoken(d.name.text)
	}
	var kind *kindDef
	if d.kind != nil {
		p.Kind = d.kind.text
		if kind = c.lib.kinds[d.kind.text]; kind == nil {
			c.fail(d.kind, hintNames(d.kind.text, c.lib.kindNames()), "unknown kind %q", clip(d.kind.text))
		}
	}
	if len(d.modes) == 0 && u.removed == nil {
		c.fail(d.name, "expected at least one mode", "part %q cannot fail", d.name.text)
	}
	if len(d.modes) >= maxStates {
		c.fail(d.name, "make it two parts", "part %q has more than %d modes", d.name.text, maxStates-1)
		return
	}
	states := []string{"sound"}
	index := len(c.m.Parts)
	for i := range d.modes {
		m := &d.modes[i]
		if m.name.text == "sound" {
			c.fail(m.name, "", "sound is the state of a part without a fault")
			continue
		}
		states = append(states, m.name.text)
		c.addMode(u, d, m, p, index, kind)
	}
	c.parts[p.ID] = index
	c.m.Parts = append(c.m.Parts, p)
	c.addCond(&condRef{cond: Condition{ID: p.ID, Title: p.Title, Unit: u.index, States: states}, unit: u, part: index}, d.name)
}

func (c *composer) addMode(u *unitRef, d *partDef, m *modeDef, p Part, part int, kind *kindDef) {
	mode := Mode{ID: p.ID + "." + m.name.text, Name: m.name.text, Title: m.title, Part: part}
	known := (*kindMode)(nil)
	if kind != nil { // from the general to the particular
		mode.Class, mode.Subclass = Class(kind.class.text), kind.subclass
		if known = kind.mode(m.name.text); known != nil {
			mode.set(known.class, known.subclass)
		}
	}
	mode.set(d.class, d.subclass)
	mode.set(m.class, m.subclass)
	if mode.Title == "" && known != nil && known.title != "" {
		mode.Title = p.Title + " " + known.title
	}
	if mode.Title == "" {
		mode.Title = p.Title + " " + spoken(m.name.text)
	}
	if mode.Class == "" && (d.kind == nil || kind != nil) {
		c.fail(m.name, "give the part a kind, or state the class", "mode %q has no class", m.name.text)
	}
	weight := c.weight(d, m, kind, known, &mode)
	c.modes[mode.ID] = len(c.m.Modes)
	c.m.Modes = append(c.m.Modes, mode)
	c.modeDefs = append(c.modeDefs, &modeRef{def: m, part: d, unit: u})
	c.weights = append(c.weights, weight)
}

// set takes over a class and a subclass where they are stated.
func (m *Mode) set(class *node, subclass string) {
	if class != nil {
		m.Class = Class(class.text)
	}
	if subclass != "" {
		m.Subclass = subclass
	}
}

// weight is the mode's rate in faults per million hours, and says in Basis where it comes from.
func (c *composer) weight(d *partDef, m *modeDef, kind *kindDef, known *kindMode, mode *Mode) float64 {
	w, basis := 0.0, ""
	switch {
	case m.rate >= 0:
		w, basis = m.rate, fmt.Sprintf("judged %g faults per million hours", m.rate)
	case known != nil:
		w = kind.rate * known.share
		basis = fmt.Sprintf("%s: %g faults per million hours, %.0f %% of them %s", kind.name.text, kind.rate, known.share*100, spoken(m.name.text))
	case kind != nil:
		var names []string
		for _, k := range kind.modes {
			names = append(names, k.name.text)
		}
		c.fail(m.name, also(hintNames(m.name.text, names), "Otherwise state its rate"), "kind %q knows no mode %q", kind.name.text, m.name.text)
	case d.kind == nil:
		c.fail(m.name, "state its rate in faults per million hours, or give the part a kind", "nothing says how often %q happens", m.name.text)
	}
	if m.factor != 1 {
		w *= m.factor
		basis += fmt.Sprintf(", times %g here", m.factor)
	}
	if d.count > 1 {
		w *= float64(d.count)
		basis += fmt.Sprintf(", %d of them", d.count)
	}
	if m.rate < 0 && known != nil && kind.source != "" {
		basis += " (" + kind.source + ")"
	}
	mode.Basis = basis
	return w
}

func (k *kindDef) mode(name string) *kindMode {
	for i := range k.modes {
		if k.modes[i].name.text == name {
			return &k.modes[i]
		}
	}
	return nil
}

// addEffects resolves what each mode does for certain; the first effect is on the state of its own part.
func (c *composer) addEffects() {
	for i, r := range c.modeDefs {
		mode := &c.m.Modes[i]
		part := c.m.Parts[mode.Part]
		if own := c.condList[part.Cond]; own.part == mode.Part {
			mode.Effects = append(mode.Effects, Effect{part.Cond, indexOf(own.cond.States, mode.Name)})
		}
		for _, d := range r.def.does {
			cond := c.conds[r.unit.prefix+d.key.text]
			if cond == nil || cond.part >= 0 {
				if !r.unit.gone(d.key.text, "") {
					c.fail(d.key, hintNames(d.key.text, c.condNames(r.unit, false)), "there is no condition %q", clip(d.key.text))
				}
				continue
			}
			state := indexOf(cond.cond.States, d.val.text)
			if state < 0 {
				c.fail(d.val, hintNames(d.val.text, cond.cond.States), "%q has no state %q", d.key.text, clip(d.val.text))
				continue
			}
			if state == 0 {
				c.fail(d.val, "a fault forces one of the others: "+strings.Join(cond.cond.States[1:], ", "), "%q is the good state of %q", d.val.text, d.key.text)
				continue
			}
			mode.Effects = append(mode.Effects, Effect{cond.index, state})
		}
	}
}

// findMode resolves "part mode" as a unit's note writes it. A false ok without
// a report means that the device has left it out.
func (c *composer) findMode(u *unitRef, at *node, text string) (mode int, ok bool) {
	part, name, isState := splitCause(text)
	if isState {
		name = ""
	}
	if i, ok := c.modes[u.prefix+part+"."+name]; ok && name != "" {
		return i, true
	}
	if u.gone(part, name) {
		return 0, false
	}
	p, known := c.parts[u.prefix+part]
	switch {
	case name == "":
		c.fail(at, "write the part, a blank and the mode, such as reservoir short", "%q is no fault mode", clip(text))
	case !known && u.index == 0 && c.unit(part) != nil:
		c.fail(at, fmt.Sprintf("did you mean \"%s.%s\"? A block's part is written with its block", part, name), "%q is a block, not a part", clip(part))
	case !known && c.conds[u.prefix+part] != nil:
		c.fail(at, fmt.Sprintf("write \"%s is %s\"", part, name), "%q is a condition, not a part", clip(part))
	case !known:
		c.fail(at, hintNames(part, c.partNames(u)), "there is no part %q", clip(part))
	default:
		c.fail(at, hintNames(name, c.condList[c.m.Parts[p].Cond].cond.States[1:]), "part %q has no mode %q", part, clip(name))
	}
	return 0, false
}

// unit finds a block of the device by its name.
func (c *composer) unit(id string) *unitRef {
	for _, u := range c.units[1:] {
		if u.id == id {
			return u
		}
	}
	return nil
}

func (c *composer) partNames(u *unitRef) []string {
	var out []string
	for _, p := range c.m.Parts {
		if rest, ok := strings.CutPrefix(p.ID, u.prefix); ok && (u.index == 0 || !strings.Contains(rest, ".")) {
			out = append(out, rest)
		}
	}
	return out
}
