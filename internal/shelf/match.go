package shelf

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"fettler/internal/part"
	"fettler/internal/part/stock"
)

// A line of the shelf does for a part of a note by its name: the same words, or all of
// them and besides only figures, what stands after a comma, "with" or "for", and
// words that change nothing. "plug fuse 13 A" is a plug fuse; "display cable" is no display.

// beside are words that do not make another thing of a name.
var beside = map[string]bool{
	"new": true, "spare": true, "used": true, "of": true, "the": true, "a": true, "an": true, "and": true, "ac": true, "dc": true, "type": true, "bs": true,
	"small": true, "large": true, "glass": true, "quick": true, "slow": true, "time-lag": true, "leaded": true, "round": true, "flat": true,
	"black": true, "white": true, "red": true, "brown": true, "grey": true, "blue": true, "green": true, "yellow": true,
	"v": true, "mv": true, "kv": true, "ma": true, "w": true, "kw": true, "mm": true, "cm": true, "m": true, "ω": true, "kω": true, "ohm": true, "µf": true, "uf": true, "nf": true, "pf": true, "hz": true, "°c": true, "c": true, "pin": true, "pole": true, "way": true, "x": true, "×": true,
}

var reAside = regexp.MustCompile(`(?i)[,;(].*$|\s(?:with|for|from)\s.*$`)

// nameWords are the words of a name, without a plural's s.
func nameWords(s string) []string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;():", r) })
	for i, w := range words {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			words[i] = w[:len(w)-1]
		}
	}
	return words
}

// wordsFit tells whether a line named so does for an item by its words.
func wordsFit(item, line string) bool {
	if SameName(item) == SameName(line) {
		return true
	}
	if p := stock.Read(item); p.Kind != part.Unknown && len(p.Rest) == 0 {
		return false // "fuse" or "MOSFET" alone: the figures decide, and they are not said
	}
	left, has := map[string]bool{}, map[string]bool{}
	for _, w := range nameWords(reAside.ReplaceAllString(line, "")) {
		left[w] = true
	}
	for _, w := range nameWords(line) {
		has[w] = true
	}
	want := nameWords(item)
	for _, w := range want {
		if !has[w] && !beside[w] {
			return false
		}
		delete(left, w)
	}
	for w := range left {
		if !beside[w] && !strings.ContainsFunc(w, unicode.IsDigit) {
			return false
		}
	}
	return mainWord(item) != ""
}

// mainWord is the first word of a name that says what it is.
func mainWord(s string) string {
	for _, w := range nameWords(s) {
		if !beside[w] {
			return w
		}
	}
	return ""
}

// namesByWord lists the names on the shelf by each word that says what it is.
func (s *Shelf) namesByWord() map[string][]string {
	out := map[string][]string{}
	for _, k := range slices.Sorted(maps.Keys(s.names())) {
		for _, w := range nameWords(k) {
			if n := out[w]; !beside[w] && (len(n) == 0 || n[len(n)-1] != k) {
				out[w] = append(out[w], k)
			}
		}
	}
	return out
}
