package marking

import (
	"fmt"
	"strings"
)

// rkmLetters lists, per unit, the letter that stands for the point with its power
// of ten (IEC 60062, clause 4). The letter of EncodeRKM is the first of a power.
var rkmLetters = map[string][]rkmLetter{
	"Ω": {{"L", -3}, {"R", 0}, {"K", 3}, {"M", 6}, {"G", 9}, {"T", 12}, {"k", 3}, {"m", -3}, {"E", 0}}, // k, m, E are read but not written
	"F": {{"p", -12}, {"n", -9}, {"µ", -6}, {"m", -3}, {"F", 0}, {"u", -6}},
	"H": {{"N", -9}, {"R", -6}, {"n", -9}, {"µ", -6}, {"u", -6}, {"m", -3}},
}

type rkmLetter struct {
	letter string
	exp    int
}

// DecodeRKM reads a letter-and-digit code (4R7, 2n2, R47, 470R) in the unit "Ω",
// "F" or "H". On inductors R is the point in µH and N the point in nH.
func DecodeRKM(code, unit string) (float64, error) {
	for _, l := range rkmLetters[unit] {
		before, after, found := strings.Cut(code, l.letter)
		if !found {
			continue
		}
		if !digitsOnly(before) || !digitsOnly(after) || before+after == "" || len(before)+len(after) > 6 {
			continue
		}
		if v := power10(before+"."+after, l.exp); v > 0 || strings.Trim(before+after, "0") == "" {
			return v, nil
		}
	}
	return 0, fmt.Errorf("%q is not a letter-and-digit code in %s: digits with one letter for the point, such as 4R7, 2n2", code, unit)
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

func digitsOnly(s string) bool { return strings.Trim(s, "0123456789") == "" }
