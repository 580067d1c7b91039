package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Quantity is a value in the base unit of its dimension.
type Quantity struct {
	Value float64
	Unit  string // base unit: "V", "Ω", "kg"; empty for a plain number
}

// A Range is a span of values in one base unit. Over means at or above Low,
// with nothing said about High; Under means at or below High.
type Range struct {
	Low, High float64
	Unit      string
	Over      bool
	Under     bool
}

// Parse reads one value with its unit.
func Parse(s string) (Quantity, error) {
	text := normalise(s)
	num, rest := splitNumber(text)
	if num == "" {
		return Quantity{}, fmt.Errorf("%q is not a value: expected a number and a unit, such as 4.7 kΩ", clip(s))
	}
	if strings.HasPrefix(rest, ",") {
		return Quantity{}, fmt.Errorf("%q has a comma: write a decimal point, such as 3.20 EUR", clip(s))
	}
	v, err := strconv.ParseFloat(num, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return Quantity{}, fmt.Errorf("%q is too large to be a value", clip(s))
	}
	name := strings.TrimSpace(rest)
	u, ok := lookup(name)
	if !ok {
		return Quantity{}, fmt.Errorf("unknown unit %q in %q: expected one such as V, mA, kΩ, µF, Hz, W, min, kg, °C, EUR or %%", clip(name), clip(s))
	}
	v = scale(v, u.factor)
	if math.IsInf(v, 0) {
		return Quantity{}, fmt.Errorf("%q is too large to be a value", clip(s))
	}
	return Quantity{v, u.base}, nil
}

// scale multiplies by factor; for factors below one it divides by the inverse
// when that is a whole number, so that 470 µF is exactly the double next to 470e-6.
func scale(v, factor float64) float64 {
	if factor < 1 {
		if inv := math.Round(1 / factor); math.Abs(inv*factor-1) < 1e-12 {
			return v / inv
		}
	}
	return v * factor
}

// ParseIn reads one value that must have the dimension of the base unit given,
// and returns it in that unit. A bare 0 is nothing in any unit but that of a temperature.
func ParseIn(s, base string) (float64, error) {
	q, err := Parse(s)
	if err != nil {
		return 0, err
	}
	if q.Unit != base {
		if q.Unit == "" && q.Value == 0 && base != "°C" {
			return 0, nil
		}
		if q.Unit == "" {
			return 0, fmt.Errorf("%q has no unit: expected %s", clip(s), dimension(base))
		}
		return 0, fmt.Errorf("%q is in %s: expected %s", clip(s), q.Unit, dimension(base))
	}
	return q.Value, nil
}

// ParseMoney reads an amount of money that is not negative, with its currency.
func ParseMoney(s string) (Quantity, error) {
	q, err := Parse(s)
	switch {
	case err != nil:
		return Quantity{}, err
	case !IsCurrency(q.Unit):
		return Quantity{}, fmt.Errorf("%q is no amount of money: expected one such as 3.20 EUR", clip(s))
	case q.Value < 0:
		return Quantity{}, fmt.Errorf("%q is negative: expected an amount of 0 or more", clip(s))
	}
	return q, nil
}

// ParseRange reads "8 V .. 28 V", "8 .. 28 V", "over 1 MΩ" or "under 2 V".
func ParseRange(s string) (Range, error) {
	text := normalise(s)
	if rest, ok := strings.CutPrefix(text, "over "); ok {
		q, err := Parse(rest)
		return Range{Low: q.Value, Unit: q.Unit, Over: err == nil}, err
	}
	if rest, ok := strings.CutPrefix(text, "under "); ok {
		q, err := Parse(rest)
		return Range{High: q.Value, Unit: q.Unit, Under: err == nil}, err
	}
	from, to, ok := strings.Cut(text, "..")
	if !ok {
		return Range{}, fmt.Errorf("%q is not a range: expected 8 V .. 28 V, over 1 MΩ or under 2 V", clip(s))
	}
	return span(s, from, strings.TrimLeft(to, "."))
}

// span reads the two ends of a range; an end without a unit takes that of the other.
func span(s, from, to string) (Range, error) {
	high, err := Parse(to)
	if err != nil {
		return Range{}, err
	}
	if num, rest := splitNumber(normalise(from)); num != "" && strings.TrimSpace(rest) == "" {
		_, written := splitNumber(normalise(to))
		from = num + " " + written
	}
	low, err := Parse(from)
	switch {
	case err != nil:
		return Range{}, err
	case low.Unit != high.Unit:
		return Range{}, fmt.Errorf("%q goes from %s to %s: both ends need the same sort of unit", clip(s), name(low.Unit), name(high.Unit))
	case low.Value == high.Value:
		return Range{}, fmt.Errorf("%q has no width: give the span in which 90 %% of readings lie", clip(s))
	case low.Value > high.Value:
		return Range{}, fmt.Errorf("%q runs backwards: write the smaller end first", clip(s))
	}
	return Range{Low: low.Value, High: high.Value, Unit: low.Unit}, nil
}

func name(unit string) string {
	if unit == "" {
		return "a plain number"
	}
	return unit
}

// normalise brings the spellings of micro, ohm, degree, minus and blanks to one.
func normalise(s string) string {
	return strings.TrimSpace(spellings.Replace(s))
}

var spellings = strings.NewReplacer(
	"\u03bc", "µ", // Greek mu
	"\u2126", "Ω", // ohm sign
	"\u2212", "-", // minus sign
	"\u00a0", " ", "\u202f", " ", "\u2009", " ",
	"\u2026", "..",
	"uF", "µF", "uA", "µA", "uV", "µV", "uH", "µH", "us", "µs", "uW", "µW", "um", "µm", "uJ", "µJ", "ul", "µl",
	"Ohm", "ohm", "ohms", "ohm",
)

// splitNumber cuts the leading decimal number off.
func splitNumber(s string) (num, rest string) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	start := i
	for i < len(s) && digit(s[i]) {
		i++
	}
	whole := i - start
	frac := 0
	if i+1 < len(s) && s[i] == '.' && digit(s[i+1]) {
		for i++; i < len(s) && digit(s[i]); i++ {
			frac++
		}
	}
	if whole+frac == 0 {
		return "", s
	}
	if j := i; j < len(s) && (s[j] == 'e' || s[j] == 'E') {
		j++
		if j < len(s) && (s[j] == '-' || s[j] == '+') {
			j++
		}
		if j < len(s) && digit(s[j]) {
			for j < len(s) && digit(s[j]) {
				j++
			}
			i = j
		}
	}
	return s[:i], s[i:]
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

// clip keeps a quotation in an error short.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
