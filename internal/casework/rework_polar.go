package casework

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"fettler/internal/note"
	"fettler/internal/rework"
)

// Polarised returns the parts that a repair replaces and that have a right way
// round, with how they sat and sit; none for a repair the note does not know.
func (b *Bench) Polarised(ctx context.Context, caseID, repair string) ([]Polar, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	r, ok := c.names.repairs[repair]
	if !ok {
		return nil, nil
	}
	return c.polarOf(r), nil
}

// polarOf lists the polarised parts a repair puts in new. A repair that buys nothing
// cleans or resolders, one that swaps a whole block does not turn its parts, and what
// is plugged in with a key fits one way only.
func (c *Case) polarOf(r int) []Polar {
	x := &c.Model.Repairs[r]
	if x.Whole || len(x.Buys) == 0 {
		return nil
	}
	var out []Polar
	seen := map[int]bool{}
	for _, cl := range x.Clears {
		p := c.Model.Modes[cl.Mode].Part
		if cl.Success > 0 && !seen[p] {
			seen[p] = true
			var bought []string
			for _, b := range x.Buys {
				bought = append(bought, b.What)
			}
			out = append(out, c.polarParts(&c.Model.Parts[p], bought)...)
		}
	}
	out = slices.DeleteFunc(out, func(p Polar) bool { return rework.Keyed(p.Sort, x.With) })
	for i := range out {
		out[i] = c.anew(out[i], r)
	}
	return out
}

// anew is a part about to be replaced once more by repair r: as it was fitted last is
// how it was before this time.
func (c *Case) anew(p Polar, r int) Polar {
	for k, a := range c.Evidence.Acts {
		if a.Repair == r && p.After != nil && p.After.Event < c.Acts[k] {
			if p.Before == nil || p.Before.Event < c.Acts[k] {
				p.Before = p.After
			}
			p.After = nil
			p.Mismatch = mismatch(p)
		}
	}
	return p
}

// polarParts is a part of the note, one by one if it stands for several; bought is what
// a repair buys for it.
func (c *Case) polarParts(p *note.Part, bought []string) []Polar {
	r, ok := rework.WayRoundOf(p.Kind, append([]string{p.Value}, bought...)...)
	if !ok {
		return nil
	}
	marks := rework.Designators(p.Mark)
	if len(marks) == 0 {
		marks = []string{p.Title}
	}
	var out []Polar
	for _, m := range marks {
		out = append(out, c.ways(Polar{Mark: m, Part: p.Title, Kind: p.Kind, Sort: r.Sort, Look: r.Mark, Why: r.Why}))
	}
	return out
}

// ways adds how a part was seen to sit.
func (c *Case) ways(p Polar) Polar {
	if w, ok := c.rework.ways[wayKey{p.Mark, "before"}]; ok {
		p.Before = &w
	}
	if w, ok := c.rework.ways[wayKey{p.Mark, "after"}]; ok {
		p.After = &w
	}
	p.Mismatch = mismatch(p)
	return p
}

// mismatch says how the part sits otherwise than it did.
func mismatch(p Polar) string {
	b, a := p.Before, p.After
	switch {
	case b == nil || a == nil:
		return ""
	case b.Side != "" && a.Side != "" && b.Side != a.Side:
		return fmt.Sprintf("%s was on the %s side and is on the %s side", p.Mark, b.Side, a.Side)
	case b.Points != a.Points:
		why := ""
		if p.Why != "" {
			why = ": " + p.Why
		}
		return fmt.Sprintf("%s: %s pointed %s before and points %s now%s", p.Mark, p.Look, b.Points, a.Points, why)
	}
	return ""
}

// Unsettled says of polarised parts that go in new what hinders writing it down: those
// that sit otherwise than before, in words, and the marks of those of which it is not
// noted how they sat and sit.
func Unsettled(list []Polar) (wrong, open []string) {
	for _, x := range list {
		switch {
		case x.Mismatch != "":
			wrong = append(wrong, x.Mismatch)
		case x.Before == nil || x.After == nil:
			open = append(open, x.Mark)
		}
	}
	return wrong, open
}

// turned is every part that sits otherwise than it did, in words. A repair written down
// since says that it is meant so.
func (c *Case) turned() []string {
	out := []string{}
	for _, p := range c.polar() {
		if p.Mismatch != "" && p.After.Event > c.replaced(p.Mark) {
			out = append(out, p.Mismatch)
		}
	}
	return out
}

// replaced is the event of the last repair that put in a new part with this mark, 0 if none.
func (c *Case) replaced(mark string) int {
	last := 0
	for k, a := range c.Evidence.Acts {
		if c.Model == nil || a.Repair < 0 {
			continue
		}
		if slices.ContainsFunc(c.polarOf(a.Repair), func(p Polar) bool { return p.Mark == mark }) {
			last = max(last, c.Acts[k])
		}
	}
	return last
}

// polarOfPart is the polarised parts among those a job at the board is about, such as
// "C1, C2"; a part the note does not know counts once its way round was noted.
func (c *Case) polarOfPart(part string) []Polar {
	out := []Polar{}
	if part == "" {
		return out
	}
	known, noted := c.polarised(), c.polar()
	for _, m := range rework.Designators(part) {
		if p, ok := known[m]; ok {
			out = append(out, p)
		} else if i := slices.IndexFunc(noted, func(p Polar) bool { return p.Mark == m }); i >= 0 {
			out = append(out, noted[i])
		}
	}
	return out
}

// polarised is every part of the note that has a right way round, by its mark.
func (c *Case) polarised() map[string]Polar {
	known := map[string]Polar{}
	if c.Model != nil {
		for i := range c.Model.Parts {
			for _, p := range c.polarParts(&c.Model.Parts[i], nil) {
				known[p.Mark] = p
			}
		}
	}
	return known
}

// polar is every part whose way round was noted, with the note's own words for it.
func (c *Case) polar() []Polar {
	if len(c.rework.ways) == 0 {
		return []Polar{}
	}
	known := c.polarised()
	marks := map[string]bool{}
	for k := range c.rework.ways {
		marks[k.mark] = true
	}
	out := []Polar{}
	for _, m := range slices.SortedFunc(maps.Keys(marks), natural) {
		p, ok := known[m]
		if !ok {
			p = Polar{Mark: m, Look: "the mark"}
			for _, when := range stages {
				if r, ok := rework.SortOf(c.rework.ways[wayKey{m, when}].Sort); ok {
					p.Sort, p.Look, p.Why = r.Sort, r.Mark, r.Why
				}
			}
			p = c.ways(p)
		}
		out = append(out, p)
	}
	return out
}
