package words

import (
	"slices"
	"strings"
)

// A pattern is one way of saying a concept: words in order.
type pattern struct {
	steps []step
	of    *concept
}

type step struct {
	stem string
	word string // the very form wanted, or ""
	gap  bool   // other words may stand before
}

// gapWords is how many words ".." lets stand between.
const gapWords = 3

// notConcept is what the lead-ins ("refuses to") stand for.
var notConcept = &concept{name: "@not"}

// fillers may stand between the words of any pattern.
var fillers = wordSet(`a an the any it its is are was be very all to of my that this been being has have itself up quite too so really at`)

// A book holds the patterns by the stem of their first word, longest first.
type book map[string][]pattern

func newBook() book {
	b := book{}
	for i := range concepts {
		for p := range strings.SplitSeq(concepts[i].patterns, "|") {
			b.add(p, &concepts[i])
		}
	}
	for _, l := range leadIns {
		b.add(l, notConcept)
	}
	for _, list := range b {
		slices.SortStableFunc(list, func(p, q pattern) int { return len(q.steps) - len(p.steps) })
	}
	return b
}

func (b book) add(text string, of *concept) {
	p := pattern{of: of}
	gap := false
	for w := range strings.FieldsSeq(text) {
		if w == ".." {
			gap = true
			continue
		}
		exact, isExact := strings.CutPrefix(w, "=")
		s := step{stem: stemOf(exact), gap: gap}
		if isExact {
			s.word = exact
		}
		p.steps = append(p.steps, s)
		gap = false
	}
	if len(p.steps) > 0 {
		b[p.steps[0].stem] = append(b[p.steps[0].stem], p)
	}
}

// find returns the longest pattern that begins at token i and the tokens it
// takes, skipping those already taken.
func (b book) find(tokens []token, taken []bool, i int) (*concept, []int) {
	for _, p := range b[tokens[i].stem] {
		if at := p.match(tokens, taken, i); at != nil {
			return p.of, at
		}
	}
	return nil, nil
}

func (p pattern) match(tokens []token, taken []bool, i int) []int {
	var buf [8]int // most patterns fail at the second word: no allocation till the end
	at := buf[:0]
	for k, s := range p.steps {
		if k > 0 {
			i = s.next(tokens, taken, i)
		}
		if i < 0 || taken[i] || !s.fits(tokens[i]) {
			return nil
		}
		at = append(at, i)
	}
	return append([]int(nil), at...)
}

func (s step) fits(t token) bool {
	return t.stem == s.stem && (s.word == "" || t.word == s.word)
}

// next finds the token after i that fits, over fillers or, after "..", over
// gapWords words that are not negators; -1 if there is none before a break.
func (s step) next(tokens []token, taken []bool, i int) int {
	skipped := 0
	for j := i + 1; j < len(tokens); j++ {
		t := tokens[j]
		if t.brk >= clauseBreak {
			return -1
		}
		if !taken[j] && s.fits(t) {
			return j
		}
		if s.gap && skipped < gapWords && negators[t.word] == 0 && !boundarySet[t.word] && t.word != "and" {
			skipped++
			continue
		}
		if !fillers[t.word] || skipped > gapWords {
			return -1
		}
		skipped++
	}
	return -1
}
