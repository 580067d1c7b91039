package marking

import (
	"fmt"
	"strconv"
	"strings"

	"fettler/internal/part/eseries"
)

// DecodeDigits reads a three- or four-digit code: all but the last digit, times
// ten to the last. The result is in the code's own base unit: Ω on resistors,
// pF on capacitors, µH on inductors; exp10 is that unit's power of ten (0, −12,
// −6). A last digit of 8 or 9 on a three-digit capacitor code means ×10⁻² or ×10⁻¹.
func DecodeDigits(code string, exp10 int) (float64, error) {
	if (len(code) != 3 && len(code) != 4) || strings.Trim(code, "0123456789") != "" {
		return 0, fmt.Errorf("%q is not a code of three or four digits", code)
	}
	n := len(code) - 1
	m, e := code[:n], int(code[n]-'0')
	if exp10 == -12 && n == 2 && e >= 8 {
		e -= 10
	}
	return power10(m, e+exp10), nil
}

// eiaLetters gives the multiplier of the letters of EIA-96; the first letter of each
// is the one written by EncodeEIA96 (encode_test.go).
var eiaLetters = map[byte]int{
	'Z': -3, 'Y': -2, 'R': -2, 'X': -1, 'S': -1, 'A': 0, 'B': 1, 'H': 1, 'C': 2, 'D': 3, 'E': 4, 'F': 5,
}

var eiaOrder = "ZYXABCDEF"

// DecodeEIA96 reads the three-character code of 1 % surface-mount resistors: a
// two-digit index into E96 and a multiplier letter.
func DecodeEIA96(code string) (float64, error) {
	if len(code) != 3 {
		return 0, fmt.Errorf("%q is not an EIA-96 code: two digits and a letter", code)
	}
	i, err := strconv.Atoi(code[:2])
	exp, ok := eiaLetters[code[2]]
	if err != nil || !ok || i < 1 || i > 96 || code[0] < '0' || code[0] > '9' {
		return 0, fmt.Errorf("%q is not an EIA-96 code: 01 to 96, then one of Z Y R X S A B H C D E F", code)
	}
	return power10(strconv.Itoa(eseries.E96.Values()[i-1]), exp), nil
}
