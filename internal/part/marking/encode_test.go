package marking

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/part/eseries"
)

// EncodeBands is the row of bands for a value: three, four, five or six of
// them. Tolerance is ignored with three, TCppm below six.
func EncodeBands(v Banded, bands int) ([]Colour, error) {
	if bands == 1 && v.Ohms == 0 {
		return []Colour{Black}, nil
	}
	if bands < 3 || bands > 6 {
		return nil, fmt.Errorf("a resistor has three to six bands, not %d", bands)
	}
	n := 2
	if bands >= 5 {
		n = 3
	}
	m, exp, err := mantissa(v.Ohms, n)
	if err != nil {
		return nil, err
	}
	var cs []Colour
	for _, r := range m {
		cs = append(cs, Colour(r-'0'))
	}
	mult, err := findBand(func(b band) bool { return b.exp == exp })
	if err != nil {
		return nil, fmt.Errorf("%g Ω has no multiplier band; the code runs from 10⁻³ to 10⁹", v.Ohms)
	}
	cs = append(cs, mult)
	if bands >= 4 {
		t, err := findBand(func(b band) bool { return b.tol > 0 && math.Abs(b.tol-v.Tolerance) < 1e-9 })
		if err != nil {
			return nil, fmt.Errorf("±%g %% has no tolerance band", v.Tolerance*100)
		}
		cs = append(cs, t)
	}
	if bands == 6 {
		t, err := findBand(func(b band) bool { return b.tc > 0 && b.tc == v.TCppm })
		if err != nil {
			return nil, fmt.Errorf("%g ppm/K has no band", v.TCppm)
		}
		cs = append(cs, t)
	}
	return cs, nil
}

func findBand(fits func(band) bool) (Colour, error) {
	i := slices.IndexFunc(table[:], fits)
	if i < 0 {
		return Unseen, fmt.Errorf("no such band")
	}
	return Colour(i), nil
}

// EncodeYearMonth is the two-character code of a month.
func EncodeYearMonth(year, month int) (string, error) {
	if year < firstYear || year > lastYear || month < 1 || month > 12 {
		return "", fmt.Errorf("%d-%02d is not a date the code covers (1970 to 2049)", year, month)
	}
	return string([]byte{yearLetters[(year-1970)%20], monthLetters[month-1]}), nil
}

// EncodeYearWeek is the code YYWW.
func EncodeYearWeek(year, week int) (string, error) {
	if year < 1970 || year > 2069 || week < 1 || week > 53 {
		return "", fmt.Errorf("week %d of %d is not a date the code covers", week, year)
	}
	return fmt.Sprintf("%02d%02d", year%100, week), nil
}

// EncodeDigits is the code of n digits (3 or 4) for a value; see [DecodeDigits].
func EncodeDigits(value float64, exp10, n int) (string, error) {
	if n != 3 && n != 4 {
		return "", fmt.Errorf("a digit code has three or four digits, not %d", n)
	}
	m, exp, err := mantissa(value, n-1)
	if err != nil {
		return "", err
	}
	e := exp - exp10
	if exp10 == -12 && n == 3 && (e == -1 || e == -2) {
		e += 10
	} else if e < 0 || e > 9 || (exp10 == -12 && n == 3 && e > 7) {
		return "", fmt.Errorf("%g is outside the range of a %d-digit code; use a letter for the point", value, n)
	}
	return m + strconv.Itoa(e), nil
}

// EncodeEIA96 is the code of an E96 value between 0.1 Ω and 97.6 MΩ.
func EncodeEIA96(ohms float64) (string, error) {
	m, exp, err := mantissa(ohms, 3)
	if err != nil {
		return "", err
	}
	n, _ := strconv.Atoi(m)
	i := slices.Index(eseries.E96.Values(), n)
	if i < 0 {
		return "", fmt.Errorf("%g Ω is not a value of E96, so it has no EIA-96 code", ohms)
	}
	if exp < -3 || exp > 5 {
		return "", fmt.Errorf("%g Ω is outside the range of EIA-96", ohms)
	}
	return fmt.Sprintf("%02d%c", i+1, eiaOrder[exp+3]), nil
}

// fuseInscription is the inscription of a fuse in the order of IEC 60127-1: T3.15AH250V.
func fuseInscription(amps, volts float64, speed, brk string) string {
	a := strconv.FormatFloat(amps, 'f', -1, 64) + "A"
	if amps < 1 {
		a = strconv.FormatFloat(math.Round(amps*1e6)/1e3, 'f', -1, 64) + "mA"
	}
	s := speed + a + brk
	if volts > 0 {
		s += strconv.FormatFloat(volts, 'f', -1, 64) + "V"
	}
	return s
}

// EncodeFuse writes a fuse's inscription as IEC 60127-1 orders it: speed letter,
// current, breaking-capacity letter, voltage (T3.15AH250V).
func EncodeFuse(amps, volts float64, speed, brk string) (string, error) {
	switch {
	case !(amps > 0) || amps > 100 || math.IsNaN(volts) || volts < 0 || volts > 1e4:
		return "", fmt.Errorf("%g A, %g V is not a miniature fuse", amps, volts)
	case speeds[speed] == "":
		return "", fmt.Errorf("%q is not a speed letter; use FF, F, M, T or TT", speed)
	case brk != "" && breaking[brk] == "":
		return "", fmt.Errorf("%q is not a breaking-capacity letter; use L, E or H", brk)
	}
	return fuseInscription(amps, volts, speed, brk), nil
}

// EncodeRKM writes a positive value with as many digits as it needs (at most
// four): 4R7, 47R, 470R, R47, 2n2, 100p. It prefers one to three digits before the
// letter.
func EncodeRKM(value float64, unit string) (string, error) {
	letters, ok := rkmLetters[unit]
	if !ok {
		return "", fmt.Errorf("there is no letter-and-digit code in %s", unit)
	}
	d, exp, err := shortest(value)
	if err != nil {
		return "", err
	}
	top := exp + len(d) // value = 0.d × 10^top
	best, bestCost := "", 100
	for i, l := range letters {
		point := top - l.exp // digits before the letter
		if point < 0 || point > 3 || strings.Contains("kmE", l.letter) && unit == "Ω" {
			continue
		}
		cost := max(len(d), point)
		if point == 0 {
			cost += 10
		}
		if unit == "Ω" && i == 0 {
			cost += 20 // L is for current-sense parts only
		}
		if cost < bestCost {
			padded := d + strings.Repeat("0", max(0, point-len(d)))
			best, bestCost = padded[:point]+l.letter+padded[point:], cost
		}
	}
	if best == "" {
		return "", fmt.Errorf("%g %s is outside the range of the letter-and-digit code", value, unit)
	}
	return best, nil
}

// shortest writes v with the fewest digits, at most four.
func shortest(v float64) (string, int, error) {
	var d string
	var exp int
	var err error
	for n := 1; n <= 4; n++ {
		if d, exp, err = mantissa(v, n); err == nil {
			return d, exp, nil
		}
	}
	return "", 0, err
}

// EncodeTolerance is the letter for a symmetric tolerance given as a fraction.
func EncodeTolerance(tol float64) (byte, bool) {
	for _, l := range []byte("LPWBCDFGHJKMN") {
		if math.Abs(tolLetters[l].High-tol) < 1e-9 {
			return l, true
		}
	}
	return 0, false
}

// EncodeRatedVoltage is the code of a rated voltage.
func EncodeRatedVoltage(volts float64) (string, bool) {
	for c, v := range ratedCodes {
		if v == volts {
			return c, true
		}
	}
	return "", false
}
