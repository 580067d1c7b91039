package heat

import "sync"

// A plate is the field part of the model: nodes on a grid, heat capacities,
// conductances and what the two surfaces exchange with the air. SI units, °C.
// Node (i, j, k) has index (j·nx+i)·nz+k, column (i, j) has index j·nx+i.
type plate struct {
	nx, ny, nz int
	c          []float64 // J/K
	gx, gy, gz []float64 // W/K to the next node in x, y, z; 0 at the far end
	t          []float64 // °C
	top, under surface
	ambient    float64
	workers    int

	surfTop, surfUnder []float64 // implicit surface conductance per column
	rows               []rowSums
	tau                float64 // of the factors below, see factor
	ax, ix, ay, iy, iz []float64
}

// A surface is one face of the plate, per column.
type surface struct {
	h, hT  []float64 // W/K and W: forced convection, Σ h·A and Σ h·A·T_air
	on     bool      // whether the forced part acts
	area   []float64 // m² open to losses
	forced []bool    // the jet replaces free convection here while on
	free   lossTable // free convection and radiation
	still  lossTable // radiation only
}

// blown returns the forced conductance and source of a column.
func (s *surface) blown(col int) (h, hT float64) {
	if !s.on {
		return 0, 0
	}
	return s.h[col], s.hT[col]
}

// losing returns the conductance of losses at a column's temperature.
func (s *surface) losing(col int, t float64) float64 {
	if s.area[col] == 0 {
		return 0
	}
	if s.on && s.forced[col] {
		return s.area[col] * s.still.at(t)
	}
	return s.area[col] * s.free.at(t)
}

// rowSums are the heats of one step (J) and extremes of one grid row; kept per row
// so that their sum does not depend on the number of workers.
type rowSums struct {
	top, under, loss, peak float64
}

func newPlate(nx, ny, nz, workers int) *plate {
	n := nx * ny * nz
	p := &plate{nx: nx, ny: ny, nz: nz, workers: workers}
	for _, a := range []*[]float64{&p.c, &p.gx, &p.gy, &p.gz, &p.t} {
		*a = make([]float64, n)
	}
	p.surfTop, p.surfUnder = make([]float64, nx*ny), make([]float64, nx*ny)
	p.rows = make([]rowSums, ny)
	for _, f := range []*surface{&p.top, &p.under} {
		f.h, f.hT, f.area = make([]float64, nx*ny), make([]float64, nx*ny), make([]float64, nx*ny)
		f.forced = make([]bool, nx*ny)
	}
	return p
}

// minParallel is the work, in nodes, below which goroutines cost more than they bring.
const minParallel = 6000

// each runs f over [0, n) in at most workers contiguous pieces.
func (p *plate) each(n int, f func(lo, hi int)) {
	w := min(p.workers, n)
	if w <= 1 || len(p.c) < minParallel {
		f(0, n)
		return
	}
	var wg sync.WaitGroup
	for i := range w {
		wg.Go(func() { f(i*n/w, (i+1)*n/w) })
	}
	wg.Wait()
}

// flows sets out to the heat each node receives at the present temperatures, times dt,
// and keeps the surface conductances for the implicit part. Links to lumps are
// added by the network.
func (p *plate) flows(out []float64, dt float64) {
	row := p.nx * p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			p.conduct(j, p.t, out)
			for q := j * row; q < (j+1)*row; q += p.nz {
				p.faces(q, out)
				for k := q; k < q+p.nz; k++ {
					out[k] *= dt
				}
			}
		}
	})
}

// conduct sets row j of out to the conducted heat K·v. A node at the far end of a row
// has gx = 0, so inner rows need no case for the ends.
func (p *plate) conduct(j int, v, out []float64) {
	nz, row := p.nz, p.nx*p.nz
	a, b := j*row, (j+1)*row
	if j > 0 && j < p.ny-1 {
		n := b - a
		here, o := v[a:b:b], out[a:b:b]
		west, east := v[a-nz:][:n], v[a+nz:][:n]
		south, north := v[a-row:][:n], v[a+row:][:n]
		gw, ge := p.gx[a-nz:][:n], p.gx[a:][:n]
		gs, gn := p.gy[a-row:][:n], p.gy[a:][:n]
		for q, x := range here {
			o[q] = gw[q]*(west[q]-x) + ge[q]*(east[q]-x) + gs[q]*(south[q]-x) + gn[q]*(north[q]-x)
		}
	} else {
		p.conductEdge(j, v, out)
	}
	for q := a; q < b; q += nz {
		for k := q; k < q+nz-1; k++ {
			f := p.gz[k] * (v[k+1] - v[k])
			out[k] += f
			out[k+1] -= f
		}
	}
}

// conductEdge is the part of conduct along x and y for the first and last row.
func (p *plate) conductEdge(j int, v, out []float64) {
	nz, row := p.nz, p.nx*p.nz
	a, b := j*row, (j+1)*row
	for q := a; q < b; q++ {
		s := 0.0
		if q >= a+nz {
			s = p.gx[q-nz] * (v[q-nz] - v[q])
		}
		if q+nz < b {
			s += p.gx[q] * (v[q+nz] - v[q])
		}
		if j > 0 {
			s += p.gy[q-row] * (v[q-row] - v[q])
		}
		if j+1 < p.ny {
			s += p.gy[q] * (v[q+row] - v[q])
		}
		out[q] = s
	}
}

// faces adds the flow at the two faces of the column that starts at q.
func (p *plate) faces(q int, out []float64) {
	col, last := q/p.nz, q+p.nz-1
	h, hT := p.top.blown(col)
	loss := p.top.losing(col, p.t[q])
	out[q] += hT - h*p.t[q] - loss*(p.t[q]-p.ambient)
	p.surfTop[col] = h + loss
	h, hT = p.under.blown(col)
	loss = p.under.losing(col, p.t[last])
	out[last] += hT - h*p.t[last] - loss*(p.t[last]-p.ambient)
	p.surfUnder[col] = h + loss
}

// book adds the increments w to the temperatures and books what the faces exchanged
// at the temperature the step used.
func (p *plate) book(w []float64, dt, theta float64) {
	row := p.nx * p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			s := rowSums{peak: lossFrom}
			for q := j * row; q < (j+1)*row; q += p.nz {
				p.bookColumn(q, w, dt, theta, &s)
			}
			p.rows[j] = s
		}
	})
}

func (p *plate) bookColumn(q int, w []float64, dt, theta float64, s *rowSums) {
	col, last := q/p.nz, q+p.nz-1
	h, hT := p.top.blown(col)
	now := p.t[q] + theta*w[q]
	s.top += dt * (hT - h*now)
	s.loss += dt * (p.surfTop[col] - h) * (now - p.ambient)
	h, hT = p.under.blown(col)
	now = p.t[last] + theta*w[last]
	s.under += dt * (hT - h*now)
	s.loss += dt * (p.surfUnder[col] - h) * (now - p.ambient)
	for k := q; k <= last; k++ {
		p.t[k] += w[k]
		s.peak = max(s.peak, p.t[k])
	}
}
