package note

import (
	"fmt"
	"strconv"
	"strings"
)

// chanceWords are the words for chances, from certain to impossible.
var chanceWords = []struct {
	word   string
	chance float64
}{
	{"always", 0.99}, {"nearly always", 0.95}, {"usually", 0.8}, {"often", 0.6}, {"half the time", 0.5},
	{"sometimes", 0.3}, {"seldom", 0.1}, {"rarely", 0.03}, {"almost never", 0.01}, {"never", 0},
}

const (
	defaultLeak    = 0.005
	defaultSuccess = 0.95
	// floor keeps every observation possible: no leak and no answer in a table
	// is less likely, no chance of showing more likely than its complement.
	floor = 0.001
)

// parseChance reads a word, a number from 0 to 1, or a percentage.
func parseChance(s string) (p float64, hint string, err error) {
	s = strings.TrimSpace(s)
	for _, w := range chanceWords {
		if w.word == s {
			return w.chance, "", nil
		}
	}
	digits, percent := strings.CutSuffix(s, "%")
	v, perr := strconv.ParseFloat(strings.TrimSpace(digits), 64)
	if perr != nil || v != v {
		return 0, hintNames(s, words()), fmt.Errorf("%q is not a chance", clip(s))
	}
	if percent {
		v /= 100
	}
	if v < 0 || v > 1 {
		hint = "expected 0 to 1, or 0 % to 100 %"
		if !percent && v > 1 && v <= 100 {
			hint += fmt.Sprintf("; did you mean %s %%?", s)
		}
		return 0, hint, fmt.Errorf("the chance %s is out of range", clip(s))
	}
	return v, "", nil
}

func words() []string {
	out := make([]string, len(chanceWords))
	for i, w := range chanceWords {
		out[i] = w.word
	}
	return out
}

// clampChance keeps a chance of showing away from certainty.
func clampChance(p float64) float64 { return min(p, 1-floor) }
