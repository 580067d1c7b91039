package words

import (
	"slices"
	"strings"
)

// A mark is one idea in a text: a concept of the table, or the stem of a
// content word the table does not hold.
type mark struct {
	concept     string
	kind        kind
	neg         bool
	literal     string // the stems that were written, for ties
	quality     float64
	start, end  int // bytes
	first, last int // tokens
	clause      int
	sentence    int

	affirmed bool // said to be so, without limit
	cond     bool // in a clause that says when
	maybe    bool
	asked    bool // in a clause with a question mark
	hedged   bool // "sometimes" in the same clause
	blamed   bool // part of a stated cause
	owner    int  // index+1 of the part this predicate speaks about
	takes    []int
}

// A passage is a text on its way to be read: words, then marks with all that
// the words around say about them.
type passage struct {
	tokens   []token
	concepts []*concept // per token: the pattern it begins
	taken    []bool     // per token: within a pattern
	negators map[int]int
	clause   []int
	sentence []int
	marks    []mark
	denied   int    // marks that a negator reached
	talk     []Span // taken out: what was advised, or so once
	rest     int    // where the words that were not read begin, or 0
}

// mostWords is how much of a text is read, several pages: it bounds the time
// that a text can take.
const mostWords = 2000

// analyse runs every stage. speller may be nil: then nothing is mended.
func analyse(text string, patterns book, s *speller, stem stemmer) *passage {
	p := &passage{tokens: tokenize(text, stem), negators: map[int]int{}}
	if len(p.tokens) > mostWords {
		p.rest = p.tokens[mostWords].start
		p.tokens = p.tokens[:mostWords]
	}
	if s != nil {
		p.mendSpelling(s)
	}
	p.findConcepts(patterns)
	p.findClauses()
	p.dropTalk()
	p.dropPast()
	p.negate()
	p.hedge()
	p.blame()
	p.assign()
	p.affirm()
	return p
}

func (p *passage) mendSpelling(s *speller) {
	for i := range p.tokens {
		t := &p.tokens[i]
		if s.knows(t.word) || s.knows(t.stem) || stopSet[t.word] || headSet[t.word] {
			continue
		}
		if w, q := s.mend(t.word); w != "" {
			t.word, t.stem, t.quality = w, stemOf(w), q
		} else if w, q := s.mendBeforeEnding(t.word); w != "" {
			t.stem, t.quality = stemOf(w), q
		}
	}
}

// findConcepts turns words into marks, longest pattern first, and notes where
// the negators stand and how far they reach.
func (p *passage) findConcepts(patterns book) {
	p.taken = make([]bool, len(p.tokens))
	p.concepts = make([]*concept, len(p.tokens))
	for i := range p.tokens {
		if p.taken[i] || p.stopsDoing(i) {
			continue
		}
		p.notOn(i)
		if p.nothingAtAll(i) || p.losesPower(i) {
			continue
		}
		c, at := patterns.find(p.tokens, p.taken, i)
		if c == nil {
			if !p.lightState(i) {
				p.plainWord(i)
			}
			continue
		}
		for _, j := range at {
			p.taken[j] = true
		}
		if c == notConcept {
			p.negators[i] = 4
			continue
		}
		p.concepts[i] = c
		if p.tokens[i].word == "replaced" || workDone[c.name] && strings.HasSuffix(p.tokens[i].word, "ed") {
			continue // "cleaned and restarted": what was done, not what is wrong
		}
		p.marks = append(p.marks, p.newMark(c.name, c.kind, c.neg, at))
	}
}

// nothingAtAll reads "nothing" that ends a clause and is nobody's object as dead:
// "changed the fuse and still nothing", and the bare answer "nothing".
func (p *passage) nothingAtAll(i int) bool {
	if p.tokens[i].word != "nothing" || i > 0 && p.tokens[i].brk < clauseBreak && !beforeNothing[p.tokens[i-1].word] && !p.listed(i-1) {
		return false
	}
	if i+1 < len(p.tokens) && p.tokens[i+1].brk < clauseBreak && !outright[p.tokens[i+1].word] {
		return false
	}
	p.taken[i] = true
	p.marks = append(p.marks, p.newMark("@on", deed, true, []int{i}))
	return true
}

// losesPower keeps "has lost" in "has lost all its suction" from telling of a missing
// part: what follows is no part that one loses.
func (p *passage) losesPower(i int) bool {
	if i+2 >= len(p.tokens) || p.tokens[i].stem != "have" || p.tokens[i+1].word != "lost" {
		return false
	}
	for _, t := range p.tokens[i+2 : min(i+6, len(p.tokens))] {
		if t.brk >= clauseBreak || !fillers[t.word] && !immaterial[t.stem] {
			return false
		}
		if immaterial[t.stem] {
			return true
		}
	}
	return false
}

// immaterial are the stems of what a device has but no one can pick up.
var immaterial = func() map[string]bool {
	out := map[string]bool{}
	for w := range wordSet(`suction sound audio picture power heat signal reception pressure volume bass treble colour brightness connection speed strength charge time focus memory steam`) {
		out[stemOf(w)] = true
	}
	return out
}()

// listed holds for the last word of a list of what is not there: "no heat no light nothing".
func (p *passage) listed(i int) bool {
	return i > 0 && p.tokens[i-1].word == "no" && p.tokens[i].brk == none
}

var beforeNothing = wordSet(`still now then but and just only or`)

// notOn lets "not on batteries" behind "works on mains" deny the deed once more:
// what is denied is that it works, and not the batteries.
func (p *passage) notOn(i int) {
	if i == 0 || p.tokens[i-1].word != "not" || !onWith[p.tokens[i].word] {
		return
	}
	for k := len(p.marks) - 1; k >= 0; k-- {
		m := p.marks[k]
		if p.tokens[m.first].brk == sentenceBreak && k < len(p.marks)-1 {
			return
		}
		if m.kind == deed && !m.neg && (m.concept == "@work" || m.concept == "@on" || m.concept == "@play") {
			p.marks = append(p.marks, p.newMark(m.concept, deed, false, []int{i}))
			return
		}
	}
}

var onWith = wordSet(`on with from off`)

// lightState reads "on", "off" and "out" behind a light or a display: "the red
// light is on", "display off". It is a predicate of its own, @lighton.
func (p *passage) lightState(i int) bool {
	word := p.tokens[i].word
	if word != "on" && word != "off" && word != "out" || p.tokens[i].brk >= clauseBreak || len(p.marks) == 0 {
		return false
	}
	if i+1 < len(p.tokens) && p.tokens[i+1].brk == none && onWhat[p.tokens[i+1].word] {
		return false // "the light on the side"
	}
	of := &p.marks[len(p.marks)-1]
	if of.concept != "@light" && of.concept != "@display" {
		return false
	}
	for j := of.last + 1; j < i; j++ {
		if t := p.tokens[j]; t.brk >= clauseBreak || !stateLinks[t.word] && negators[t.word] == 0 {
			return false
		}
	}
	p.marks = append(p.marks, p.newMark("@lighton", deed, word != "on", []int{i}))
	return true
}

var (
	onWhat     = wordSet(`the a an my its it mains battery batteries top side one left right plug switch front back and`)
	stateLinks = wordSet(`is are was were stays stay remains remain still just only both all constantly permanently always now not do does goes go`)
)

// workDone are the concepts whose past tense tells of the repair.
var workDone = map[string]bool{"@clean": true, "@restart": true, "@update": true, "@oil": true, "@service": true}

// stopsDoing reads "stopped heating" as "does not heat" and passes over
// "starts" in "starts humming".
func (p *passage) stopsDoing(i int) bool {
	if i+1 >= len(p.tokens) || p.tokens[i+1].brk >= clauseBreak {
		return false
	}
	next := p.tokens[i+1].word
	if strings.HasSuffix(next, "ly") && i+2 < len(p.tokens) {
		next = p.tokens[i+2].word // "stopped actually collecting"
	}
	doing := len(next) > 5 && strings.HasSuffix(next, "ing") || next == "to"
	switch p.tokens[i].word {
	case "stopped":
		if doing && (i == 0 || negators[p.tokens[i-1].word] == 0) {
			p.negators[i] = 2
			p.taken[i] = true
			return true
		}
	case "start", "starts", "started", "starting", "begins", "began":
		if doing && next != "to" || next == "to" && i+2 < len(p.tokens) && !headSet[p.tokens[i+2].word] && p.startsToDo(i) {
			p.taken[i] = true
			return true
		}
	}
	return false
}

// startsToDo keeps "starts to" from hiding "fails to start to …".
func (p *passage) startsToDo(i int) bool {
	return i == 0 || negators[p.tokens[i-1].word] == 0
}

func (p *passage) plainWord(i int) {
	t := p.tokens[i]
	if reach := negators[t.word]; reach > 0 {
		if i+1 < len(p.tokens) && (p.tokens[i+1].word == "only" || p.tokens[i+1].word == "just") {
			return // "not only hums": affirmed
		}
		p.negators[i] = reach
		return
	}
	if stopSet[t.word] || headSet[t.word] || !hasLetter(t.word) || len(t.word) < 2 {
		return
	}
	p.marks = append(p.marks, p.newMark(t.stem, thing, false, []int{i}))
}

func hasLetter(word string) bool {
	return strings.ContainsFunc(word, func(r rune) bool { return r < '0' || r > '9' && r != '.' && r != ',' })
}

func (p *passage) newMark(name string, k kind, neg bool, at []int) mark {
	m := mark{concept: name, kind: k, neg: neg, quality: 1, first: at[0], last: at[len(at)-1]}
	m.start, m.end = p.tokens[m.first].start, p.tokens[m.last].end
	stems := make([]string, len(at))
	for k, i := range at {
		stems[k] = p.tokens[i].stem
		m.quality = min(m.quality, p.tokens[i].quality)
	}
	m.literal = strings.Join(stems, " ")
	return m
}

// findClauses numbers clauses and sentences. "and" and "or" part clauses only
// where both sides say something of their own: "no smell or smoke" is one.
func (p *passage) findClauses() {
	n := len(p.tokens)
	p.clause, p.sentence = make([]int, n), make([]int, n)
	for i := 1; i < n; i++ {
		p.clause[i], p.sentence[i] = p.clause[i-1], p.sentence[i-1]
		if p.tokens[i].brk == sentenceBreak {
			p.sentence[i]++
		}
		if p.parts(i) {
			p.clause[i]++
		}
	}
	slices.SortStableFunc(p.marks, func(a, b mark) int { return a.first - b.first })
	for k := range p.marks {
		m := &p.marks[k]
		m.clause, m.sentence = p.clause[m.first], p.sentence[m.first]
	}
}

// parts holds if a clause begins with token i.
func (p *passage) parts(i int) bool {
	t, n := p.tokens[i], len(p.tokens)
	switch {
	case t.brk >= clauseBreak:
		return true
	case t.brk == slash:
		return p.saysSomething(i, -1) && p.saysSomething(i-1, +1)
	case p.taken[i]:
		return false
	case boundarySet[t.word]:
		return true
	case t.word == "now" && i+1 < n:
		return true // "it was fine now it will not start"
	case t.word == "not" && i+1 < len(p.tokens) && onWith[p.tokens[i+1].word]:
		return true // "works on mains not on batteries"
	case t.word == "and" || t.word == "or" || t.word == "nor":
		return p.saysSomething(i, -1) && p.saysSomething(i, +1) && !p.deniedToo(i)
	}
	return false
}

// deniedToo holds for an "or" between two deeds under one negator: "does not
// spin or drain".
func (p *passage) deniedToo(i int) bool {
	if p.tokens[i].word == "and" || i+1 >= len(p.tokens) {
		return false
	}
	next := p.tokens[i+1].word
	if p.negators[i+1] > 0 || headSet[next] || predicateWords[next] || strings.HasSuffix(next, "s") {
		return false
	}
	for j := i - 1; j >= 0 && j >= i-4 && p.tokens[j].brk < clauseBreak; j-- {
		if p.negators[j] > 0 {
			return true
		}
	}
	return false
}

// saysSomething holds if the words beside token i, up to the next break, hold a
// predicate: a negator, a verb form in -s, a head such as "makes".
func (p *passage) saysSomething(i, dir int) bool {
	for j := i + dir; j >= 0 && j < len(p.tokens); j += dir {
		t := p.tokens[j]
		if dir > 0 && (t.brk >= clauseBreak || boundarySet[t.word] && !p.taken[j]) {
			return false
		}
		if p.negators[j] > 0 || predicateWords[t.word] {
			return true
		}
		if c := p.concepts[j]; c != nil && (c.neg || c.kind == deed && strings.HasSuffix(t.word, "s")) {
			return true
		}
		if dir < 0 && (t.brk >= clauseBreak || boundarySet[t.word] && !p.taken[j]) {
			return false
		}
	}
	return false
}

var predicateWords = wordSet(`makes make making keeps gets has have is are does do will can cannot would was were says shows
	becomes smells leaks trips blows stops works sounds feels stopped started stays needs need goes turns comes hums buzzes flickers flashes`)
