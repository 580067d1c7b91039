package note

import (
	"strings"

	"fettler/internal/quantity"
)

// addTrials resolves the test cases of a device.
func (c *composer) addTrials() {
	for i := range c.dev.trials {
		d := &c.dev.trials[i]
		t := Trial{Title: d.title, Within: d.within, Where: d.at.pos()}
		for _, g := range d.given {
			if v, ok := c.given(g); ok {
				t.Given = append(t.Given, v)
			}
		}
		for _, e := range d.expect {
			if id, ok := c.expected(e); ok {
				t.Expect = append(t.Expect, id)
			}
		}
		c.m.Trials = append(c.m.Trials, t)
	}
}

// expected resolves "supply.reservoir dried-out", or a part or unit any of whose modes will do.
func (c *composer) expected(n *node) (string, bool) {
	id := strings.Join(strings.Fields(n.text), ".")
	for _, m := range c.m.Modes {
		if m.ID == id || strings.HasPrefix(m.ID, id+".") {
			return id, true
		}
	}
	var ids []string
	for _, m := range c.m.Modes {
		at := strings.LastIndexByte(m.ID, '.')
		ids = append(ids, m.ID[:at]+" "+m.ID[at+1:])
	}
	c.fail(n, hintNames(n.text, ids), "there is no fault %q", clip(n.text))
	return "", false
}

func (c *composer) given(g givenDef) (Given, bool) {
	i, ok := c.finds[g.finding.text]
	if !ok {
		c.fail(g.finding, hintNames(g.finding.text, sortedKeys(c.finds)), "there is no finding %q", clip(g.finding.text))
		return Given{}, false
	}
	f := &c.m.Findings[i]
	out := Given{Finding: i, Value: 1}
	switch {
	case f.Kind == Sign && g.value == nil:
		if g.not {
			out.Value = 0
		}
		return out, true
	case g.value == nil:
		c.fail(g.finding, "write it as {finding: value}", "%q needs a value", g.finding.text)
		return out, false
	}
	value := strings.TrimSpace(g.value.text)
	switch f.Kind {
	case Sign:
		yes, ok := yesNo(g.value)
		if !ok {
			c.fail(g.value, "expected yes or no", "%q is seen or not", g.finding.text)
		}
		if !yes {
			out.Value = 0
		}
		return out, ok
	case Pick:
		if out.Value = indexOf(f.Answers, value); out.Value < 0 {
			c.fail(g.value, hintNames(value, f.Answers), "%q has no answer %q", g.finding.text, clip(value))
		}
		return out, out.Value >= 0
	}
	x, err := quantity.ParseIn(value, f.Measure)
	if err != nil {
		c.fail(g.value, "", "%v", err)
	}
	out.Value, out.Reading = 0, x
	return out, err == nil
}
