package casework

import (
	"slices"
	"strings"
	"unicode"

	"fettler/internal/note"
)

// contradicts says that of two symptoms, by their titles, one denies what the other
// takes for granted: "completely dead, not even a standby light" and "standby light
// on, but it does not start". It is about words alone: chances do not tell, since one
// fault can bring either.
func contradicts(a, b string) bool {
	return deniesWhat(a, b) || deniesWhat(b, a)
}

// deniesWhat says that denier denies something that other speaks of as being there.
func deniesWhat(denier, other string) bool {
	own := denied(other)
	words := plainWords(other)
	for _, d := range denied(denier) {
		if len(d) == 0 || slices.ContainsFunc(own, func(o []string) bool { return slices.Equal(o, d) }) {
			continue
		}
		for i := 0; i+len(d) <= len(words); i++ {
			if !slices.Equal(words[i:i+len(d)], d) {
				continue
			}
			missing := i > 0 && negates[words[i-1]] || slices.ContainsFunc(words[i+len(d):], func(w string) bool { return absence[w] })
			if !missing {
				return true
			}
		}
	}
	return false
}

// denied are the things a title says are not there, each of one or two words.
func denied(title string) [][]string {
	var out [][]string
	for _, part := range strings.FieldsFunc(title, func(r rune) bool { return r == ',' || r == ';' || r == ':' }) {
		words := plainWords(part)
		for i, w := range words {
			if !negates[w] {
				continue
			}
			thing := words[i+1:]
			for len(thing) > 0 && fillers[thing[0]] {
				thing = thing[1:]
			}
			if n := len(thing); n == 1 || n == 2 {
				out = append(out, thing)
			}
			break
		}
	}
	return out
}

func plainWords(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

var (
	negates = map[string]bool{"no": true, "not": true, "without": true, "neither": true, "nor": true}
	fillers = map[string]bool{"even": true, "a": true, "an": true, "the": true, "any": true, "longer": true}
	absence = map[string]bool{"dark": true, "dead": true, "off": true, "missing": true, "gone": true, "black": true, "out": true, "silent": true, "never": true}
)

// denies says that a symptom known to show now denies finding f, or f it.
func (s *sheet) denies(f int) bool {
	now := len(s.c.Evidence.Acts)
	for _, o := range s.c.Evidence.Seen {
		x := &s.k.m.Findings[o.Finding]
		if o.Epoch == now && x.Kind == note.Sign && x.Check < 0 && o.Value > 0 && contradicts(x.Title, s.k.m.Findings[f].Title) {
			return true
		}
	}
	return false
}
