package ledger

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Factor is by how much the odds of a fault mode differ from what the note
// says. It is distributed as Gamma(Shape, Shape/Mean); Low … High holds 90 %.
type Factor struct {
	Mean, Low, High float64
	Shape           float64
	Here            Count // this device
	Block           Count // this device and others with the same block
	Kind            Count // all parts of this kind
}

// logGamma makes the Factor whose logarithm has the mode eta and the curvature 1/variance.
func logGamma(eta, variance float64) Factor {
	f := Factor{Mean: math.Exp(eta), Shape: 1 / variance}
	g := distuv.Gamma{Alpha: f.Shape, Beta: f.Shape / f.Mean}
	f.Low, f.High = g.Quantile(0.05), g.Quantile(0.95)
	return f
}

// A Chance is the chance of a trigger or of a repair's success, distributed as
// Beta(A, B); Low … High holds 90 %.
type Chance struct {
	Mean, Low, High float64
	A, B            float64
	Looks           float64 // what it rests on here, in looks or tries, each counted with the chance that it was to the point
	Others          float64 // the same for other devices, pooled
}

func betaChance(a, b float64) Chance {
	d := distuv.Beta{Alpha: a, Beta: b}
	return Chance{Mean: a / (a + b), A: a, B: b, Low: d.Quantile(0.05), High: d.Quantile(0.95)}
}

// A Point is a point of a curve.
type Point struct{ X, Y float64 }

// Curve returns the density of a factor over its logarithm to base 2, from a
// quarter of Low to four times High, as n+1 points: a doubling is as wide as a halving.
func (f Factor) Curve(n int) []Point {
	if !(f.Mean > 0) || !(f.Shape > 0) {
		return nil
	}
	n = min(max(n, 1), 10_000)
	g := distuv.Gamma{Alpha: f.Shape, Beta: f.Shape / f.Mean}
	lo, hi := math.Log2(max(f.Low/4, 1e-6)), math.Log2(max(f.High*4, 1e-5))
	out := make([]Point, n+1)
	for i := range out {
		x := lo + (hi-lo)*float64(i)/float64(n)
		v := math.Exp2(x)
		out[i] = Point{x, g.Prob(v) * v * math.Ln2}
	}
	return out
}

// Curve returns the density of a chance at n+1 points, both ends left out.
func (c Chance) Curve(n int) []Point {
	if !(c.A > 0) || !(c.B > 0) {
		return nil
	}
	n = min(max(n, 1), 10_000)
	d := distuv.Beta{Alpha: c.A, Beta: c.B}
	out := make([]Point, n+1)
	for i := range out {
		x := (float64(i) + 0.5) / float64(n+1)
		out[i] = Point{x, d.Prob(x)}
	}
	return out
}
