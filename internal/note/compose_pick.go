package note

import "strings"

// sumSlack is how far the words of a row may add up beyond 1: "always" and
// "rarely" side by side are meant well.
const sumSlack = 0.05

// pick resolves a table of answers by state.
func (c *composer) pick(u *unitRef, d *findDef, f *Finding) bool {
	f.Kind = Pick
	r := c.depends(u, d, f)
	if r == nil {
		return false
	}
	before := len(c.list)
	for _, a := range d.answers {
		if indexOf(f.Answers, a.text) >= 0 {
			c.fail(a, "", "the answer %q stands here twice", clip(a.text))
			continue
		}
		f.Answers = append(f.Answers, a.text)
	}
	if len(f.Answers) < 2 {
		c.fail(d.name, "give answers: at least two", "%q leaves no choice", d.name.text)
		return false
	}
	keys := make([]*node, len(d.gives))
	rows := make([][]float64, len(d.gives))
	for i, g := range d.gives {
		keys[i] = g.states
		rows[i] = c.row(d, g, f.Answers)
	}
	of, ok := c.cover(u, r, d, keys)
	if !ok || c.failed(before) {
		return false
	}
	for _, i := range of {
		f.Table = append(f.Table, append([]float64(nil), rows[i]...))
	}
	return true
}

// row completes one row so that it adds up to 1: what the stated chances leave
// is spread evenly over the answers not stated, and no answer is impossible.
func (c *composer) row(d *findDef, g rowDef, answers []string) []float64 {
	row := make([]float64, len(answers))
	stated := make([]bool, len(answers))
	sum, n := 0.0, 0
	for _, cell := range g.cells {
		a := indexOf(answers, strings.TrimSpace(cell.key.text))
		if a < 0 {
			c.fail(cell.key, hintNames(cell.key.text, answers), "%q has no answer %q", d.name.text, clip(cell.key.text))
			continue
		}
		row[a], stated[a] = cell.chance, true
		sum += cell.chance
		n++
	}
	switch {
	case sum > 1+sumSlack:
		c.fail(g.states, "they must add up to 1", "the chances of %q add up to %.3g", clip(g.states.text), sum)
	case n == len(answers) && sum < 1-2*sumSlack:
		c.warn(g.states, "they are scaled up to 1", "the chances of %q add up to %.3g and no answer is left for the rest", clip(g.states.text), sum)
	}
	if rest := 1 - sum; rest > 0 {
		for a := range row {
			if !stated[a] {
				row[a] = rest / float64(len(answers)-n)
			}
		}
	}
	return levelled(row)
}

// levelled scales a row to sum 1 with every cell at least at the floor.
func levelled(row []float64) []float64 {
	sum := 0.0
	for _, p := range row {
		sum += p
	}
	if sum <= 0 {
		for i := range row {
			row[i] = 1 / float64(len(row))
		}
		return row
	}
	least := min(floor, 0.5/float64(len(row)))
	low := make([]bool, len(row)) // at the floor
	for more := true; more; {     // scaling the others may push another one below
		more = false
		taken, left := 0.0, 0.0
		for i, p := range row {
			if !low[i] && p/sum < least {
				low[i], more = true, true
			}
			if low[i] {
				taken += least
			} else {
				left += p
			}
		}
		sum = left / (1 - taken)
	}
	for i := range row {
		if row[i] /= sum; low[i] {
			row[i] = least
		}
	}
	return row
}
