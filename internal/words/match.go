package words

import (
	"maps"
	"math"
	"slices"
)

// The factors of a score. None was fitted by machine: they were set by hand on
// the development half of the labelled texts.
const (
	bestScore     = 0.96 // a phrase said in full
	perGapWord    = 0.12 // each idea between, not of the phrase
	perClause     = 0.85 // each clause boundary within
	guessFactor   = 0.6  // "maybe"
	askFactor     = 0.85 // "stuck?"
	causeFactor   = 0.5  // a lone word within a stated cause
	whenFactor    = 0.5  // "when switched on" does not say that it is on
	othersFactor  = 0.5  // the predicate speaks about something else
	affirmFactor  = 0.85 // denied by "heats fine"
	synonymFactor = 0.95 // a synonym, where another entry has the word itself
	leastCoverage = 0.6  // of a phrase's weight, to be considered at all
	denyCoverage  = 0.95 // of its weight, to be denied
)

// A hit is a phrase found in a sentence.
type hit struct {
	phrase  int
	marks   []int // ascending, with the predicates their parts took over
	denied  bool
	byDeed  bool // denied by an affirmed deed or part
	score   float64
	clauses int
	full    bool
}

// locate looks for phrase ph among the marks of one sentence, [lo, hi).
func (x *Index) locate(p *passage, ph, lo, hi int) (hit, bool) {
	f := &x.phrases[ph]
	found := make([]int, len(f.terms))
	anchor := -1
	covered := 0.0
	for t := range f.terms {
		found[t] = p.nearest(f.terms[t], lo, hi, anchor)
		if found[t] >= 0 {
			covered += x.weight[f.terms[t].concept]
			anchor = found[t]
		}
	}
	coverage := covered / f.total
	if coverage < leastCoverage {
		return hit{}, false
	}
	if f.modifies && !p.oneClause(found) {
		return hit{}, false
	}
	if len(f.terms) == 1 && !p.saysEnough(f, found[0]) || p.saysOtherwise(found) {
		return hit{}, false
	}
	denied, byDeed, ok := f.polarity(p, found)
	if !ok || denied && coverage < denyCoverage {
		return hit{}, false
	}
	h := hit{phrase: ph, denied: denied, byDeed: byDeed, full: coverage > denyCoverage}
	h.score = bestScore * coverage * coverage * p.quality(f, found, &h)
	return h, h.score > 0
}

// saysOtherwise holds if one of the marks stands in a clause that says the
// contrary of another one found elsewhere: in "works on mains, not on batteries"
// it is not the mains on which it does not work.
func (p *passage) saysOtherwise(found []int) bool {
	for _, a := range found {
		for _, d := range found {
			if a < 0 || d < 0 || p.marks[a].clause == p.marks[d].clause || p.marks[d].kind == thing {
				continue
			}
			for k := range p.marks {
				if m := &p.marks[k]; m.clause == p.marks[a].clause && m.concept == p.marks[d].concept && m.neg != p.marks[d].neg {
					return true
				}
			}
		}
	}
	return false
}

// saysEnough keeps the bare name of a part from standing for what a phrase
// says of it ("light" for "light is on"), and a deed that is as it should be
// from standing for one that does not end.
func (p *passage) saysEnough(f *phrase, k int) bool {
	m, t := &p.marks[k], &f.terms[0]
	if t.takes && !t.neg && !m.neg && len(m.takes) == 0 {
		return false
	}
	return !f.lasting || m.neg || p.lasting(m.clause)
}

// lasting holds if a clause says that something does not end.
func (p *passage) lasting(clause int) bool {
	for i, t := range p.tokens {
		if p.clause[i] == clause && lastingWords[t.word] {
			return true
		}
	}
	return false
}

// nearest finds the mark of the term's concept closest to anchor (the first of
// equal ones), preferring one of the term's polarity.
func (p *passage) nearest(t term, lo, hi, anchor int) int {
	best, bestCost := -1, math.MaxInt
	for k := lo; k < hi; k++ {
		m := &p.marks[k]
		if m.concept != t.concept {
			continue
		}
		cost := 0
		if anchor >= 0 {
			cost = max(k-anchor, anchor-k)
			if m.clause != p.marks[anchor].clause {
				cost += 3
			}
		}
		if m.neg != t.neg {
			cost += 3
		}
		if m.owner > 0 {
			cost++
		}
		if cost < bestCost {
			best, bestCost = k, cost
		}
	}
	return best
}

// polarity says whether the found marks state the phrase or deny it.
func (f *phrase) polarity(p *passage, found []int) (denied, byDeed, ok bool) {
	if f.either {
		return false, false, true
	}
	flipped, agreed := 0, 0
	for t, k := range found {
		if k < 0 {
			continue
		}
		m, want := &p.marks[k], f.terms[t].neg
		switch {
		case m.neg == want:
			if want {
				agreed++
			}
		case f.deniesAct && f.terms[t].kind == thing:
			// In "does not charge the battery" the battery is not denied.
		case !f.denies:
			flipped++
		case want && m.affirmed:
			flipped++
			byDeed = true
		default:
			return false, false, false
		}
	}
	if flipped == 0 {
		return false, false, !f.denies || agreed > 0
	}
	if f.denies && agreed > 0 {
		return false, false, false // half said, half denied
	}
	if !f.denies && !p.oneClause(found) {
		return false, false, false
	}
	return true, byDeed, true
}

func (p *passage) oneClause(found []int) bool {
	clause := -1
	for _, k := range found {
		if k < 0 {
			continue
		}
		if clause >= 0 && p.marks[k].clause != clause {
			return false
		}
		clause = p.marks[k].clause
	}
	return true
}

// quality is the part of the score that depends on how it was said. It fills in
// the hit's marks and clauses.
func (p *passage) quality(f *phrase, found []int, h *hit) float64 {
	q := 1.0
	used := map[int]bool{}
	lo, hi := len(p.marks), -1
	for t, k := range found {
		if k < 0 {
			continue
		}
		m := &p.marks[k]
		lo, hi, used[k] = min(lo, k), max(hi, k), true
		for _, pred := range m.takes {
			used[pred] = true
		}
		q *= m.quality
		if m.literal != f.terms[t].literal {
			q *= 1 - (1-synonymFactor)/float64(len(found))
		}
		if m.owner > 0 && isGeneric(m.concept) && !slices.Contains(found, m.owner-1) {
			q *= othersFactor
		}
	}
	h.marks = slices.Sorted(maps.Keys(used))
	h.clauses = p.marks[hi].clause - p.marks[lo].clause + 1
	gap := 0
	for k := lo; k <= hi; k++ {
		if !used[k] {
			gap++
		}
	}
	if f.modifies && gap > 1 {
		q *= othersFactor
	}
	q *= math.Pow(perClause, float64(h.clauses-1)) / (1 + perGapWord*float64(gap))
	return q * p.assurance(f, h)
}

// assurance falls with guesses, questions, causes and conditions.
func (p *passage) assurance(f *phrase, h *hit) float64 {
	maybe, asked, blamed, cond := false, false, true, true
	for _, k := range h.marks {
		m := &p.marks[k]
		maybe, asked = maybe || m.maybe, asked || m.asked
		blamed, cond = blamed && m.blamed, cond && m.cond
	}
	q := 1.0
	switch {
	case maybe:
		q *= guessFactor
	case asked:
		q *= askFactor
	}
	lone := len(f.terms) == 1 && len(h.marks) == 1
	if blamed && lone && !f.blames && f.terms[0].kind != part {
		q *= causeFactor
	}
	if cond && len(f.terms) == 1 && (isGeneric(f.terms[0].concept) || normalDeeds[f.terms[0].concept]) {
		q *= whenFactor
	}
	if h.byDeed {
		q *= affirmFactor
	}
	return q
}

// isGeneric holds for what can be said of anything.
func isGeneric(concept string) bool {
	return concept == "@on" || concept == "@work" || concept == "@off" || concept == "@fault"
}
