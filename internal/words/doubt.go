package words

import "slices"

// doubt makes those hits doubtful that the rest of the text speaks against, or
// that say too little: a statement put together from several clauses each of
// which is a statement by itself ("humming but no music" need not be "hums even
// with no music"), "dead" of a device one of whose lights is on, and one of which no more is said than that some light is on.
func (x *Index) doubt(p *passage, hits []hit) []hit {
	out := slices.DeleteFunc(slices.Clone(hits), func(h hit) bool {
		return x.implied(p, hits, &h) || x.lightAlone(&h) && slices.ContainsFunc(hits, func(k hit) bool {
			return !k.denied && len(k.marks) > len(h.marks) && subset(h.marks, k.marks)
		})
	})
	for i := range out {
		h := &out[i]
		if !h.denied && (h.clauses > 1 && x.madeUp(hits, h) || p.glows() && x.saysDark(h) || x.lightAlone(h)) {
			h.score = min(h.score, mostDoubtful)
		}
	}
	return out
}

// implied holds for a hit that says no more than that a light, a sound or a picture
// is not there, of what the same sentence says is dead: "no light no sound completely dead".
func (x *Index) implied(p *passage, hits []hit, h *hit) bool {
	t := x.phrases[h.phrase].terms
	if h.denied || len(t) != 1 || !t[0].neg || !signsOfLife[t[0].concept] || len(p.marks[h.marks[0]].takes) > 0 || p.glows() {
		return false
	}
	return slices.ContainsFunc(hits, func(k hit) bool {
		return !k.denied && k.score >= sureScore && x.entryOf(k) != x.entryOf(*h) && x.saysOnlyDead(&k) && !slices.Equal(k.marks, h.marks) && p.marks[k.marks[0]].sentence == p.marks[h.marks[0]].sentence
	})
}

// signsOfLife are what nothing dead shows.
var signsOfLife = map[string]bool{"@light": true, "@sound": true, "@display": true, "@lit": true}

// saysOnlyDead holds for a hit of no more than that it does not come on, or shows no
// light, where its entry means that by it.
func (x *Index) saysOnlyDead(h *hit) bool {
	dead := func(f phrase) bool {
		return !slices.ContainsFunc(f.terms, func(t term) bool { return !t.neg || t.concept != "@on" })
	}
	if dead(x.phrases[h.phrase]) {
		return true
	}
	return !slices.ContainsFunc(x.phrases[h.phrase].terms, func(t term) bool { return !t.neg || !signsOfLife[t.concept] }) &&
		slices.ContainsFunc(x.phrases, func(f phrase) bool { return f.entry == x.entryOf(*h) && dead(f) })
}

// madeUp holds if every mark of h belongs to a full one-clause hit of another entry.
func (x *Index) madeUp(hits []hit, h *hit) bool {
	for _, k := range h.marks {
		if !slices.ContainsFunc(hits, func(o hit) bool {
			return o.full && !o.denied && o.clauses == 1 && x.entryOf(o) != x.entryOf(*h) && slices.Contains(o.marks, k)
		}) {
			return false
		}
	}
	return true
}

// lightAlone holds if all that states h is that a light is on.
func (x *Index) lightAlone(h *hit) bool {
	t := x.phrases[h.phrase].terms
	return len(t) == 1 && t[0].concept == "@light" && !t[0].neg
}

// glows holds if the text says that some light or display is on.
func (p *passage) glows() bool {
	return slices.ContainsFunc(p.marks, func(m mark) bool {
		return (m.concept == "@light" || m.concept == "@display") && !m.neg && !m.cond && (m.affirmed || len(m.takes) > 0 && p.marks[m.takes[0]].concept == "@lighton")
	})
}

// saysDark holds for a hit of no more than that it does not come on, where the
// entry means that no light does either.
func (x *Index) saysDark(h *hit) bool {
	for _, t := range x.phrases[h.phrase].terms {
		if !t.neg || !isGeneric(t.concept) {
			return false
		}
	}
	return slices.ContainsFunc(x.phrases, func(f phrase) bool {
		return f.entry == x.entryOf(*h) && slices.ContainsFunc(f.terms, func(t term) bool {
			return t.neg && (t.concept == "@light" || t.concept == "@display" || t.concept == "@standby")
		})
	})
}

func (x *Index) entryOf(h hit) int { return x.phrases[h.phrase].entry }
