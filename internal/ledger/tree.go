package ledger

import "math"

// tree is the hierarchy of log factors: η = u(kind) + v(block) + w(device), each
// with the prior density ∝ exp(s·x − s·eˣ), that is eˣ ~ Gamma(s, s), and for
// every leaf the Poisson log-likelihood n·η − E·e^η. The sum is strictly concave.
type tree struct {
	block   []int // of each leaf
	kind    []int // of each block
	s       [3]float64
	u, v, w []float64 // per kind, block, leaf
	n, e    []float64 // counts and exposures of the leaves
}

func (t *tree) eta(leaf int) float64 {
	b := t.block[leaf]
	return t.u[t.kind[b]] + t.v[b] + t.w[leaf]
}

// arrow holds the Hessian (negated) and gradient as the leaves and then the
// blocks are eliminated; it has the shape of the tree, so that a solve is one
// pass up and one down.
type arrow struct {
	a, dw, gw     []float64 // leaves: coupling, diagonal, gradient
	cb, db, gb    []float64 // blocks: coupling to the kind, diagonal, gradient
	du, gu        []float64 // kinds
	stepU, stepVB []float64
}

func (t *tree) arrow() *arrow {
	l, b, k := len(t.w), len(t.v), len(t.u)
	f := func(n int) []float64 { return make([]float64, n) }
	return &arrow{f(l), f(l), f(l), f(b), f(b), f(b), f(k), f(k), f(k), f(b)}
}

// build sums up gradient and curvature for a step. With info given, it sums up
// curvature only, and takes info, a count of certain faults, for that of the
// leaves' likelihoods. At the top of one level s·eˣ + E·e^η = s + n: counts go
// with the plain strengths s, fitted values with s·eˣ.
func (t *tree) build(x *arrow, info []float64) {
	curve := func(level int, at float64) float64 {
		if info != nil {
			return t.s[level]
		}
		return t.s[level] * math.Exp(at)
	}
	for k, u := range t.u {
		p := curve(0, u)
		x.du[k], x.gu[k] = p, t.s[0]-p
	}
	for b, v := range t.v {
		p := curve(1, v)
		x.cb[b], x.db[b], x.gb[b] = 0, p, t.s[1]-p
	}
	for i, w := range t.w {
		fit := t.e[i] * math.Exp(t.eta(i))
		x.a[i] = fit
		if info != nil {
			x.a[i] = info[i]
		}
		p := curve(2, w)
		x.dw[i], x.gw[i] = p+x.a[i], t.s[2]-p+t.n[i]-fit
		rest := x.a[i] * p / x.dw[i] // what is left for the block: a − a²/d
		b := t.block[i]
		x.cb[b] += rest
		x.gb[b] += t.n[i] - fit - x.a[i]/x.dw[i]*x.gw[i]
	}
	for b := range t.v {
		p := x.db[b]
		c := x.cb[b]
		x.db[b] += c
		k := t.kind[b]
		x.du[k] += c * p / x.db[b]
		// the block's own prior gradient is no part of what the kind sees
		own := t.s[1] - t.s[1]*math.Exp(t.v[b])
		x.gu[k] += (x.gb[b] - own) - c/x.db[b]*x.gb[b]
	}
}

// step is one Newton step, at most 1 in any coordinate; it returns the largest change.
func (t *tree) step(x *arrow) float64 {
	t.build(x, nil)
	most := 0.0
	move := func(at *float64, d float64) float64 {
		d = max(-1, min(1, d))
		*at += d
		most = max(most, math.Abs(d))
		return d
	}
	for k := range t.u {
		x.stepU[k] = move(&t.u[k], x.gu[k]/x.du[k])
	}
	for b := range t.v {
		d := x.stepU[t.kind[b]]
		x.stepVB[b] = d + move(&t.v[b], (x.gb[b]-x.cb[b]*d)/x.db[b])
	}
	for i := range t.w {
		move(&t.w[i], (x.gw[i]-x.a[i]*x.stepVB[t.block[i]])/x.dw[i])
	}
	return most
}

// solve climbs to the top and returns the length of the last step.
func (t *tree) solve(x *arrow) float64 {
	last := 0.0
	for range 100 {
		if last = t.step(x); last < 1e-10 {
			break
		}
	}
	return last
}

// variances returns the variances of u and of u+v at the top, and for every leaf
// that of its block's u+v as the other leaves alone tell it, with the curvature
// of the leaves' likelihoods given.
func (t *tree) variances(x *arrow, info []float64) (ofU, ofUV, without []float64) {
	t.build(x, info)
	ofU, ofUV, without = make([]float64, len(t.u)), make([]float64, len(t.v)), make([]float64, len(t.w))
	for k := range t.u {
		ofU[k] = 1 / x.du[k]
	}
	above := func(du, c, db float64) float64 {
		keep := 1 - c/db // d(u+v)/du along the ridge
		return keep*keep/du + 1/db
	}
	for b := range t.v {
		ofUV[b] = above(x.du[t.kind[b]], x.cb[b], x.db[b])
	}
	for i := range t.w {
		b := t.block[i]
		own := x.a[i] * (1 - x.a[i]/x.dw[i])
		prior := x.db[b] - x.cb[b]
		c, db := max(0, x.cb[b]-own), max(prior, x.db[b]-own)
		du := x.du[t.kind[b]] - x.cb[b]*prior/x.db[b] + c*prior/db
		without[i] = above(max(du, t.s[0]), c, db)
	}
	return ofU, ofUV, without
}
