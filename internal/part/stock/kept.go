package stock

import (
	"regexp"
	"strconv"
	"strings"

	"fettler/internal/part"
)

// A Kept line is one of a shelf, which knows it by an ID. Its maps are the shelf's: they
// are not to be written to.
type Kept struct {
	ID string
	Line
}

// An Offered part is one that somebody sells.
type Offered struct {
	Part
	Count  int
	Price  float64 // of the whole offer
	Seller string
	Days   float64 // until it is here
}

// FittedNew says that a part is of a kind that is not used a second time (common practice, no source).
func FittedNew(k part.Kind, name string) bool {
	return k.SafetyCritical() || strings.Contains(strings.ToLower(strings.Join(strings.Fields(name), " ")), "thermal cut-out")
}

var (
	reCount  = regexp.MustCompile(`^(\d{1,9})\s*[x×]\s*(.+)$`)
	reAcross = regexp.MustCompile(`^\d+(?:[.,]\d+)?\s*mm`)
)

// SplitCount reads "4 × 22k" and "4x 22k"; without a number it is 1.
func SplitCount(s string) (int, string) {
	m := reCount.FindStringSubmatch(s)
	if m == nil || reAcross.MatchString(m[2]) {
		return 1, s
	}
	n, err := strconv.Atoi(m[1])
	if err != nil || n == 0 {
		return 1, s
	}
	return n, m[2]
}
