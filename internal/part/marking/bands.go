package marking

import (
	"fmt"
	"math"
	"strconv"
)

// Banded is the value of a row of bands in one reading direction.
type Banded struct {
	Ohms      float64
	Tolerance float64 // fraction
	TCppm     float64 // ppm/K; 0 = no such band
}

// DecodeBands reads a row of bands from left to right by IEC 60062: three (two
// digits, multiplier), four (and tolerance), five (three digits) or six (and
// temperature coefficient). One black band is a zero-ohm link.
func DecodeBands(cs []Colour) (Banded, error) {
	if len(cs) == 1 && cs[0] == Black {
		return Banded{}, nil
	}
	if len(cs) < 3 || len(cs) > 6 {
		return Banded{}, fmt.Errorf("%d bands do not make a resistor; give three to six, ? for one that cannot be made out", len(cs))
	}
	n := 2
	if len(cs) >= 5 {
		n = 3
	}
	digits := ""
	for _, c := range cs[:n] {
		d, ok := c.digit()
		if !ok {
			return Banded{}, fmt.Errorf("%s is not a digit; try the bands from the other end", c)
		}
		digits += strconv.Itoa(d)
	}
	out := Banded{Tolerance: 0.20}
	if m := cs[n]; m < 0 || m >= Unseen {
		return Banded{}, fmt.Errorf("the multiplier band cannot be made out")
	}
	out.Ohms = power10(digits, table[cs[n]].exp)
	if len(cs) > n+1 {
		t := cs[n+1]
		if t < 0 || t >= Unseen || table[t].tol == 0 {
			return Banded{}, fmt.Errorf("%s is not a tolerance; try the bands from the other end", t)
		}
		out.Tolerance = table[t].tol
	}
	if len(cs) > n+2 {
		t := cs[n+2]
		if t < 0 || t >= Unseen || table[t].tc == 0 {
			return Banded{}, fmt.Errorf("%s is not a temperature coefficient; try the bands from the other end", t)
		}
		out.TCppm = table[t].tc
	}
	return out, nil
}

// mantissa writes v as n digits times ten to exp, exactly.
func mantissa(v float64, n int) (digits string, exp int, err error) {
	if !(v > 0) || math.IsInf(v, 0) {
		return "", 0, fmt.Errorf("%g cannot be coded; give a positive figure", v)
	}
	t := strconv.FormatFloat(v, 'e', n-1, 64)
	digits = t[:1]
	if n > 1 {
		digits += t[2 : n+1]
	}
	e := t[n+2:]
	if n == 1 {
		e = t[2:]
	}
	exp, err = strconv.Atoi(e)
	if err != nil {
		return "", 0, fmt.Errorf("%g cannot be coded: %w", v, err)
	}
	exp -= n - 1
	if math.Abs(power10(digits, exp)-v) > 1e-9*v {
		return "", 0, fmt.Errorf("%g needs more than %d digits", v, n)
	}
	return digits, exp, nil
}
