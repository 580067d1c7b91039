package unit

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fettler/internal/quantity"
)

// short lists the bench's short names of a unit; quantity knows the full ones.
// An empty string stands for a figure without a unit.
var short = map[string][]string{
	"Ω":  {"", "ohms", "Ohms", "ohm", "Ohm", "Ω", "R"},
	"F":  {"", "F"},
	"H":  {"", "H"},
	"V":  {"", "volts", "volt", "V", "v"},
	"A":  {"", "amps", "amp", "A"},
	"W":  {"", "watts", "watt", "W", "w"},
	"Hz": {"", "Hz", "hz", "HZ"},
	"s":  {"", "s"},
	"h":  {"", "hours", "hour", "h"},
	"°C": {"", "degC", "°C", "ºC", "C"},
	"K":  {"", "K"},
	"J":  {"", "J"},
	"m":  {"", "m"},
	"%":  {"", "%"},
}

var (
	reFigure   = regexp.MustCompile(`^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?)\s*([pnµumkKMGT]?)$`)
	reFraction = regexp.MustCompile(`^(\d{1,4})/(\d{1,4})$`)
	reInfix    = regexp.MustCompile(`^(\d*)(p|n|µ|u|m|R|k|K|M|G|T)(\d+)$`)
	reThousand = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}([^\d,.].*)?$`)
	reComma    = regexp.MustCompile(`^([+-]?\d*),(\d+)`)
)

// Clean brings the several look-alike characters of the trade to one spelling:
// micro and ohm signs, non-breaking spaces, the typographic minus.
func Clean(s string) string { return strings.TrimSpace(alike.Replace(s)) }

var alike = strings.NewReplacer(
	"\u03bc", "µ", "\u2126", "Ω", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2212", "-", "\u212a", "K",
)

// Parse reads text as a quantity in the given unit; a bare number is taken to
// be in that unit already. It knows the letter-for-point form (4k7, 2n2, R47),
// decimal commas and simple fractions. It refuses "1,000", which is a thousand
// to some readers and one to others.
func Parse(text, unit string) (float64, error) {
	names, ok := short[unit]
	if !ok {
		return 0, fmt.Errorf("unit %q is not known here", unit)
	}
	s := Clean(text)
	if s == "" {
		return 0, fmt.Errorf("no figure given; write a number with its unit, for example %s", example(unit))
	}
	if reThousand.MatchString(s) {
		return 0, fmt.Errorf("%q may mean a thousand or a decimal fraction; write it without the comma", text)
	}
	s = reComma.ReplaceAllString(s, "$1.$2")
	if unit == "m" { // here a bare m is the metre, never a prefix
		names = []string{"m", ""}
	}
	for _, n := range names {
		rest, cut := strings.CutSuffix(s, n)
		if !cut || rest == "" {
			continue
		}
		if full, ok := spellOut(strings.TrimSpace(rest), unit); ok {
			return read(full, unit)
		}
	}
	return 0, fmt.Errorf("%q is not a figure in %s; write for example %s", text, unit, example(unit))
}

// spellOut turns a figure with an optional prefix, and no unit, into one that
// quantity reads.
func spellOut(s, unit string) (string, bool) {
	if m := reFraction.FindStringSubmatch(s); m != nil {
		a, _ := strconv.Atoi(m[1])
		b, _ := strconv.Atoi(m[2])
		if b == 0 {
			return "", false
		}
		return strconv.FormatFloat(float64(a)/float64(b), 'g', -1, 64) + " " + unit, true
	}
	if m := reInfix.FindStringSubmatch(s); m != nil && (m[2] != "R" || unit == "Ω") && prefixed(unit) {
		return "0" + m[1] + "." + m[3] + " " + prefix(m[2]) + unit, true
	}
	m := reFigure.FindStringSubmatch(s)
	if m == nil || m[2] != "" && !prefixed(unit) {
		return "", false
	}
	n := strings.TrimLeft(m[1], "+")
	if strings.HasPrefix(n, ".") {
		n = "0" + n
	}
	if i := strings.Index(n, "."); i == len(n)-1 {
		n = n[:i]
	}
	return n + " " + prefix(m[2]) + unit, true
}

func prefix(p string) string {
	switch p {
	case "K":
		return "k"
	case "u":
		return "µ"
	case "R":
		return ""
	}
	return p
}

// read lets quantity do the arithmetic. Hours are kept as hours and percent as
// fractions here.
func read(full, unit string) (float64, error) {
	base := unit
	if unit == "h" {
		base = "s"
	}
	v, err := quantity.ParseIn(full, base)
	if err != nil {
		return 0, fmt.Errorf("%s is not a figure in %s: %w", full, unit, err)
	}
	switch unit {
	case "h":
		v /= 3600
	case "%":
		v /= 100
	}
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%s is beyond any part; check the exponent", full)
	}
	return v, nil
}

func prefixed(unit string) bool { return unit != "°C" && unit != "h" && unit != "%" }

func example(unit string) string {
	switch unit {
	case "Ω":
		return "4.7 kΩ or 4k7"
	case "F":
		return "100 nF or 2n2"
	case "m":
		return "12.5 mm"
	case "%":
		return "5 %"
	}
	return "35 " + unit
}
