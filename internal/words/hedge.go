package words

import (
	"slices"
	"strings"
)

// talkWords begin an account of what was advised or ordered, not of the fault.
var talkWords = wordSet(`advised suggested recommended recommend explained showed ordered highlighted warned discussed
	advice instructed`)

// dropTalk takes out what stands after a talk word in its sentence; it is
// reported as unread.
func (p *passage) dropTalk() {
	from := -1
	talk := make([]bool, len(p.tokens))
	for i, t := range p.tokens {
		if from >= 0 && p.sentence[i] != p.sentence[from] {
			from = -1
		}
		if from < 0 && talkWords[t.word] && !p.taken[i] {
			from = i
		}
		talk[i] = from >= 0
	}
	p.marks = slices.DeleteFunc(p.marks, func(m mark) bool {
		if talk[m.first] {
			p.talk = append(p.talk, Span{m.start, m.end})
		}
		return talk[m.first]
	})
}

// dropPast takes out what is said to have been so once: "used to be loud". The
// rest of its clause is reported as unread.
func (p *passage) dropPast() {
	past := map[int]int{} // clause: from this token on
	for i := 1; i < len(p.tokens); i++ {
		if p.tokens[i].word == "to" && p.tokens[i-1].word == "used" && !(i > 1 && beForms[p.tokens[i-2].word]) {
			past[p.clause[i]] = i
		}
	}
	once := func(m mark) bool {
		from, ok := past[m.clause]
		return ok && m.first > from
	}
	if !slices.ContainsFunc(p.marks, func(m mark) bool { return !once(m) }) {
		return // "it used to click" is all that is said, and means that it does not now
	}
	p.marks = slices.DeleteFunc(p.marks, func(m mark) bool {
		if once(m) {
			p.talk = append(p.talk, Span{m.start, m.end})
		}
		return once(m)
	})
}

var beForms = wordSet(`is are be being not get got was`)

// hedge notes guesses, "sometimes" and clauses that only say when.
func (p *passage) hedge() {
	maybe, asked, some, cond := map[int]int{}, map[int]bool{}, map[int]bool{}, map[int]bool{}
	for i, t := range p.tokens {
		c := p.clause[i]
		if _, seen := maybe[c]; !seen && maybeSet[t.word] && !p.taken[i] {
			maybe[c] = i // what follows is a guess
		}
		asked[c] = asked[c] || t.question
		opens := i == 0 || p.clause[i-1] != c
		if opens && conditionSet[t.word] && !p.taken[i] {
			cond[c] = true
		}
	}
	for _, m := range p.marks {
		if m.concept == "@sometimes" {
			some[m.clause] = true
		}
	}
	for k := range p.marks {
		m := &p.marks[k]
		from, guess := maybe[m.clause]
		m.maybe, m.asked, m.hedged, m.cond = guess && m.first >= from, asked[m.clause], some[m.clause], cond[m.clause]
	}
}

// blameReach is how many words may lie between a component and its blame.
const blameReach = 3

// blame marks what is a stated cause: a component with a word of blame beside
// it, or all that follows "due to".
func (p *passage) blame() {
	for i, t := range p.tokens {
		if t.word == "due" || t.word == "because" || t.word == "caused" {
			p.blameFrom(i, len(p.tokens))
		}
		if !componentSet[t.word] {
			continue
		}
		for j := max(0, i-blameReach); j <= min(len(p.tokens)-1, i+blameReach); j++ {
			if blameSet[p.tokens[j].word] && p.clause[j] == p.clause[i] {
				p.blameFrom(min(i, j), max(i, j)+1)
			}
		}
	}
}

// blameFrom blames the marks of one clause within tokens [from, to).
func (p *passage) blameFrom(from, to int) {
	for k := range p.marks {
		m := &p.marks[k]
		if m.first >= from && m.first < to && m.clause == p.clause[from] {
			m.blamed = true
		}
	}
}

// assign gives each predicate to the part it speaks about and lets the part
// take over its polarity: "display does not come on" denies the display.
func (p *passage) assign() {
	for k := range p.marks {
		pred := &p.marks[k]
		var first int // the nearest part, and those joined to it
		for j := k - 1; j >= 0 && p.marks[j].clause == pred.clause; j-- {
			part := &p.marks[j]
			if p.modifiesNext(j) {
				continue // "steam cleaner": the cleaner is spoken about
			}
			if !part.absorbs(pred.concept) {
				if first > 0 && part.concept != "@sometimes" {
					break
				}
				continue
			}
			if first > 0 && !p.joined(j, first-1) {
				break
			}
			first = j + 1
			p.own(j, k)
		}
		if first == 0 && k+1 < len(p.marks) && p.qualifies(k, k+1) {
			p.own(k+1, k)
		}
	}
}

// qualifies holds if the predicate stands right before its part ("dead
// display"), and not in "not working display dark".
func (p *passage) qualifies(pred, part int) bool {
	d, m := &p.marks[pred], &p.marks[part]
	after := d.first > 0 && p.tokens[d.first-1].word == "not"
	return !after && m.clause == d.clause && m.first == d.last+1 && m.absorbs(d.concept)
}

func (p *passage) own(part, pred int) {
	m, d := &p.marks[part], &p.marks[pred]
	if m.neg {
		return // "no display comes on": denied already
	}
	d.owner = part + 1
	m.takes = append(m.takes, pred)
	m.neg = d.neg != (d.concept == "@fault")
}

// joined holds if only "and", "or" or fillers stand between two marks.
func (p *passage) joined(a, b int) bool {
	and := false
	for i := p.marks[a].last + 1; i < p.marks[b].first; i++ {
		w := p.tokens[i].word
		if conjunctions[w] {
			and = true
		} else if !fillers[w] {
			return false
		}
	}
	return and
}

// modifiesNext holds if a word the lexicon does not know follows mark j at once.
func (p *passage) modifiesNext(j int) bool {
	if j+1 >= len(p.marks) {
		return false
	}
	m := &p.marks[j+1]
	return m.first == p.marks[j].last+1 && p.tokens[m.first].brk == none && m.concept == m.literal &&
		!strings.HasSuffix(p.tokens[m.first].word, "ed")
}

var conjunctions = wordSet(`and or nor`)

func (m *mark) absorbs(pred string) bool {
	return pred != m.concept && strings.Contains(absorbed[m.concept], " "+pred+" ")
}

// absorbed maps a part to its predicates, each between blanks.
var absorbed = func() map[string]string {
	out := map[string]string{}
	for _, c := range concepts {
		if c.absorbs != "" {
			out[c.name] = " " + c.absorbs + " "
		}
	}
	return out
}()

// affirm finds the deeds and parts that are said to be as they should.
func (p *passage) affirm() {
	limited, praised := map[int]bool{}, map[int]int{}
	for i, t := range p.tokens {
		if limitSet[t.word] {
			limited[p.clause[i]] = true
		}
		if affirmSet[t.word] && p.negators[i-min(i, 1)] == 0 {
			praised[p.clause[i]] = i
		}
	}
	for k := range p.marks {
		m := &p.marks[k]
		if m.neg || m.kind == thing || m.cond || m.hedged || m.blamed || limited[m.clause] || strings.HasSuffix(p.tokens[m.first].word, "ed") {
			continue
		}
		m.affirmed = praised[m.clause] > m.last || p.stated(m)
	}
	for k := range p.marks {
		for _, pred := range p.marks[k].takes {
			p.marks[k].affirmed = p.marks[k].affirmed || !p.marks[k].neg && p.marks[pred].affirmed
		}
	}
}

// stated holds for "heats", "does heat" and "has sound", not for "heat element"
// or "works on battery".
func (p *passage) stated(m *mark) bool {
	if m.kind == part && m.last+1 < len(p.tokens) && p.tokens[m.last+1].word == "but" && (m.first == 0 || p.clause[m.first-1] != m.clause) {
		return true // "sound but no picture"
	}
	if m.last+1 < len(p.tokens) && p.tokens[m.last+1].brk == none {
		if next := p.tokens[m.last+1].word; bindWords[next] && (m.concept != "@on" || next != "when") {
			return false
		}
	}
	before, still := "", false
	for i := m.first - 1; i >= 0 && p.clause[i] == m.clause; i-- {
		w := p.tokens[i].word
		still = still || w == "still"
		if w != "still" && w != "also" && w != "now" {
			before = w
			break
		}
	}
	if m.kind == part {
		return before == "has" || before == "have" || before == "is" && m.first >= 2 && p.tokens[m.first-2].word == "there"
	}
	if m.concept == "@lighton" {
		return true
	}
	word := p.tokens[m.first].word
	if still && strings.HasSuffix(word, "ing") {
		return true
	}
	return strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") || before == "does" || before == "will" || before == "can"
}

// bindWords after "works" limit it: "works on battery".
var bindWords = wordSet(`on with only for if when until by from in at as up`)
