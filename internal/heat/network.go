package heat

import (
	"math"
	"slices"
)

// A lump is a body of one temperature.
type lump struct {
	name   string
	c, t   float64 // J/K, °C
	h, hT  float64 // W/K and W: hot air while the tool is on
	area   float64 // m² that loses heat by free convection and radiation
	heater heater
	ext    float64 // implicit conductance to outside in this step, W/K
	src    float64 // heater power not depending on temperature in this step, W
	gain   float64 // heater conductance in this step, W/K
	loss   float64 // W/K in this step
}

// A heater holds a tip near its set temperature within its power.
type heater struct {
	power, set float64 // W, °C
}

// heaterBand is the deviation, K, at which a heater gives full power.
const heaterBand = 5.0

// A link joins a lump to a node of the plate.
type link struct {
	lump, node int
	g          float64 // W/K
}

// A bond joins two lumps.
type bond struct {
	a, b int
	g    float64
}

// The network is the lumps with their links; it forms one factor of the step, solved
// exactly: each touched node is eliminated, the lumps remain as a small dense system.
type network struct {
	lumps []lump
	links []link // sorted by node
	bonds []bond
	still lossTable
	jetOn bool
	tip   int // index of the iron's lump, −1 if none
	tipOn bool

	s, diag []float64 // see prepare
	given   []float64 // J to the node of each link in this step
	heats   netHeats
	moved   float64 // K, the most a lump changed in this step
}

// netHeats are the heats of one step, J.
type netHeats struct{ jet, heater, loss float64 }

func (n *network) active(l link) bool { return l.lump != n.tip || n.tipOn }

// flows sets own to the heat each lump receives in dt, and keeps what the nodes are
// given; see give.
func (n *network) flows(p *plate, own []float64, dt float64) {
	if len(n.given) != len(n.links) {
		n.given = make([]float64, len(n.links))
	}
	for i := range n.lumps {
		l := &n.lumps[i]
		l.loss = 0
		if l.area > 0 {
			l.loss = l.area * n.still.at(l.t)
		}
		l.ext, l.src, l.gain = l.loss, 0, 0
		f := -l.loss * (l.t - p.ambient)
		if n.jetOn {
			f += l.hT - l.h*l.t
			l.ext += l.h
		}
		if l.heater.power > 0 && n.tipOn {
			if full := l.heater.power; l.heater.set-l.t >= heaterBand {
				l.src = full
			} else {
				l.gain = full / heaterBand
				l.ext += l.gain
			}
			f += l.src + max(l.gain*(l.heater.set-l.t), 0)
			if l.t > l.heater.set { // a heater cannot cool
				l.ext -= l.gain
				l.gain = 0
			}
		}
		own[i] = dt * f
	}
	for i, k := range n.links {
		n.given[i] = 0
		if n.active(k) {
			q := dt * k.g * (n.lumps[k.lump].t - p.t[k.node])
			n.given[i] = q
			own[k.lump] -= q
		}
	}
	for _, b := range n.bonds {
		q := dt * b.g * (n.lumps[b.a].t - n.lumps[b.b].t)
		own[b.b] += q
		own[b.a] -= q
	}
}

// give adds to the nodes from lo to hi what flows said they are given.
func (n *network) give(out []float64, lo, hi int) {
	from, _ := slices.BinarySearchFunc(n.links, lo, func(l link, at int) int { return l.node - at })
	for i := from; i < len(n.links) && n.links[i].node < hi; i++ {
		out[n.links[i].node] += n.given[i]
	}
}

// apply adds the network's part of A·v to out; v and out hold nodes first, then lumps.
func (n *network) apply(v, out []float64, nodes int, tau float64) {
	vl, ol := v[nodes:], out[nodes:]
	for i, l := range n.lumps {
		ol[i] = (l.c + tau*l.ext) * vl[i]
	}
	for _, k := range n.links {
		if n.active(k) {
			q := tau * k.g * (vl[k.lump] - v[k.node])
			out[k.node] -= q
			ol[k.lump] += q
		}
	}
	for _, b := range n.bonds {
		q := tau * b.g * (vl[b.a] - vl[b.b])
		ol[b.a] += q
		ol[b.b] -= q
	}
}

// prepare eliminates the touched nodes and factors what is left for the lumps.
func (n *network) prepare(p *plate, tau float64) {
	m := len(n.lumps)
	if len(n.s) != m*m || n.diag == nil {
		n.s, n.diag = make([]float64, m*m), make([]float64, len(n.links))
	}
	clear(n.s)
	for i, l := range n.lumps {
		n.s[i*m+i] = l.c + tau*l.ext
	}
	for _, b := range n.bonds {
		g := tau * b.g
		n.s[b.a*m+b.a] += g
		n.s[b.b*m+b.b] += g
		n.s[b.a*m+b.b] -= g
		n.s[b.b*m+b.a] -= g
	}
	n.eachNode(func(at, node int, ls []link) {
		d := p.c[node]
		for _, l := range ls {
			if n.active(l) {
				d += tau * l.g
			}
		}
		n.diag[at] = d
		for _, l := range ls {
			if !n.active(l) {
				continue
			}
			n.s[l.lump*m+l.lump] += tau * l.g
			for _, o := range ls {
				if n.active(o) {
					n.s[l.lump*m+o.lump] -= tau * l.g * tau * o.g / d
				}
			}
		}
	})
	cholesky(n.s, m)
}

// solve applies (C − τ·Kn)⁻¹ C to the nodes and (C − τ·Kn)⁻¹ to the lumps of v, in
// place (a lump has no factor before this one).
func (n *network) solve(p *plate, v []float64, tau float64) {
	own := v[len(p.c):]
	n.eachNode(func(at, node int, ls []link) {
		for _, l := range ls {
			if n.active(l) {
				own[l.lump] += tau * l.g * p.c[node] * v[node] / n.diag[at]
			}
		}
	})
	backsolve(n.s, own)
	n.eachNode(func(at, node int, ls []link) {
		b := p.c[node] * v[node]
		for _, l := range ls {
			if n.active(l) {
				b += tau * l.g * own[l.lump]
			}
		}
		v[node] = b / n.diag[at]
	})
}

// eachNode visits the touched nodes with their links; at numbers them.
func (n *network) eachNode(f func(at, node int, ls []link)) {
	for i := 0; i < len(n.links); {
		j := i + 1
		for j < len(n.links) && n.links[j].node == n.links[i].node {
			j++
		}
		f(i, n.links[i].node, n.links[i:j])
		i = j
	}
}

// book adds the increments w and books the heat.
func (n *network) book(w []float64, ambient, dt, theta float64) {
	n.heats, n.moved = netHeats{}, 0
	for i := range n.lumps {
		l := &n.lumps[i]
		mid := l.t + theta*w[i]
		n.heats.loss += dt * l.loss * (mid - ambient)
		if n.jetOn {
			n.heats.jet += dt * (l.hT - l.h*mid)
		}
		n.heats.heater += dt * (l.src + l.gain*(l.heater.set-mid))
		l.t += w[i]
		n.moved = max(n.moved, math.Abs(w[i]))
	}
}

// cholesky factors a symmetric positive definite n × n matrix (row-major) in place. The
// diagonal of the network's system dominates, so it cannot fail.
func cholesky(a []float64, n int) {
	for j := range n {
		for k := range j {
			a[j*n+j] -= a[j*n+k] * a[j*n+k]
		}
		a[j*n+j] = math.Sqrt(a[j*n+j])
		for i := j + 1; i < n; i++ {
			for k := range j {
				a[i*n+j] -= a[i*n+k] * a[j*n+k]
			}
			a[i*n+j] /= a[j*n+j]
		}
	}
}

// backsolve solves with the factor of cholesky, in place.
func backsolve(a, b []float64) {
	n := len(b)
	for i := range n {
		for k := range i {
			b[i] -= a[i*n+k] * b[k]
		}
		b[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			b[i] -= a[k*n+i] * b[k]
		}
		b[i] /= a[i*n+i]
	}
}
