package appraise

import (
	"fmt"

	"fettler/internal/words"
)

// featuresOf lists what a text says in the form the fitted tables know, each
// once: general symptoms ("s no-heat", "s no-heat no" when denied), parts with
// their state ("o switch", "o switch faulty") and stems of words ("w lever");
// the first two also as said within a group of like categories ("g3 s dead").
func featuresOf(index *words.Index, text string, group int, owner bool) []string {
	var out []string
	seen := map[string]bool{}
	say := func(f string) {
		if !seen[f] {
			seen[f] = true
			out = append(out, f)
		}
	}
	both := func(f string) {
		say(f)
		if group >= 0 {
			say(fmt.Sprintf("g%d %s", group, f))
		}
	}
	for _, m := range index.Read(text).Matches {
		if m.Denied {
			both("s " + m.ID + " no")
		} else {
			both("s " + m.ID)
		}
	}
	tokens := tokenize(text)
	quiet := make([]bool, len(tokens))
	for _, m := range mentions(tokens, owner) {
		both(organs[m.organ].feature(m.state))
		if !m.state.cleared() {
			both("o " + organs[m.organ].name)
			continue
		}
		for i := m.first; i <= m.last; i++ {
			quiet[i] = true // what is in order is not talked of as a cause
		}
	}
	for i, t := range tokens {
		if !quiet[i] && !idle[t.word] {
			say("w " + t.stem)
		}
	}
	return out
}

// wordFeatures are the stems of a text's words.
func wordFeatures(tokens []token) []string {
	var out []string
	for _, t := range tokens {
		if !idle[t.word] {
			out = append(out, "w "+t.stem)
		}
	}
	return out
}

func (o *organ) feature(s state) string { return "o " + o.name + " " + s.String() }
