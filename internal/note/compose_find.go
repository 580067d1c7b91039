package note

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What can be observed: symptoms, and the findings of checks.

func (c *composer) addFindings() {
	for _, u := range c.units {
		for i := range u.body.symptoms {
			d := &u.body.symptoms[i]
			if f, ok := c.finding(u, d, u.prefix+d.name.text, spoken(d.name.text), -1); ok {
				if f.Title != "" && !containsFold(f.Says, f.Title) {
					f.Says = append([]string{f.Title}, f.Says...)
				}
				c.addFinding(f, d.name)
			}
		}
	}
	c.addDenials()
	for _, u := range c.units {
		for i := range u.body.checks {
			c.addCheck(u, &u.body.checks[i])
		}
	}
}

// addDenials links each symptom with those it denies. A block's may name its
// device's, which not every device has.
func (c *composer) addDenials() {
	for _, u := range c.units {
		for i := range u.body.symptoms {
			d := &u.body.symptoms[i]
			at, ok := c.finds[u.prefix+d.name.text]
			for _, n := range d.denies {
				if !ok {
					break
				}
				other, found := c.finds[u.prefix+n.text]
				if !found {
					other, found = c.finds[n.text]
				}
				switch {
				case !found && u.use == nil && !c.alone:
					c.fail(n, hintNames(n.text, c.symptomNames()), "%q denies %q, which is no symptom here", d.name.text, clip(n.text))
				case found && other == at:
					c.fail(n, "name another symptom", "%q denies itself", d.name.text)
				case found:
					c.m.Findings[at].Denies = append(c.m.Findings[at].Denies, other)
				}
			}
		}
	}
}

func (c *composer) symptomNames() []string {
	var out []string
	for _, f := range c.m.Findings {
		out = append(out, f.ID)
	}
	return out
}

func (c *composer) addFinding(f Finding, at *node) (index int, ok bool) {
	if _, twice := c.finds[f.ID]; twice {
		c.fail(at, "", "there is another finding %q", f.ID)
		return 0, false
	}
	c.finds[f.ID] = len(c.m.Findings)
	c.m.Findings = append(c.m.Findings, f)
	return len(c.m.Findings) - 1, true
}

func (c *composer) addCheck(u *unitRef, d *checkDef) {
	k := Check{ID: u.prefix + d.name.text, Title: d.title, How: d.how, With: d.with, Unit: u.index,
		Minutes: d.minutes, Access: c.accessOf(u, d.at), Live: d.live, Hazards: c.stepHazards(d.hazards), Harm: d.harm}
	index := len(c.m.Checks)
	left := false
	for i := range d.finds {
		title := d.title // what a finding without a title of its own is called
		if len(d.finds) > 1 {
			title += ": " + spoken(d.finds[i].name.text)
		}
		f, ok := c.finding(u, &d.finds[i], k.ID+"."+d.finds[i].name.text, title, index)
		if !ok {
			left = true
			continue
		}
		if at, ok := c.addFinding(f, d.finds[i].name); ok {
			k.Findings = append(k.Findings, at)
		}
	}
	if len(d.with) == 0 {
		c.fail(d.name, "say with what: eyes, nose, ears, hands, multimeter, …", "check %q needs an instrument", d.name.text)
	}
	if len(k.Findings) == 0 {
		if len(d.finds) == 0 && !left {
			c.fail(d.name, "give it finds:", "check %q finds nothing", d.name.text)
		}
		return // all it could find has been left out, or was reported
	}
	c.m.Checks = append(c.m.Checks, k)
}

// stepHazards are those of a step in this device. A block does not know how much
// charge the device it sits in holds: where the device says, its figures count,
// so that nobody is told two.
func (c *composer) stepHazards(hs []Hazard) []Hazard {
	out := append([]Hazard(nil), hs...)
	for i := range out {
		for _, h := range c.m.Hazards {
			if h.Kind == out[i].Kind && (h.Volts > 0 || h.Joules > 0) {
				out[i].Volts, out[i].Joules = h.Volts, h.Joules
			}
		}
	}
	return out
}

// finding resolves one. ok is false if it is left out: it was reported, or all
// that it shows is something this device does not have.
func (c *composer) finding(u *unitRef, d *findDef, id, title string, check int) (f Finding, ok bool) {
	f = Finding{ID: id, Title: d.title, Ask: d.ask, Unit: u.index, Check: check, Says: append([]string(nil), d.says...),
		Comes: d.comes, Leak: max(d.leak, floor), Cond: -1}
	if f.Title == "" {
		f.Title = title
	}
	table := len(d.answers) > 0 || len(d.gives) > 0
	switch {
	case len(d.shows) > 0 && (table || len(d.reads) > 0 || d.of != nil), table && len(d.reads) > 0:
		c.fail(d.name, "it is either a sign (shows), a table (of, answers, gives) or a reading (of, reads)", "%q is two sorts of finding at once", d.name.text)
		return f, false
	case len(d.shows) > 0:
		ok = c.sign(u, d, &f)
	case d.of == nil:
		c.fail(d.name, "expected shows:, or of: with answers: and gives:, or of: with reads:", "%q says nothing about its causes", d.name.text)
	case table:
		ok = c.pick(u, d, &f)
	case len(d.reads) > 0:
		ok = c.reading(u, d, &f)
	default:
		c.fail(d.of, "expected answers: and gives:, or reads:", "%q says nothing about what is found", d.name.text)
	}
	if f.Ask == "" {
		f.Ask = question(f)
	}
	return f, ok
}

// question is what to ask when the note does not say.
func question(f Finding) string {
	title := upperFirst(strings.TrimRight(f.Title, ".?! "))
	switch f.Kind {
	case Pick:
		return title + ": which of these?"
	case Reading:
		if f.Measure == "" {
			return title + ": how much is it?"
		}
		return title + ": what is it, in " + f.Measure + "?"
	}
	return title + "?"
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func containsFold(all []string, s string) bool {
	for _, a := range all {
		if strings.EqualFold(a, s) {
			return true
		}
	}
	return false
}

// sign resolves the causes of a noisy-OR.
func (c *composer) sign(u *unitRef, d *findDef, f *Finding) bool {
	f.Kind = Sign
	before, raised := len(c.list), false
	gone := false
	for _, o := range d.shows {
		t, ok := c.trigger(u, o)
		if !ok {
			gone = true
			continue
		}
		raised = raised || o.chance > 0
		if o.chance > 0 {
			t.Chance = clampChance(o.chance)
			f.Trigger = append(f.Trigger, t)
		}
	}
	switch {
	case raised || c.failed(before):
		return raised
	case !gone:
		c.fail(d.name, "give at least one cause a chance above never", "nothing can raise %q", d.name.text)
	}
	return false
}

// trigger resolves one cause. ok is false if it was reported or left out.
func (c *composer) trigger(u *unitRef, o oddsDef) (Trigger, bool) {
	about, rest, isState := splitCause(o.key.text)
	if !isState {
		m, ok := c.findMode(u, o.key, o.key.text)
		return Trigger{Mode: m, Cond: -1}, ok
	}
	r := c.conds[u.prefix+about]
	if r == nil {
		if !u.gone(about, "") {
			c.fail(o.key, hintNames(about, c.condNames(u, true)), "there is no condition %q", clip(about))
		}
		return Trigger{}, false
	}
	bits, unknown := stateBits(rest, r.cond.States)
	if unknown != "" {
		if !u.gone(about, unknown) {
			c.fail(o.key, hintNames(unknown, r.cond.States), "%q has no state %q", about, clip(unknown))
		}
		return Trigger{}, false
	}
	return Trigger{Mode: -1, Cond: r.index, States: bits}, true
}

// depends resolves `of`.
func (c *composer) depends(u *unitRef, d *findDef, f *Finding) *condRef {
	r := c.conds[u.prefix+d.of.text]
	switch {
	case r != nil:
		f.Cond = r.index
	case !u.gone(d.of.text, ""):
		c.fail(d.of, hintNames(d.of.text, c.condNames(u, true)), "there is no condition or part %q", clip(d.of.text))
	}
	return r
}

// cover says which row of a table holds for each state: by its own key, or by
// else. It reports keys that are no state, states with two rows and states with none.
func (c *composer) cover(u *unitRef, r *condRef, d *findDef, keys []*node) (rows []int, ok bool) {
	before := len(c.list)
	rows = make([]int, len(r.cond.States))
	rest := -1
	for s := range rows {
		rows[s] = -1
	}
	for i, k := range keys {
		if k.text == "else" {
			rest = i
			continue
		}
		bits, unknown := stateBits(k.text, r.cond.States)
		if unknown != "" {
			if !u.gone(d.of.text, unknown) {
				c.fail(k, hintNames(unknown, r.cond.States), "%q has no state %q", d.of.text, clip(unknown))
			}
			continue
		}
		for s := range rows {
			if bits&(1<<s) == 0 {
				continue
			}
			if rows[s] >= 0 {
				c.fail(k, "", "state %q has two rows", r.cond.States[s])
			}
			rows[s] = i
		}
	}
	var missing []string
	for s := range rows {
		if rows[s] < 0 {
			rows[s] = rest
		}
		if rows[s] < 0 {
			missing = append(missing, r.cond.States[s])
		}
	}
	if len(missing) > 0 && !c.failed(before) {
		c.fail(d.of, "add them, or else: for all that are not listed", "%q says nothing for: %s", d.name.text, strings.Join(missing, ", "))
	}
	return rows, !c.failed(before)
}

// reading resolves the distribution of a number in each state.
func (c *composer) reading(u *unitRef, d *findDef, f *Finding) bool {
	f.Kind = Reading
	r := c.depends(u, d, f)
	if r == nil {
		return false
	}
	keys := make([]*node, len(d.reads))
	for i, row := range d.reads {
		keys[i] = row.states
		if row.unit != d.reads[0].unit {
			c.fail(row.states, "all states of a reading have the same sort of unit", "%q is read in %s here and in %s above",
				d.name.text, orPlain(row.unit), orPlain(d.reads[0].unit))
		}
	}
	f.Measure = d.reads[0].unit
	rows, ok := c.cover(u, r, d, keys)
	if !ok {
		return false
	}
	for _, row := range rows {
		f.Dist = append(f.Dist, d.reads[row].dist)
	}
	return true
}

func orPlain(unit string) string {
	if unit == "" {
		return "plain numbers"
	}
	return unit
}

// sortedKeys are the keys of a map in a fixed order.
func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
