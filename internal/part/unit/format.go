package unit

import (
	"math"
	"strconv"

	"fettler/internal/quantity"
)

// Format prints v with four significant digits: "4.7 kΩ", "1000 µF", "12.5 mm".
func Format(v float64, unit string) string { return FormatDigits(v, unit, 4) }

// FormatDigits prints v with the given number of significant digits (1 to 15;
// anything else means 4) and no trailing zeros.
func FormatDigits(v float64, unit string, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not a number"
	}
	if digits < 1 || digits > 15 {
		digits = 4
	}
	a := math.Abs(v)
	switch {
	case unit == "F" && a >= 1e-3 && a < 0.9999: // never millifarads
		return plain(v*1e6, digits) + " µF"
	case unit == "m": // always millimetres
		return plain(v*1e3, digits) + " mm"
	case unit == "%":
		return plain(v*100, digits) + " %"
	case unit == "h", unit == "":
		return trim(plain(v, digits) + " " + unit)
	case unit == "s" && a >= 120 && a < 600: // discharge times stay in seconds a little longer
		return plain(v, digits) + " s"
	}
	return quantity.Format(v, unit, digits)
}

// plain rounds to significant digits, by way of the decimal form so that no
// stray binary digits are left.
func plain(v float64, digits int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if err != nil {
		r = v
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func trim(s string) string {
	if n := len(s); n > 0 && s[n-1] == ' ' {
		return s[:n-1]
	}
	return s
}
