package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// percent says a chance as one says it.
func percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1 %"
	case p < 1 && p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// lowered makes the first letter small, unless the word is an abbreviation.
func lowered(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[size:])
	if !unicode.IsUpper(first) || !unicode.IsLower(second) {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}

// sentence is s with a capital and a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return capital(s)
	}
	return capital(s) + "."
}
