package quantity

import (
	"math"
	"strconv"
)

// String prints the value as Parse reads it, to six significant digits.
func (q Quantity) String() string { return Format(q.Value, q.Unit, 6) }

// String prints the range as ParseRange reads it.
func (r Range) String() string {
	switch {
	case r.Over:
		return "over " + Format(r.Low, r.Unit, 6)
	case r.Under:
		return "under " + Format(r.High, r.Unit, 6)
	}
	return Format(r.Low, r.Unit, 6) + " .. " + Format(r.High, r.Unit, 6)
}

// Format prints a value in the given base unit to so many significant digits,
// with the prefix that leaves one to three digits before the point. Seconds
// from two minutes on are printed in min, then h, then days; money always has two decimals.
// A value that is not finite is printed as "overload" (+Inf) or "no value".
func Format(v float64, base string, digits int) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, -1):
		return "no value"
	case math.IsInf(v, 1):
		return "overload"
	case IsCurrency(base):
		return strconv.FormatFloat(v, 'f', 2, 64) + " " + base
	case base == "s" && math.Abs(v) >= 120:
		return formatTime(v, digits)
	case base == "kg" && v != 0 && math.Abs(v) < 1:
		return formatPrefixed(v*1e3, "g", digits)
	case base == "":
		return number(v, digits)
	}
	if u, ok := units[base]; ok && u.prefix && u.factor == 1 {
		return formatPrefixed(v, base, digits)
	}
	return number(v, digits) + " " + base
}

func formatTime(v float64, digits int) string {
	switch a := math.Abs(v); {
	case a < 2*3600:
		return number(v/60, digits) + " min"
	case a < 2*86400:
		return number(v/3600, digits) + " h"
	}
	return number(v/86400, digits) + " days"
}

// steps are the prefixes in the order of their worth.
var steps = []struct {
	name   string
	factor float64
}{{"p", 1e-12}, {"n", 1e-9}, {"µ", 1e-6}, {"m", 1e-3}, {"", 1}, {"k", 1e3}, {"M", 1e6}, {"G", 1e9}}

func formatPrefixed(v float64, base string, digits int) string {
	if v == 0 {
		return "0 " + base
	}
	a := math.Abs(v)
	best := steps[0]
	for _, s := range steps {
		if rounded(a/s.factor, digits) >= 1 {
			best = s
		}
	}
	return number(scale(v, 1/best.factor), digits) + " " + best.name + base
}

// rounded is v to so many significant digits.
func rounded(v float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', max(digits, 1), 64), 64)
	if err != nil {
		return v
	}
	return r
}

// Plain prints a number to so many significant digits without prefix or power of ten,
// for a unit that is written after it: "2200", "0.125". What is not finite reads as in Format.
func Plain(v float64, digits int) string { return Format(v, "", digits) }

func number(v float64, digits int) string {
	v = rounded(v, digits)
	if a := math.Abs(v); a != 0 && (a < 1e-4 || a >= 1e9) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
