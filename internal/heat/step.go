package heat

import (
	"math"
	"slices"
)

// implicit is the implicitness of the ordinary step: near ½ for accuracy in time,
// above it so that fast modes die out. After a change of the tool the first steps
// are fully implicit.
const implicit = 0.55

// A stepper holds the unknowns of a step, the increments of nodes and lumps in one
// vector, nodes first, and what iterating needs.
type stepper struct {
	r, w, inv  []float64 // right side, increments, 1/C
	dir, z, q  []float64 // of the iteration: direction, preconditioned residual, A·direction
	pre        []float64
	last       float64 // length of the step before
	rows       []float64
	iterations int
}

// step advances the plate and the lumps by dt: it solves
//
//	A·w = Δt·f(T),  A = C − θΔt·K
//
// for the increments w. Where at most two of the directions x, y and z are stiff at any
// one node and no lump is, A is replaced by its factored form (x, y, lumps, z in turn),
// the classical alternating-direction step. Elsewhere — vias under a small pad, a tip
// with a very good contact — the factored form overshoots, and the step iterates.
//
// Both keep the heat exactly: the columns of the factored form and of A have the same
// sums.
func (m *model) step(dt, theta float64) {
	p, s := m.plate, &m.stepper
	n := len(p.c)
	s.grow(m)
	tau := theta * dt
	p.factor(tau)
	m.net.flows(p, s.r[n:], dt)
	m.net.prepare(p, tau)
	if m.stiffness*tau > m.stiffest() {
		p.flows(s.r[:n], &m.net, dt, false)
		m.iterated(dt, tau)
		p.each(p.ny, func(lo, hi int) {
			for j := lo; j < hi; j++ {
				p.book(j, s.w, tau)
			}
		})
	} else {
		p.flows(s.w[:n], &m.net, dt, true)
		copy(s.w[n:], s.r[n:])
		p.sweepY(s.w[:n])
		m.net.solve(p, s.w, tau)
		p.settle(s.w[:n], tau)
	}
	s.last = dt
	m.net.book(s.w[n:], p.ambient, dt, theta)
}

func (s *stepper) grow(m *model) {
	n := len(m.plate.c) + len(m.net.lumps)
	if len(s.r) == n {
		return
	}
	for _, a := range []*[]float64{&s.r, &s.w, &s.inv} {
		*a = make([]float64, n)
	}
	for i, c := range m.plate.c {
		s.inv[i] = 1 / c
	}
	for i, l := range m.net.lumps {
		s.inv[len(m.plate.c)+i] = 1 / l.c
	}
	s.rows = make([]float64, m.plate.ny+1)
}

// precondition applies the inverse of the factored form in place.
func (m *model) precondition(v []float64, tau float64) {
	p := m.plate
	n := len(p.c)
	p.sweepX(v[:n])
	p.sweepY(v[:n])
	m.net.solve(p, v, tau)
	p.sweepZ(v[:n])
}

// stiffMost is how many time constants of stiffRate a factored step may span, stiffMelt
// while solder melts or freezes: then nodes that conduct well are set back to the melting point after
// every step, and what the factored form makes too much of it can add up, to nodes hotter
// than the tool (TestMeltingDoesNotOvershoot).
const (
	stiffMost = 1.0
	stiffMelt = 0.25
)

// stiffest is what a factored step may span now.
func (m *model) stiffest() float64 {
	switch {
	case m.melting():
		return stiffMelt
	case m.calm:
		return math.Inf(1)
	}
	return stiffMost
}

// stiffRate is, over all nodes, the largest of the third rate (1/s) of exchange among
// x, y, z and lumps, and of the lesser of that with lumps and the fastest other: where
// it is fast, the factored form may overshoot.
func (m *model) stiffRate() float64 {
	p := m.plate
	nz, row := p.nz, p.nx*p.nz
	link := map[int]float64{}
	for _, l := range m.net.links {
		if m.net.active(l) {
			link[l.node] += l.g
		}
	}
	most := 0.0
	for q, c := range p.c {
		g := [4]float64{p.gx[q], p.gy[q], p.gz[q], link[q]}
		for i, back := range []int{nz, row, 1} {
			if q >= back {
				g[i] += [3][]float64{p.gx, p.gy, p.gz}[i][q-back]
			}
		}
		lump := min(g[3], max(g[0], g[1], g[2]))
		slices.Sort(g[:])
		most = max(most, g[1]/c, lump/c)
	}
	return most
}

const (
	maxIter  = 1000 // far beyond what is needed
	tolShare = 2e-3 // of the largest change of a node in the step …
	tolMost  = 5e-3 // … but not more, K
	tolLeast = 1e-7 // … nor less
)

// iterated solves the step by conjugate gradients, starting from the increments of the
// step before. A is symmetric and positive definite whatever the step, so this cannot
// fail. The preconditioner solves each column through the thickness exactly. A last
// application of the factored form takes up the small rest, which makes the heat exact.
func (m *model) iterated(dt, tau float64) {
	s := &m.stepper
	if s.dir == nil {
		n := len(s.r)
		s.dir, s.z, s.q, s.pre = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	}
	m.columns(tau)
	guess, most := 0.0, 0.0
	if s.last > 0 {
		guess = dt / s.last
	}
	for i, r := range s.r {
		most = max(most, math.Abs(r)*s.inv[i])
		s.w[i] *= guess
	}
	m.apply(s.w, s.q, tau)
	for i, q := range s.q {
		s.r[i] -= q
	}
	clear(s.dir)
	tol := max(min(tolShare*most, tolMost), tolLeast)
	rz, beta := 0.0, 0.0
	for range maxIter {
		if m.worst() <= tol {
			break
		}
		m.column(s.r, s.z, tau)
		old := rz
		rz = m.sum(s.r, s.z)
		if old > 0 {
			beta = rz / old
		}
		m.add(s.dir, beta, s.dir, s.z)
		m.apply(s.dir, s.q, tau)
		alpha := rz / m.sum(s.dir, s.q)
		m.add(s.w, alpha, s.dir, s.w)
		m.add(s.r, -alpha, s.q, s.r)
		s.iterations++
	}
	m.precondition(s.r, tau)
	m.add(s.w, 1, s.r, s.w)
}

// columns factors the preconditioner: each column with everything on its diagonal, each
// lump with its own.
func (m *model) columns(tau float64) {
	p, s := m.plate, &m.stepper
	n, nz := len(p.c), p.nz
	for i, l := range m.net.lumps {
		s.pre[n+i] = l.c + tau*l.ext
	}
	for q, c := range p.c {
		d := c + tau*(p.gx[q]+p.gy[q]+p.gz[q])
		if q >= nz {
			d += tau * p.gx[q-nz] // 0 across the end of a row
		}
		if q >= p.nx*nz {
			d += tau * p.gy[q-p.nx*nz]
		}
		switch k := q % nz; {
		case k == 0:
			d += tau * p.surfTop[q/nz]
		case k == nz-1:
			d += tau * (p.surfUnder[q/nz] + p.gz[q-1])
		default:
			d += tau * p.gz[q-1]
		}
		s.pre[q] = d
	}
	for _, l := range m.net.links {
		if m.net.active(l) {
			s.pre[l.node] += tau * l.g
			s.pre[n+l.lump] += tau * l.g
		}
	}
	for _, b := range m.net.bonds {
		s.pre[n+b.a] += tau * b.g
		s.pre[n+b.b] += tau * b.g
	}
	for q, d := range s.pre {
		if q < n && q%nz > 0 {
			a := tau * p.gz[q-1]
			d -= a * a * s.pre[q-1]
		}
		s.pre[q] = 1 / d
	}
}

// column applies the preconditioner: z = M⁻¹·r.
func (m *model) column(r, z []float64, tau float64) {
	p, s := m.plate, &m.stepper
	nz := p.nz
	p.each(p.nx*p.ny, func(lo, hi int) {
		for q := lo * nz; q < hi*nz; q += nz {
			z[q] = r[q] * s.pre[q]
			for k := q + 1; k < q+nz; k++ {
				z[k] = (r[k] + tau*p.gz[k-1]*z[k-1]) * s.pre[k]
			}
			for k := q + nz - 2; k >= q; k-- {
				z[k] += tau * p.gz[k] * s.pre[k] * z[k+1]
			}
		}
	})
	for i := len(p.c); i < len(r); i++ {
		z[i] = r[i] * s.pre[i]
	}
}

// add sets out = f·a + b.
func (m *model) add(out []float64, f float64, a, b []float64) {
	m.perRow(func(lo, hi int) float64 {
		o, a, b := out[lo:hi], a[lo:hi], b[lo:hi]
		for j := range o {
			o[j] = f*a[j] + b[j]
		}
		return 0
	})
}

// worst is the largest residual, as a temperature of its node, K.
func (m *model) worst() float64 {
	s := &m.stepper
	return slices.Max(m.perRow(func(lo, hi int) float64 {
		w := 0.0
		for j := lo; j < hi; j++ {
			w = max(w, math.Abs(s.r[j])*s.inv[j])
		}
		return w
	}))
}

// sum is the scalar product.
func (m *model) sum(a, b []float64) float64 {
	sum := 0.0
	for _, v := range m.perRow(func(lo, hi int) float64 {
		t := 0.0
		for j := lo; j < hi; j++ {
			t += a[j] * b[j]
		}
		return t
	}) {
		sum += v
	}
	return sum
}

// apply sets out = A·v.
func (m *model) apply(v, out []float64, tau float64) {
	p := m.plate
	nz, row := p.nz, p.nx*p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			p.conduct(j, v, out)
			for q := j * row; q < (j+1)*row; q++ {
				out[q] = p.c[q]*v[q] - tau*out[q]
			}
			for q := j * row; q < (j+1)*row; q += nz {
				out[q] += tau * p.surfTop[q/nz] * v[q]
				out[q+nz-1] += tau * p.surfUnder[q/nz] * v[q+nz-1]
			}
		}
	})
	m.net.apply(v, out, len(p.c), tau)
}

// perRow runs f over the nodes of each grid row and over the lumps; the results are
// to be combined in order, so that the number of workers does not matter.
func (m *model) perRow(f func(lo, hi int) float64) []float64 {
	p, s := m.plate, &m.stepper
	row := p.nx * p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			s.rows[j] = f(j*row, (j+1)*row)
		}
	})
	s.rows[p.ny] = f(len(p.c), len(s.r))
	return s.rows
}
