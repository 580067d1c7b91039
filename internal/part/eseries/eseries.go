package eseries

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Series is one of the E series, named by its number of values per decade.
type Series int

// The seven series of the standard.
const (
	E3   Series = 3
	E6   Series = 6
	E12  Series = 12
	E24  Series = 24
	E48  Series = 48
	E96  Series = 96
	E192 Series = 192
)

var all = []Series{E3, E6, E12, E24, E48, E96, E192}

var e24 = []int{
	10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
	33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
}

var e192 = makeE192()

func makeE192() []int {
	v := make([]int, 192)
	for i := range v {
		v[i] = int(math.Round(100 * math.Pow(10, float64(i)/192)))
	}
	v[185] = 920 // the one departure from the rule
	return v
}

// String gives the series' name.
func (s Series) String() string { return "E" + strconv.Itoa(int(s)) }

// Valid reports whether s is one of the seven.
func (s Series) Valid() bool { return slices.Contains(all, s) }

// Digits is how many digits the series' values have: 2 up to E24, else 3.
func (s Series) Digits() int {
	if s <= E24 {
		return 2
	}
	return 3
}

// Values gives one decade of the series as integers of [Series.Digits] digits,
// rising; nil when s is not a series.
func (s Series) Values() []int {
	if !s.Valid() {
		return nil
	}
	from, stride := e24, 24/int(s)
	if s > E24 {
		from, stride = e192, 192/int(s)
	}
	out := make([]int, 0, int(s))
	for i := 0; i < len(from); i += stride {
		out = append(out, from[i])
	}
	return out
}

// Tolerance is the tolerance as a fraction for which the series was made: with
// it neighbouring values about meet. E3 stands for anything wider than 20 %.
func (s Series) Tolerance() float64 {
	switch s {
	case E3:
		return 0.4
	case E6:
		return 0.2
	case E12:
		return 0.1
	case E24:
		return 0.05
	case E48:
		return 0.02
	case E96:
		return 0.01
	case E192:
		return 0.005
	}
	return 0
}

// ForTolerance is the smallest series made for parts as tight as tol (a fraction).
func ForTolerance(tol float64) Series {
	for _, s := range all {
		if s.Tolerance() <= tol*(1+1e-9) {
			return s
		}
	}
	return E192
}

// Contains reports whether v, in any decade, is a value of the series.
func (s Series) Contains(v float64) bool {
	m, _, ok := split(v, s.Digits())
	return ok && s.Valid() && slices.Contains(s.Values(), m)
}

// Of lists the series v belongs to, smallest first; none is an odd value.
func Of(v float64) []Series {
	var out []Series
	for _, s := range all {
		if s.Contains(v) {
			out = append(out, s)
		}
	}
	return out
}

// Nearest gives the value of the series closest to v in ratio.
func (s Series) Nearest(v float64) (float64, error) {
	if !s.Valid() {
		return 0, fmt.Errorf("E%d is not a series of preferred values; use E3, E6, E12, E24, E48, E96 or E192", int(s))
	}
	if !(v > 0) || math.IsInf(v, 0) || v < 1e-300 || v > 1e300 {
		return 0, fmt.Errorf("%g has no nearest preferred value; give a positive figure", v)
	}
	exp := int(math.Floor(math.Log10(v)))
	best, bestErr := 0.0, math.Inf(1)
	for d := exp - 1; d <= exp+1; d++ {
		for _, m := range s.Values() {
			c := join(m, d-s.Digits()+1)
			if e := math.Abs(math.Log(c / v)); e < bestErr {
				best, bestErr = c, e
			}
		}
	}
	return best, nil
}

// split writes v as an integer of the given digits times a power of ten, if it
// is one (to a part in 10⁹).
func split(v float64, digits int) (mantissa, exp int, ok bool) {
	if !(v > 0) || math.IsInf(v, 0) {
		return 0, 0, false
	}
	text := strconv.FormatFloat(v, 'e', digits-1, 64)
	m, _ := strconv.ParseFloat(text[:digits+btoi(digits > 1)], 64)
	e, err := strconv.Atoi(text[digits+btoi(digits > 1)+1:])
	if err != nil {
		return 0, 0, false
	}
	mantissa = int(math.Round(m * math.Pow10(digits-1)))
	exp = e - digits + 1
	return mantissa, exp, math.Abs(join(mantissa, exp)-v) <= 1e-9*v
}

// join is mantissa·10^exp, rounded once.
func join(mantissa, exp int) float64 {
	v, err := strconv.ParseFloat(strconv.Itoa(mantissa)+"e"+strconv.Itoa(exp), 64)
	if err != nil {
		return 0
	}
	return v
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
