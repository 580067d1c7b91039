package casework

import (
	"fmt"
	"math"
	"regexp"
	"strings"
)

var (
	fromRecords = regexp.MustCompile(`repair records of ([^;(]+)`)
	fromCases   = regexp.MustCompile(`from (\d+) cases? (here|with this block|with such parts)`)
	unseenHere  = regexp.MustCompile(`not seen in any case here`)
)

// usualWords says how often a fault is there before anything is looked at, and what
// that rests on, in the words of the bench. basis is the note's and the ledger's own account.
func usualWords(prior float64, basis string) string {
	var out []string
	if prior > 0 {
		out = append(out, fmt.Sprintf("Of such devices that come in broken, %s this.", share(prior)))
	}
	var from []string
	switch handbook := strings.Contains(basis, "MIL-HDBK") || strings.Contains(basis, "FMD"); {
	case handbook && strings.Contains(basis, "judged"):
		from = append(from, "a handbook of part failures, put right by judgement")
	case handbook:
		from = append(from, "a handbook of part failures")
	case strings.Contains(basis, "judged"):
		from = append(from, "judgement")
	case basis != "":
		from = append(from, "what the bench note says")
	}
	if m := fromRecords.FindStringSubmatch(basis); m != nil {
		from = append(from, "repair records of “"+strings.TrimSpace(m[1])+"”")
	}
	if m := fromCases.FindStringSubmatch(basis); m != nil {
		from = append(from, plural(atoi(m[1]), "closed case", "closed cases")+" "+m[2])
	} else if unseenHere.MatchString(basis) {
		from = append(from, "its not having come up on this bench yet")
	}
	if len(from) > 0 {
		out = append(out, "That rests on "+andList(from)+".")
	}
	return strings.Join(out, " ")
}

// share says a small chance as one device in so many.
func share(p float64) string {
	switch {
	case p >= 0.095:
		return fmt.Sprintf("about %.0f in 100 have", 100*p)
	case p >= 0.00095:
		n := 1 / p
		if n > 20 {
			n = math.Round(n/10) * 10
		}
		return fmt.Sprintf("about one in %.0f has", n)
	}
	return "fewer than one in a thousand have"
}

func andList(parts []string) string {
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

func atoi(s string) int {
	n := 0
	for _, d := range s {
		n = n*10 + int(d-'0')
	}
	return n
}
