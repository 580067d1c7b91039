package marking

import (
	"fmt"
	"strings"
)

// rkmLetters lists, per unit, the letter that stands for the point with its power
// of ten (IEC 60062, clause 4). The letter to write is the first of a power.
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

func digitsOnly(s string) bool { return strings.Trim(s, "0123456789") == "" }
