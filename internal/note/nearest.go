package note

import (
	"fmt"
	"strings"
)

// nearest returns the name among names that is least different from what was
// written, or "" if none is close enough to be what was meant.
func nearest(written string, names []string) string {
	best, least := "", len([]rune(written))/3+1
	for _, n := range names {
		if d := editDistance(strings.ToLower(written), strings.ToLower(n), least); d <= least && (best == "" || d < least) {
			best, least = n, d
		}
	}
	return best
}

// hintNames is the hint for an unknown name: the nearest one, or all if they are few.
func hintNames(written string, names []string) string {
	if n := nearest(written, names); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	const few = 12
	switch {
	case len(names) == 0:
		return "there are none here"
	case len(names) <= few:
		return "expected one of: " + strings.Join(names, ", ")
	}
	return "expected one of: " + strings.Join(names[:few], ", ") + ", …"
}

// also adds a second sentence to a hint.
func also(hint, more string) string {
	if hint == "" {
		return more
	}
	if strings.HasSuffix(hint, "?") {
		return hint + " " + more
	}
	return hint + "; " + more
}

// editDistance counts the letters to insert, delete, replace or swap with
// their neighbour to turn a into b; anything above limit may be returned as limit+1.
func editDistance(a, b string, limit int) int {
	r, s := []rune(a), []rune(b)
	if len(r)-len(s) > limit || len(s)-len(r) > limit {
		return limit + 1
	}
	before, last, now := make([]int, len(s)+1), make([]int, len(s)+1), make([]int, len(s)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(r); i++ {
		now[0] = i
		for j := 1; j <= len(s); j++ {
			same := 1
			if r[i-1] == s[j-1] {
				same = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+same)
			if i > 1 && j > 1 && r[i-1] == s[j-2] && r[i-2] == s[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(s)]
}
