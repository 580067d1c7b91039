package cli

import "strings"

// nearest returns the name that is least different from what was typed, or ""
// if none is near enough to be meant. A name that begins with what was typed is near.
func nearest(typed string, names []string) string {
	typed = strings.ToLower(typed)
	if len(typed) < 2 {
		return ""
	}
	best, least := "", 1
	if n := len([]rune(typed)); n > 3 {
		least = n/3 + 1
	}
	for _, n := range names {
		d := distance(typed, strings.ToLower(n))
		if strings.HasPrefix(strings.ToLower(n), typed) {
			d = min(d, 1)
		}
		if swapped(typed, strings.ToLower(n)) {
			d = 1
		}
		if d <= least && (best == "" || d < least) {
			best, least = n, d
		}
	}
	return best
}

// swapped tells whether a becomes b when two neighbouring letters change places.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range len(a) - 1 {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}

// distance is the number of letters to insert, delete or replace to turn a into b (Levenshtein).
func distance(a, b string) int {
	r, s := []rune(a), []rune(b)
	row := make([]int, len(s)+1)
	for j := range row {
		row[j] = j
	}
	for i := range r {
		diagonal := row[0]
		row[0] = i + 1
		for j := range s {
			cost := 1
			if r[i] == s[j] {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, diagonal+cost)
		}
	}
	return row[len(s)]
}

// pick finds the one of names that was meant: the name itself, or the only one
// that ends in ".typed", as "ripple" does for "supply.ripple".
func pick(typed string, names []string) (string, bool) {
	found := ""
	for _, n := range names {
		if strings.EqualFold(n, typed) {
			return n, true
		}
		if strings.HasSuffix(strings.ToLower(n), "."+strings.ToLower(typed)) {
			if found != "" {
				return "", false
			}
			found = n
		}
	}
	return found, found != ""
}

// near is nearest among names or what stands after their last dot.
func near(typed string, names []string) string {
	if n := nearest(typed, names); n != "" {
		return n
	}
	short := make([]string, len(names))
	for i, n := range names {
		short[i] = n[strings.LastIndexByte(n, '.')+1:]
	}
	n := nearest(typed, short)
	for i := range short {
		if n != "" && short[i] == n {
			return names[i]
		}
	}
	return ""
}
