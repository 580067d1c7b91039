package notecraft

import (
	"math"

	"fettler/internal/note"
)

// z90 is how many standard deviations hold 90 % of a normal distribution, one side of the middle.
const z90 = 1.6448536269514722

// overRange is how many times its edge a half-open range is taken to reach, and
// overload the share of readings in which the meter shows overload there; the
// same as the belief takes.
const (
	overRange = 1000
	overload  = 0.7
)

// quantile returns the reading below which a share p of the readings of d lie, 0 < p < 1.
func quantile(d note.Dist, p float64) float64 {
	z := math.Sqrt2 * math.Erfinv(2*p-1) / z90
	switch {
	case d.Over && p > 1-overload:
		return math.Inf(1)
	case d.Over:
		return math.Max(d.Low, math.SmallestNonzeroFloat64) * math.Pow(overRange, p/(1-overload))
	case d.Under && d.High > 0:
		return p * d.High
	case d.Under:
		return d.High - (1-p)*(1-d.High)
	case d.Log && d.Low > 0:
		low, high := math.Log(d.Low), math.Log(d.High)
		return math.Exp((low+high)/2 + (high-low)/2*z)
	}
	return (d.Low+d.High)/2 + (d.High-d.Low)/2*z
}
