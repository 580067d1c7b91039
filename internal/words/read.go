package words

import (
	"cmp"
	"slices"
)

// A Match is one finding that the text states, or denies.
type Match struct {
	ID           string
	Denied       bool
	Intermittent bool    // said to be so only sometimes
	Score        float64 // 0..1, how sure
	Start, End   int     // bytes of the text that say so
	Phrase       string  // the entry's phrase that fits best
}

// A Span is a run of bytes of the text.
type Span struct{ Start, End int }

// A Reading is what a text says.
type Reading struct {
	Text     string
	Matches  []Match   // sure enough to act on, in the order said, an id once
	Doubtful [][]Match // to be asked back: alternatives for one piece of text, best first
	Causes   []Span    // what the writer blames ("needs new battery"): no symptom
	Unread   []Span    // words with a meaning that nothing above accounts for
}

const (
	sureScore     = 0.6
	doubtfulScore = 0.4
	mostDoubtful  = 0.59 // of a hit that the rest of the text speaks against
	tieMargin     = 0.02 // scores this close cannot be told apart
	subsetMargin  = 0.3  // a longer match may score this much less and still win
)

// Read finds the entries that text states or denies. It never fails: a text
// that says nothing gives an empty Reading.
func (x *Index) Read(text string) Reading {
	p := analyse(text, x.patterns, x.speller, stemOf)
	best, again := x.hits(p)
	hits := x.doubt(p, x.keep(p, best, again))
	return x.report(text, p, hits)
}

// hits finds the best hit of each entry, polarity and sentence, and the longer ones
// that say the same again in other words: "skips stitches, breaks needles".
func (x *Index) hits(p *passage) (found, again []hit) {
	type key struct {
		entry    int
		denied   bool
		sentence int
	}
	best := map[key]hit{}
	var order []key
	for lo := 0; lo < len(p.marks); {
		hi := lo
		for hi < len(p.marks) && p.marks[hi].sentence == p.marks[lo].sentence {
			hi++
		}
		for _, ph := range x.candidates(p, lo, hi) {
			h, ok := x.locate(p, ph, lo, hi)
			if !ok {
				continue
			}
			if h.score >= sureScore && h.clauses == 1 && len(h.marks) > 1 {
				again = append(again, h)
			}
			k := key{x.phrases[ph].entry, h.denied, p.marks[lo].sentence}
			old, seen := best[k]
			if !seen {
				order = append(order, k)
			}
			if !seen || better(h, old) {
				best[k] = h
			}
		}
		lo = hi
	}
	out := make([]hit, 0, len(order))
	for _, k := range order {
		out = append(out, best[k])
	}
	return out, again
}

// candidates are the phrases that share a concept with marks [lo, hi).
func (x *Index) candidates(p *passage, lo, hi int) []int {
	var out []int
	for k := lo; k < hi; k++ {
		out = append(out, x.using[p.marks[k].concept]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// better prefers the surer hit and, of two nearly as sure, the one that
// accounts for more of the text.
func better(a, b hit) bool {
	return a.worth() > b.worth()
}

func (h hit) worth() float64 { return h.score * (1 + 0.12*float64(len(h.marks)-1)) }

// keep drops the hits whose words a longer hit already accounts for, be it one that
// only says again what another kept hit says.
func (x *Index) keep(p *passage, hits, again []hit) []hit {
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(b.worth(), a.worth()) })
	var out []hit
	for _, h := range hits {
		if h.score < doubtfulScore || slices.ContainsFunc(out, func(k hit) bool { return x.swallows(p, k, h) || x.settles(p, k, h) }) {
			continue
		}
		if slices.ContainsFunc(again, func(k hit) bool { return x.entryOf(k) != x.entryOf(h) && x.holds(out, k) && x.swallows(p, k, h) }) {
			continue
		}
		out = append(out, h)
	}
	return out
}

// holds says whether a hit of the same entry, said the same way, is among those kept.
func (x *Index) holds(kept []hit, h hit) bool {
	return slices.ContainsFunc(kept, func(k hit) bool { return x.entryOf(k) == x.entryOf(h) && k.denied == h.denied })
}

// swallows holds if k says all that h says and more. A whole statement in one
// clause stands beside a longer one that spans several.
func (x *Index) swallows(p *passage, k, h hit) bool {
	if slices.Equal(k.marks, h.marks) {
		return !k.denied && h.denied || k.denied == h.denied && k.score > h.score+tieMargin
	}
	if k.byDeed && h.byDeed {
		return false // each is affirmed for itself
	}
	if len(k.marks) <= len(h.marks) || k.score < h.score-subsetMargin || !subset(h.marks, k.marks) {
		return false
	}
	return !(h.full && h.clauses == 1 && k.clauses > 1 && !h.denied) || x.saysToo(p, x.entryOf(k), h)
}

// settles holds if k's entry, which other words state, could be meant by those
// of h as well: "dead, no light" does not mean that only the light is gone.
func (x *Index) settles(p *passage, k, h hit) bool {
	return !k.denied && !h.denied && k.score >= sureScore && x.entryOf(k) != x.entryOf(h) && !slices.Equal(k.marks, h.marks) &&
		p.marks[k.marks[0]].sentence == p.marks[h.marks[0]].sentence && x.saysToo(p, x.entryOf(k), h)
}

// saysToo holds if an entry has a phrase for just what hit h says: then the
// longer hit of that entry tells which of the two is meant.
func (x *Index) saysToo(p *passage, entry int, h hit) bool {
	lo, hi := p.sentenceOf(h.marks[0])
	for i := range x.phrases {
		if x.phrases[i].entry != entry {
			continue
		}
		o, ok := x.locate(p, i, lo, hi)
		if ok && !o.denied && o.score > h.score-tieMargin && slices.Equal(o.marks, h.marks) {
			return true
		}
	}
	return false
}

// sentenceOf is the range of the marks of mark k's sentence.
func (p *passage) sentenceOf(k int) (lo, hi int) {
	for lo = k; lo > 0 && p.marks[lo-1].sentence == p.marks[k].sentence; lo-- {
	}
	for hi = k + 1; hi < len(p.marks) && p.marks[hi].sentence == p.marks[k].sentence; hi++ {
	}
	return lo, hi
}

func subset(a, b []int) bool {
	for _, v := range a {
		if _, ok := slices.BinarySearch(b, v); !ok {
			return false
		}
	}
	return true
}

// report sorts the hits into sure and doubtful and gathers what is left over.
func (x *Index) report(text string, p *passage, hits []hit) Reading {
	r := Reading{Text: text}
	used := make([]bool, len(p.marks))
	var doubtful []hit
	sure := map[string]Match{}
	for i, h := range hits {
		for _, k := range h.marks {
			used[k] = true
		}
		if h.score < sureScore || x.tied(hits, i) {
			doubtful = append(doubtful, h)
			continue
		}
		m := x.match(p, h)
		if old, ok := sure[m.ID]; !ok || prefer(m, old) {
			sure[m.ID] = m
		}
	}
	for _, m := range sure {
		r.Matches = append(r.Matches, m)
	}
	slices.SortFunc(r.Matches, byPlace)
	r.Doubtful = x.groups(p, doubtful, sure)
	r.Causes, r.Unread = p.leftovers(p.repeats(used))
	r.Unread = append(r.Unread, p.talk...)
	slices.SortFunc(r.Unread, func(a, b Span) int { return cmp.Compare(a.Start, b.Start) })
	if p.rest > 0 {
		r.Unread = append(r.Unread, Span{p.rest, len(text)})
	}
	return r
}

// prefer says which of two readings of one entry stands: what is stated over
// what is denied ("works at first, then stops working"), then the surer.
func prefer(a, b Match) bool {
	if a.Denied != b.Denied {
		return b.Denied
	}
	return a.Score > b.Score
}

// tied holds if another entry is said by the very same words, as surely.
func (x *Index) tied(hits []hit, i int) bool {
	h := hits[i]
	return slices.ContainsFunc(hits, func(o hit) bool {
		return x.phrases[o.phrase].entry != x.phrases[h.phrase].entry && o.denied == h.denied && !h.denied &&
			o.score > h.score-tieMargin && slices.Equal(o.marks, h.marks)
	})
}

// groups puts doubtful hits that share words together.
func (x *Index) groups(p *passage, hits []hit, sure map[string]Match) [][]Match {
	var out [][]Match
	var words [][]int
	for _, h := range hits {
		m := x.match(p, h)
		if _, ok := sure[m.ID]; ok {
			continue
		}
		g := slices.IndexFunc(words, func(w []int) bool {
			return slices.ContainsFunc(h.marks, func(k int) bool { return slices.Contains(w, k) })
		})
		if g < 0 {
			out, words = append(out, []Match{m}), append(words, slices.Clone(h.marks))
			continue
		}
		if !slices.ContainsFunc(out[g], func(o Match) bool { return o.ID == m.ID }) {
			out[g] = append(out[g], m)
		}
		words[g] = append(words[g], h.marks...)
	}
	for _, g := range out {
		slices.SortStableFunc(g, func(a, b Match) int { return cmp.Compare(b.Score, a.Score) })
	}
	slices.SortStableFunc(out, func(a, b []Match) int { return byPlace(a[0], b[0]) })
	return out
}

func byPlace(a, b Match) int {
	return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(b.End, a.End), cmp.Compare(a.ID, b.ID))
}

func (x *Index) match(p *passage, h hit) Match {
	f := x.phrases[h.phrase]
	m := Match{ID: x.entries[f.entry].ID, Denied: h.denied, Score: h.score, Phrase: f.text, Start: len(p.tokens)}
	m.Start, m.End = p.marks[h.marks[0]].start, 0
	said := slices.ContainsFunc(f.terms, func(t term) bool { return t.concept == "@sometimes" })
	for _, k := range h.marks {
		m.Start, m.End = min(m.Start, p.marks[k].start), max(m.End, p.marks[k].end)
		m.Intermittent = m.Intermittent || p.marks[k].hedged && !said
	}
	return m
}

// repeats adds to the used marks those that say one of them again ("not turning
// on, no sign of life").
func (p *passage) repeats(used []bool) []bool {
	type idea struct {
		concept string
		neg     bool
	}
	said := map[idea]bool{}
	for k, m := range p.marks {
		if used[k] {
			said[idea{m.concept, m.neg}] = true
		}
	}
	for k, m := range p.marks {
		used[k] = used[k] || said[idea{m.concept, m.neg}]
	}
	return used
}

// leftovers gathers stated causes, and the marks nothing accounts for.
func (p *passage) leftovers(used []bool) (causes, unread []Span) {
	last := [2]int{-2, -2}
	for k, m := range p.marks {
		s := Span{m.start, m.end}
		switch {
		case m.blamed:
			causes = extend(causes, s, last[0] == k-1 && p.marks[max(k-1, 0)].clause == m.clause)
			last[0] = k
		case !used[k] && !quiet[m.concept]:
			unread = extend(unread, s, last[1] == k-1 && m.first == p.marks[max(k-1, 0)].last+1)
			last[1] = k
		}
	}
	return causes, unread
}

// quiet concepts say nothing alone.
var quiet = map[string]bool{"@sometimes": true, "@need": true, "@only": true, "@fault": true, "@away": true, "@while": true, "@self": true}

func extend(list []Span, s Span, join bool) []Span {
	if join && len(list) > 0 {
		list[len(list)-1].End = max(list[len(list)-1].End, s.End)
		return list
	}
	return append(list, s)
}
