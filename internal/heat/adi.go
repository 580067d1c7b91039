package heat

// factor prepares the tridiagonal systems along x, y and through the thickness, C − τ·K,
// as the reciprocal pivots i and the multipliers l. They do not change while τ (the step
// times its implicitness) and the tool stay, so a sweep costs no division.
func (p *plate) factor(tau float64) {
	if tau == p.tau {
		return
	}
	p.tau = tau
	p.grip()
	for _, a := range []*[]float64{&p.lx, &p.ix, &p.ly, &p.iy, &p.lz, &p.iz} {
		if *a == nil {
			*a = make([]float64, len(p.c))
		}
	}
	nz, row := p.nz, p.nx*p.nz
	p.each(p.ny, func(lo, hi int) {
		for q := lo * row; q < hi*row; q++ {
			a := tau * p.gx[q]
			d := p.c[q] + a
			if q%row >= nz {
				b := tau * p.gx[q-nz]
				d += b - b*p.lx[q-nz]
			}
			p.ix[q] = 1 / d
			p.lx[q] = a * p.ix[q]
		}
	})
	p.each(row, func(lo, hi int) {
		for j := range p.ny {
			for q := j*row + lo; q < j*row+hi; q++ {
				a := tau * p.gy[q]
				d := p.c[q] + a
				if j > 0 {
					b := tau * p.gy[q-row]
					d += b - b*p.ly[q-row]
				}
				p.iy[q] = 1 / d
				p.ly[q] = a * p.iy[q]
			}
		}
	})
	p.each(p.nx*p.ny, func(lo, hi int) {
		for col := lo; col < hi; col++ {
			p.factorColumn(col, tau)
		}
	})
}

func (p *plate) factorColumn(col int, tau float64) {
	for k, q := 0, col*p.nz; k < p.nz; k, q = k+1, q+1 {
		a := tau * p.gz[q]
		d := p.c[q] + a
		if k == 0 {
			d += tau * p.surfTop[col]
		} else {
			b := tau * p.gz[q-1]
			d += b - b*p.lz[q-1]
		}
		if k == p.nz-1 {
			d += tau * p.surfUnder[col]
		}
		p.iz[q] = 1 / d
		p.lz[q] = a * p.iz[q]
	}
}

// sweepX solves (C − τ·Kx) w = w in place, row by row.
func (p *plate) sweepX(v []float64) {
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			p.sweepRow(j, v)
		}
	})
}

// sweepRow is sweepX for row j. The nz chains of a row run side by side.
func (p *plate) sweepRow(j int, v []float64) {
	nz, row := p.nz, p.nx*p.nz
	w, l, x := v[j*row:][:row], p.lx[j*row:][:row], p.ix[j*row:][:row]
	n := row - nz
	for q, y := range w[:n] {
		w[q+nz] += l[q] * y
	}
	for q := n; q < row; q++ {
		w[q] *= x[q]
	}
	for q := n - 1; q >= 0; q-- {
		w[q] = w[q]*x[q] + l[q]*w[q+nz]
	}
}

// strip is how many chains of sweepY run side by side: few enough that what they read
// stays in the processor's cache on the way back.
const strip = 64

// sweepY solves (C − τ·Ky) w = C·w in place; a worker takes strips of columns.
func (p *plate) sweepY(v []float64) {
	row := p.nx * p.nz
	p.each((row+strip-1)/strip, func(lo, hi int) {
		for s := lo; s < hi; s++ {
			p.sweepStrip(v, s*strip, min((s+1)*strip, row))
		}
	})
}

func (p *plate) sweepStrip(v []float64, lo, hi int) {
	row, n := p.nx*p.nz, hi-lo
	at := func(a []float64, j int) []float64 { return a[j*row+lo:][:n] }
	w, c := at(v, 0), at(p.c, 0)
	for q := range w {
		w[q] *= c[q]
	}
	for j := 1; j < p.ny; j++ {
		prev, l := at(v, j-1), at(p.ly, j-1)
		w, c := at(v, j), at(p.c, j)
		for q := range w {
			w[q] = c[q]*w[q] + l[q]*prev[q]
		}
	}
	w, x := at(v, p.ny-1), at(p.iy, p.ny-1)
	for q := range w {
		w[q] *= x[q]
	}
	for j := p.ny - 2; j >= 0; j-- {
		next, l := at(v, j+1), at(p.ly, j)
		w, x := at(v, j), at(p.iy, j)
		for q := range w {
			w[q] = w[q]*x[q] + l[q]*next[q]
		}
	}
}

// sweepZ solves (C − τ·Kz) w = C·w through the thickness, faces included, in place.
func (p *plate) sweepZ(v []float64) {
	p.each(p.nx*p.ny, func(lo, hi int) {
		for q := lo * p.nz; q < hi*p.nz; q += p.nz {
			p.sweepColumn(q, v[q:][:p.nz])
		}
	})
}

// sweepColumn is sweepZ for the column that starts at node q.
func (p *plate) sweepColumn(q int, w []float64) {
	n := len(w)
	c, l, x := p.c[q:][:n], p.lz[q:][:n], p.iz[q:][:n]
	y, m := 0.0, 0.0
	for k, v := range w {
		y = c[k]*v + m*y
		m = l[k]
		w[k] = y * x[k]
	}
	y = w[n-1]
	for k := n - 2; k >= 0; k-- {
		y = w[k] + l[k]*y
		w[k] = y
	}
}
