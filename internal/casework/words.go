package casework

import (
	"strings"

	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/quantity"
)

// checkedWords is a check with what it told: the title once, and what was looked
// for and not seen together at the end.
func (c *Case) checkedWords(p Checked) string {
	title := c.checkTitle(p.Check)
	var there, not []string
	for _, v := range p.Values {
		name := v.Finding
		if f, ok := c.names.findings[v.Finding]; ok {
			name = c.Model.Findings[f].Title
		}
		if v.denied() && v.Of == 0 {
			not = append(not, without(title, name))
		} else {
			there = append(there, under(title, name, v))
		}
	}
	return title + ": " + seen(there, not)
}

// seen lists what was found, and what was looked for in vain.
func seen(there, not []string) string {
	switch {
	case len(not) == 0:
		return strings.Join(there, "; ")
	case len(there) == 0 && len(not) == 1:
		return absent(not[0])
	case len(there) == 0:
		return "none of it (" + strings.Join(not, "; ") + ")"
	case len(not) == 1:
		return strings.Join(there, "; ") + "; " + absent(not[0])
	}
	return strings.Join(there, "; ") + "; none of the rest (" + strings.Join(not, "; ") + ")"
}

// under is a finding with its value where its check's title stands before it.
func under(title, name string, v Value) string {
	if same(title, name) && v.Shows == nil {
		return v.words()
	}
	return v.phrase(without(title, name))
}

// without leaves the check's title out of a finding's.
func without(title, name string) string {
	if rest, ok := strings.CutPrefix(name, title+": "); ok {
		return rest
	}
	return name
}

// colon parts a value's phrase from what is said of it; a phrase with a colon is no place for another.
func (v Value) colon() string {
	if v.Shows != nil && !v.denied() {
		return ": "
	}
	return ", "
}

// absent says that a sign does not show: "hums: no", and of "no sound" that there is sound.
func absent(title string) string {
	for _, no := range []string{"no ", "not "} {
		if rest, ok := strings.CutPrefix(title, no); ok {
			return rest + ": yes"
		}
	}
	return title + ": no"
}

// same says that a finding's name says nothing that its check's title does not say: "heating
// element" under "Ohms of the heating element".
func same(title, name string) bool {
	at := strings.Index(strings.ToLower(title), strings.ToLower(name))
	if name == "" || at < 0 {
		return false
	}
	letter := func(i int) bool {
		return i >= 0 && i < len(title) && title[i] > ' ' && title[i] != ',' && title[i] != ':'
	}
	return !letter(at-1) && !letter(at+len(name))
}

// outcomeWords says an outcome of a finding.
func (s *sheet) outcomeWords(v plan.Value) string { return s.outcomeUnder("", v) }

// outcomeUnder says an outcome of a finding where title stands before it.
func (s *sheet) outcomeUnder(title string, v plan.Value) string {
	x := &s.k.m.Findings[v.Finding]
	name := without(title, x.Title)
	if x.Kind == note.Sign {
		shows := 1 - v.Outcome
		return Value{Shows: &shows}.phrase(name)
	}
	lead := name + ": "
	if same(title, name) {
		lead = ""
	}
	if x.Kind == note.Pick {
		return lead + x.Answers[v.Outcome]
	}
	o := s.e.Outcomes(v.Finding)[v.Outcome]
	return lead + s.k.m.Conditions[x.Cond].States[o.State] + " (" + distWords(x.Dist[o.State], x.Measure) + ")"
}

// outcomesUnder says outcomes of several findings of the move with that title: what
// there is, and only then that the rest was looked for in vain.
func (s *sheet) outcomesUnder(title string, values []plan.Value) string {
	if len(values) == 1 {
		return s.outcomeUnder(title, values[0])
	}
	var there []string
	not := 0
	for _, v := range values {
		if s.k.m.Findings[v.Finding].Kind == note.Sign && v.Outcome == 1 {
			not++
			continue
		}
		there = append(there, s.outcomeUnder(title, v))
	}
	switch {
	case len(there) == 0:
		return "nothing of what was looked for"
	case not == 1:
		there = append(there, "the other: no")
	case not > 1:
		there = append(there, "the others: no")
	}
	return strings.Join(there, "; ")
}

// distWords is a range of readings as one says it: "30 to 42 V", "over 100 kΩ".
func distWords(d note.Dist, unit string) string {
	if d.Over || d.Under {
		return quantity.Range{Low: d.Low, High: d.High, Unit: unit, Over: d.Over, Under: d.Under}.String()
	}
	low, high := quantity.Format(d.Low, unit, 3), quantity.Format(d.High, unit, 3)
	if d.Low == 0 {
		return "under " + high
	}
	n, u, ok := strings.Cut(low, " ")
	if _, v, _ := strings.Cut(high, " "); ok && u == v {
		return n + " to " + high
	}
	return low + " to " + high
}

// overlaps says that a reading can lie in two of the ranges.
func overlaps(ds []note.Dist) bool {
	for i, a := range ds {
		for _, b := range ds[:i] {
			if a.Over || a.Under || b.Over || b.Under {
				continue
			}
			if a.Low < b.High && b.Low < a.High {
				return true
			}
		}
	}
	return false
}
