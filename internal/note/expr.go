package note

import "strings"

// A cause is written "condition is state", "condition is state or state",
// "condition is state or worse", or "part mode".

// splitCause cuts a cause into what it is about and the states or the mode.
func splitCause(s string) (about, rest string, isState bool) {
	s = strings.Join(strings.Fields(s), " ")
	if about, rest, ok := strings.Cut(s, " is "); ok {
		return about, rest, true
	}
	about, rest, _ = strings.Cut(s, " ")
	return about, rest, false
}

// stateBits resolves "low or absent" or "low or worse" against the states of a
// condition. unknown is the first word that is none of them.
func stateBits(expr string, states []string) (bits uint64, unknown string) {
	expr = strings.Join(strings.Fields(expr), " ")
	last := -1
	for _, word := range strings.Split(expr, " or ") {
		if word == "worse" && last >= 0 {
			for s := last; s < len(states); s++ {
				bits |= 1 << s
			}
			continue
		}
		last = indexOf(states, word)
		if last < 0 {
			return 0, word
		}
		bits |= 1 << last
	}
	return bits, ""
}

func indexOf(all []string, s string) int {
	for i, a := range all {
		if a == s {
			return i
		}
	}
	return -1
}

// cutNot cuts a leading "not".
func cutNot(s string) (rest string, not bool) {
	rest, not = strings.CutPrefix(s, "not ")
	return strings.TrimSpace(rest), not
}
