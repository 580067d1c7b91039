package note

import (
	"sort"
	"strings"
)

// A composer builds one Model: it gives every unit's things their full names,
// resolves what refers to what, and puts causes before consequences. Each step
// reports all it finds wrong and leaves out only the thing itself, so that one
// pass names every problem; a model with problems is thrown away at the end.
type composer struct {
	sink
	lib   *Library
	dev   *deviceDef
	alone bool // a block composed by itself, to check it
	m     *Model

	units    []*unitRef
	conds    map[string]*condRef
	condList []*condRef
	parts    map[string]int
	modes    map[string]int
	modeDefs []*modeRef
	finds    map[string]int
	access   map[string]int
	tries    map[int]bool // access levels that say whether the device can be tried there
	weights  []float64
	cashAt   *node // where the currency was first stated
}

// A unitRef is one unit with the note it came from.
type unitRef struct {
	index   int
	id      string
	prefix  string // "supply."
	body    *blockDef
	use     *useDef         // nil for the device itself
	removed map[string]bool // what `without` took out: "bridge", "bridge short"
	wires   map[string][]string
	words   map[string]string // access words of the block → of the device
}

// A condRef is a condition on its way into the model.
type condRef struct {
	cond  Condition
	index int
	unit  *unitRef
	def   *condDef // nil for the condition that tells a part's state
	part  int      // index of that part, or -1
	need  bool
	links []rawLink
}

type rawLink struct {
	from *condRef
	to   []int
	at   *node
}

type modeRef struct {
	def    *modeDef
	part   *partDef
	unit   *unitRef
	causes []rawCause
}

type rawCause struct {
	mode   int
	chance float64
}

// compose resolves one device. The problems may be warnings only.
func compose(lib *Library, dev *deviceDef, alone bool) (*Model, Problems) {
	c := &composer{lib: lib, dev: dev, alone: alone, m: &Model{},
		conds: map[string]*condRef{}, parts: map[string]int{}, modes: map[string]int{}, finds: map[string]int{}, access: map[string]int{}, tries: map[int]bool{}}
	c.header()
	c.addUnits()
	if len(c.units) <= len(c.dev.uses) { // whatever refers to the missing block would be reported too
		return nil, c.list.sorted()
	}
	c.addAccess()
	c.addConditions()
	c.addParts()
	c.linkConditions()
	c.orderConditions()
	c.addEffects()
	c.addCauses()
	c.orderModes()
	c.addFindings()
	c.addRepairs()
	c.addTries()
	c.addTrials()
	c.addPriors()
	if !c.failed(0) {
		c.lint()
	}
	return c.m, c.list.sorted()
}

func (c *composer) header() {
	d := c.dev
	c.m.ID, c.m.Title, c.m.About = d.id.text, d.title, d.about
	c.m.Names, c.m.MassKg, c.m.Hazards = d.names, d.mass, d.hazards
	c.m.TryMinutes, c.m.Currency = d.try, "EUR"
	c.m.Worth, c.m.Scrap = c.cash(d.worth), c.cash(d.scrap)
	if d.category != nil {
		c.m.Category = d.category.text
		if !contains(categories, d.category.text) {
			c.fail(d.category, hintNames(d.category.text, categories), "unknown category %q", clip(d.category.text))
		}
	}
}

// cash takes an amount in the model's currency, which the first amount sets.
func (c *composer) cash(m money) float64 {
	switch {
	case m.at == nil:
		return 0
	case c.cashAt == nil:
		c.cashAt, c.m.Currency = m.at, m.currency
	case m.currency != c.m.Currency:
		c.fail(m.at, "all prices of a device are in one currency, here "+c.m.Currency, "the price is in %s", m.currency)
	}
	return m.amount
}

// addUnits lists the device itself and its blocks, with their changes applied.
func (c *composer) addUnits() {
	own := &unitRef{body: &c.dev.blockDef}
	c.units = []*unitRef{own}
	c.m.Units = []Unit{{ID: "", Title: c.dev.title}}
	for i := range c.dev.uses {
		use := &c.dev.uses[i]
		if use.use == nil {
			continue // reported when it was read
		}
		b := c.lib.blocks[use.use.text]
		if b == nil {
			c.fail(use.use, hintNames(use.use.text, c.lib.blockNames()), "there is no block %q", clip(use.use.text))
			continue
		}
		b.read()
		if broken := b.broken(); len(broken) > 0 || b.block == nil {
			c.fail(use.use, "put its note right first", "block %q has problems in its own note", use.use.text)
			c.list = append(c.list, broken...)
			continue
		}
		u := &unitRef{index: len(c.units), id: use.name.text, prefix: use.name.text + ".", use: use, body: b.block}
		if use.change != nil || len(use.without) > 0 {
			u.body = c.changed(u, b)
		}
		c.units = append(c.units, u)
		title := use.title
		if title == "" {
			title = u.body.title
		}
		c.m.Units = append(c.m.Units, Unit{ID: u.id, Title: title, Block: use.use.text})
	}
}

// changed applies a use's changes and omissions to the block's tree and reads it again.
func (c *composer) changed(u *unitRef, b *file) *blockDef {
	tree := b.tree
	if u.use.change != nil {
		tree = merge(tree, u.use.change)
	}
	u.removed = map[string]bool{}
	for _, w := range u.use.without {
		out, ok, missing, names := remove(tree, w.text)
		if !ok {
			c.fail(w, hintNames(missing, names), "there is no %q to leave out: %q is not in the block", clip(w.text), missing)
			continue
		}
		tree = out
		u.removed[removedName(w.text)] = true
	}
	def := &blockDef{}
	readKeys(&c.sink, tree, "block "+b.id, blockKeys, def)
	return def
}

// removedName is how the note refers to what a path took out.
func removedName(path string) string {
	steps := strings.Split(path, ".")
	switch {
	case len(steps) == 2:
		return steps[1]
	case len(steps) == 4 && steps[0] == "parts" && steps[2] == "modes":
		return steps[1] + " " + steps[3]
	}
	return path
}

// gone reports whether a unit's own note speaks of something the device has left out.
func (u *unitRef) gone(name, mode string) bool {
	return u.removed[name] || u.removed[name+" "+mode]
}

// inOrder returns the indexes 0..n-1 such that each comes after its before(i),
// and otherwise as they were. circle is a path that leads back to its start, if there is one.
func inOrder(n int, before func(int) []int) (order, circle []int) {
	const (
		fresh = iota
		open
		done
	)
	state := make([]int8, n)
	var path []int
	var visit func(int)
	visit = func(i int) {
		if state[i] == done || circle != nil {
			return
		}
		if state[i] == open {
			for k := len(path) - 1; k >= 0; k-- {
				if path[k] == i {
					circle = append([]int(nil), path[k:]...)
					return
				}
			}
		}
		state[i] = open
		path = append(path, i)
		for _, j := range before(i) {
			visit(j)
		}
		path = path[:len(path)-1]
		state[i] = done
		order = append(order, i)
	}
	for i := 0; i < n; i++ {
		visit(i)
	}
	if circle != nil { // any order will do: the model is thrown away
		order = order[:0]
		for i := 0; i < n; i++ {
			order = append(order, i)
		}
	}
	return order, circle
}

// condNames are the names a unit's note may use for conditions and parts.
func (c *composer) condNames(u *unitRef, parts bool) []string {
	var out []string
	for id, r := range c.conds {
		if (parts || r.part < 0) && strings.HasPrefix(id, u.prefix) {
			if rest := id[len(u.prefix):]; u.index == 0 || !strings.Contains(rest, ".") {
				out = append(out, rest)
			}
		}
	}
	sort.Strings(out)
	return out
}
