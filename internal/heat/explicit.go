package heat

// explicitLimit is the largest stable step of the forward scheme: C/ΣG over nodes
// and lumps, with a margin.
func (m *model) explicitLimit() float64 {
	p := m.plate
	g := make([]float64, len(p.c))
	p.grip()
	nz, row := p.nz, p.nx*p.nz
	for q := range p.c {
		add := func(o int, v float64) {
			if v > 0 {
				g[q] += v
				g[o] += v
			}
		}
		add(q+nz, p.gx[q])
		add(q+row, p.gy[q])
		add(q+1, p.gz[q])
		if q%nz == 0 {
			g[q] += p.surfTop[q/nz]
			g[q+nz-1] += p.surfUnder[q/nz]
		}
	}
	lumps := make([]float64, len(m.net.lumps))
	for _, l := range m.net.links {
		if m.net.active(l) {
			g[l.node] += l.g
			lumps[l.lump] += l.g
		}
	}
	for _, b := range m.net.bonds {
		lumps[b.a] += b.g
		lumps[b.b] += b.g
	}
	limit := 1.0
	for q, c := range p.c {
		limit = min(limit, c/g[q])
	}
	for i, l := range m.net.lumps {
		e := lumps[i] + l.h + l.area*m.net.still.at(l.t)
		if l.heater.power > 0 {
			e += l.heater.power / heaterBand
		}
		if e > 0 {
			limit = min(limit, l.c/e)
		}
	}
	return 0.9 * limit
}

// explicitStep is the forward scheme: every node moves by its present flows. It is
// the yardstick of the implicit scheme.
func (m *model) explicitStep(dt float64) {
	p, s := m.plate, &m.stepper
	n := len(p.c)
	s.grow(m)
	m.net.flows(p, s.r[n:], dt)
	p.flows(s.r[:n], &m.net, dt, false)
	for i := range s.r {
		s.w[i] = s.r[i] * s.inv[i]
	}
	for j := range p.ny {
		p.book(j, s.w, 0)
	}
	m.net.book(s.w[n:], p.ambient, dt, 0)
}
