package appraise

import (
	"strings"
	"sync"

	"fettler/internal/note"
)

// A state is what a text says of a part, the more telling the later.
type state int

const (
	named   state = iota // no more than its name
	failing              // it does not do what it is for, which may be for want of something else
	stuck
	dirty
	loose
	faulty
	good
	inVain // replaced, and the trouble stayed
)

func (s state) String() string {
	return [...]string{"named", "not working", "stuck", "dirty", "loose", "faulty", "good", "replaced in vain"}[s]
}

// cleared reports whether the text takes the blame off the part.
func (s state) cleared() bool { return s >= good }

// A mention is one organ found in a text.
type mention struct {
	organ       int // index into organs
	state       state
	first, last int // tokens
	start, end  int // bytes
}

// organWays are the ways of saying each organ, by the stem of their first word, longest first.
var organWays = sync.OnceValue(func() map[string][]organWay {
	out := map[string][]organWay{}
	for i, o := range organs {
		for w := range strings.SplitSeq(o.words, "|") {
			var stems []string
			for _, t := range tokenize(w) {
				stems = append(stems, t.stem)
			}
			out[stems[0]] = append(out[stems[0]], organWay{i, stems})
		}
	}
	return out
})

type organWay struct {
	organ int
	stems []string
}

// mentions finds the organs that a text names, longest names first, and what
// it says of each in the clause it stands in and, after a colon, the next. A
// fuse that is said to be blown by something is no part named but a symptom. In
// an owner's words a part that is new has been replaced in vain: the device is here.
func mentions(tokens []token, owner bool) []mention {
	var all []mention
	for i := 0; i < len(tokens); {
		best := organWay{}
		for _, w := range organWays()[tokens[i].stem] {
			if len(w.stems) > len(best.stems) && follows(tokens[i:], w.stems) {
				best = w
			}
		}
		if len(best.stems) == 0 {
			i++
			continue
		}
		m := mention{organ: best.organ, first: i, last: i + len(best.stems) - 1}
		m.start, m.end = tokens[m.first].start, tokens[m.last].end
		all = append(all, m)
		i = m.last + 1
	}
	out := all[:0:0]
	for n, m := range all {
		from, to := reach(tokens, all, n)
		if organs[m.organ].class == note.ClassFuse && blows(tokens[from:to+1]) {
			continue
		}
		m.state = stateOf(tokens, m, from, to, owner)
		out = append(out, m)
	}
	return out
}

// blows reports whether something is said to blow fuses, now and again.
func blows(tokens []token) bool {
	for _, t := range tokens {
		switch t.word {
		case "blow", "blows", "blowing", "trip", "trips", "tripping", "keeps":
			return true
		}
	}
	return false
}

func follows(tokens []token, stems []string) bool {
	if len(tokens) < len(stems) {
		return false
	}
	for j, s := range stems {
		if tokens[j].stem != s {
			return false
		}
	}
	return true
}

// reach is the first and last word that may tell the state of a mention: from
// the mention before it, or the clause's start, to the next mention or the
// clause's end, and one clause further if that one is short and names nothing
// ("thermal switch checked, good") or stands behind the name ("switch: stiff").
func reach(tokens []token, all []mention, n int) (from, to int) {
	m := all[n]
	from, to = m.first, m.last
	for from > 0 && tokens[from-1].clause == tokens[m.first].clause && (n == 0 || from-1 > all[n-1].last) {
		from--
	}
	free := len(tokens)
	if n+1 < len(all) {
		free = all[n+1].first
	}
	for to+1 < free && tokens[to+1].clause == tokens[m.last].clause {
		to++
	}
	if next := to + 1; next < free && tokens[next].sentence == tokens[m.last].sentence {
		end := next
		for end+1 < len(tokens) && tokens[end+1].clause == tokens[next].clause {
			end++
		}
		const short = 3
		if end < free && (end-next < short || to == m.last) {
			to = end
		}
	}
	return from, to
}

func stateOf(tokens []token, m mention, from, to int, owner bool) state {
	vain := owner
	for i := from; i <= to; i++ {
		vain = vain && !wanting[tokens[i].word]
	}
	for i := m.last + 1; i < len(tokens); i++ {
		vain = vain || stillWords[tokens[i].word] || notWords[tokens[i-1].word] && betterWords[tokens[i].word]
	}
	got, fresh, healed := named, false, false
	for i := from; i <= to; i++ {
		if i >= m.first && i <= m.last {
			continue
		}
		w := tokens[i].word
		before := ""
		if i > from {
			before = tokens[i-1].word
		}
		negated := notWords[before] || i > from+1 && notWords[tokens[i-2].word]
		bad, isBad := stateWord(w)
		switch {
		case w == "now":
			healed = true
		case dealtWith[w]:
			fresh = fresh || newWords[w] && !negated
			vain = vain || newWords[w] && (inSpite(tokens[from:i]) || before == "with" && denied(tokens[:i], tokens[i].sentence))
			if !negated {
				got = worse(got, faulty)
			}
		case negated && (doing[w] || goodWords[w]):
			got = worse(got, failing)
		case isBad && !negated:
			got = worse(got, bad)
		case goodWords[w] || isBad:
			if got == named && !healed { // "now works": what was done helped
				got = good
			}
		}
	}
	if fresh && vain {
		return inVain
	}
	return got
}

// worse is the more telling of two states; anything bad overrules "good".
func worse(a, b state) state {
	if a == good {
		return b
	}
	return max(a, b)
}

// inSpite reports whether the words just before say that something did not help.
func inSpite(before []token) bool {
	for _, t := range before[max(len(before)-3, 0):] {
		switch t.word {
		case "even", "despite", "tried", "although":
			return true
		}
	}
	return false
}

// denied reports whether a sentence has a negator among these words.
func denied(tokens []token, sentence int) bool {
	for _, t := range tokens {
		if t.sentence == sentence && notWords[t.word] {
			return true
		}
	}
	return false
}
