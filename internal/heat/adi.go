package heat

// factor prepares the tridiagonal systems along x and y, C − τ·K. They do not change
// while τ (the step times its implicitness) stays, so a sweep costs no division.
func (p *plate) factor(tau float64) {
	if tau == p.tau {
		return
	}
	p.tau = tau
	for _, a := range []*[]float64{&p.ax, &p.ix, &p.ay, &p.iy, &p.iz} {
		if *a == nil {
			*a = make([]float64, len(p.c))
		}
	}
	nz, row := p.nz, p.nx*p.nz
	p.each(p.ny, func(lo, hi int) {
		for q := lo * row; q < hi*row; q++ {
			p.ax[q], p.ay[q] = tau*p.gx[q], tau*p.gy[q]
			d := p.c[q] + p.ax[q]
			if q%row >= nz {
				a := p.ax[q-nz]
				d += a - a*a*p.ix[q-nz]
			}
			p.ix[q] = 1 / d
		}
	})
	p.each(row, func(lo, hi int) {
		for j := range p.ny {
			for q := j*row + lo; q < j*row+hi; q++ {
				d := p.c[q] + p.ay[q]
				if j > 0 {
					a := p.ay[q-row]
					d += a - a*a*p.iy[q-row]
				}
				p.iy[q] = 1 / d
			}
		}
	})
}

// factorZ prepares the systems through the thickness; the faces change with every
// step.
func (p *plate) factorZ(tau float64) {
	nz := p.nz
	p.each(p.nx*p.ny, func(lo, hi int) {
		for col := lo; col < hi; col++ {
			c, g, x := p.c[col*nz:][:nz], p.gz[col*nz:][:nz], p.iz[col*nz:][:nz]
			before := 0.0
			for k := range c {
				a := tau * g[k]
				d := c[k] + a
				if k > 0 {
					d += before - before*before*x[k-1]
				} else {
					d += tau * p.surfTop[col]
				}
				if k == nz-1 {
					d += tau * p.surfUnder[col]
				}
				x[k] = 1 / d
				before = a
			}
		}
	})
}

// sweepX solves (C − τ·Kx) w = w in place, row by row. The nz chains of a row run
// side by side.
func (p *plate) sweepX(v []float64) {
	nz, row := p.nz, p.nx*p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			w := v[j*row : (j+1)*row]
			a := p.ax[j*row : (j+1)*row]
			x := p.ix[j*row : (j+1)*row]
			for q := range nz {
				w[q] *= x[q]
			}
			for q := nz; q < len(w); q++ {
				w[q] = (w[q] + a[q-nz]*w[q-nz]) * x[q]
			}
			for q := len(w) - nz - 1; q >= 0; q-- {
				w[q] += a[q] * x[q] * w[q+nz]
			}
		}
	})
}

// sweepY solves (C − τ·Ky) w = C·w in place; a worker takes a strip of columns.
func (p *plate) sweepY(v []float64) {
	row := p.nx * p.nz
	p.each(row, func(lo, hi int) {
		n := hi - lo
		at := func(a []float64, j int) []float64 { return a[j*row+lo:][:n] }
		w, c, x := at(v, 0), at(p.c, 0), at(p.iy, 0)
		for q := range w {
			w[q] *= c[q] * x[q]
		}
		for j := 1; j < p.ny; j++ {
			prev, a := at(v, j-1), at(p.ay, j-1)
			w, c, x := at(v, j), at(p.c, j), at(p.iy, j)
			for q := range w {
				w[q] = (c[q]*w[q] + a[q]*prev[q]) * x[q]
			}
		}
		for j := p.ny - 2; j >= 0; j-- {
			next, a := at(v, j+1), at(p.ay, j)
			w, x := at(v, j), at(p.iy, j)
			for q := range w {
				w[q] += a[q] * x[q] * next[q]
			}
		}
	})
}

// sweepZ solves (C − τ·Kz) w = C·w through the thickness, faces included, in place.
func (p *plate) sweepZ(v []float64, tau float64) {
	nz := p.nz
	p.each(p.nx*p.ny, func(lo, hi int) {
		for q := lo * nz; q < hi*nz; q += nz {
			w, c, g, x := v[q:][:nz], p.c[q:][:nz], p.gz[q:][:nz], p.iz[q:][:nz]
			w[0] *= c[0] * x[0]
			for k := 1; k < len(w); k++ {
				w[k] = (c[k]*w[k] + tau*g[k-1]*w[k-1]) * x[k]
			}
			for k := len(w) - 2; k >= 0; k-- {
				w[k] += tau * g[k] * x[k] * w[k+1]
			}
		}
	})
}
