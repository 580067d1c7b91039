package words

import "strings"

// alternative holds for the token after "or" and its like.
func (p *passage) alternative(i int) bool {
	for j := i - 1; j >= 0 && j >= i-2; j-- {
		if w := p.tokens[j].word; w == "or" || w == "and" || w == "nor" {
			return true
		}
	}
	return false
}

// endsDenial holds for an "and" that begins something new: behind a denied deed
// it always does ("won't turn on and blew the fuse"), behind a denied thing if
// what follows is no thing ("no suction and very noisy").
func (p *passage) endsDenial(i int, verbal bool) bool {
	if p.tokens[i].word != "and" || p.taken[i] || i+1 >= len(p.tokens) {
		return false
	}
	next := p.tokens[i+1].word
	return verbal || intensifiers[next] || determiners[next] || strings.HasSuffix(next, "y") || strings.HasSuffix(next, "ing") || predicateWords[next]
}

// determiners begin a thing of its own: "no output and the display is dark".
var determiners = wordSet(`the a an my its it this that`)

// outright begins the sum of a list: "no light no sound completely dead".
var outright = wordSet(`completely totally fully absolutely utterly entirely only just`)

// startsAnew holds for a mark that a negator further back does not reach: one that
// denies by itself ("no display no sound dead"), and not the first after the
// negator ("not dead") nor an alternative ("not slow or dead").
func (p *passage) startsAnew(m *mark, covered int) bool {
	return covered > 0 && m.neg && !p.alternative(m.first)
}

var intensifiers = wordSet(`very really quite too so also extremely loud hot slow dim stuck weak jammed then it now just`)

// nounNegators deny things. The others deny a deed, and not what it is done to:
// "can't get the tape out" does not deny the tape.
var nounNegators = wordSet(`no without nothing none zero lack lacks lacking lost loses nor neither`)

// negate lets each negator deny the marks within its reach.
func (p *passage) negate() {
	left, clause, covered := 0, -1, 0
	k, verbal, spent := 0, false, false
	for i := range p.tokens {
		if left > 0 && (p.clause[i] != clause || covered > 0 && (!p.taken[i] && headSet[p.tokens[i].word] || outright[p.tokens[i].word])) {
			left = 0
		}
		if left > 0 && covered > 0 && p.endsDenial(i, verbal) {
			left = 0
		}
		if reach := p.negators[i]; reach > 0 {
			if left > 0 && covered == 0 && p.tokens[i].word == "without" {
				left = 0 // "not without": affirmed
				continue
			}
			left, clause, covered = reach, p.clause[i], 0
			verbal, spent = !nounNegators[p.tokens[i].word], false
		}
		for ; k < len(p.marks) && p.marks[k].first == i; k++ {
			m := &p.marks[k]
			if p.startsAnew(m, covered) {
				left = 0
			}
			if left == 0 || quiet[m.concept] && m.concept != "@fault" || spent && m.kind != deed && !p.alternative(i) {
				continue
			}
			spent = spent || verbal && (m.kind == deed || m.concept == m.literal)
			m.neg = !m.neg
			p.denied++
			left--
			covered++
			if m.concept == "@stop" || m.concept == "@off" {
				left = 0 // "does not stop humming" hums
			}
		}
	}
}
