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

	// Implicit surface conductance per column, as of the last change of tool or step; the
	// flows are those of the present temperature.
	surfTop, surfUnder     []float64
	rows                   []rowSums
	tau                    float64 // of the factors below, see factor
	lx, ix, ly, iy, lz, iz []float64
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
	moved                  float64 // K, the most a node changed
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
// that of the network's links included, and books what the faces exchange. With swept,
// each row also goes through the sweep along x at once.
func (p *plate) flows(out []float64, net *network, dt float64, swept bool) {
	row := p.nx * p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			s := rowSums{}
			p.conduct(j, p.t, out)
			p.faces(j, out, &s)
			p.rows[j] = rowSums{top: dt * s.top, under: dt * s.under, loss: dt * s.loss}
			o := out[j*row:][:row]
			for q := range o {
				o[q] *= dt
			}
			net.give(out, j*row, (j+1)*row)
			if swept {
				p.sweepRow(j, out)
			}
		}
	})
}

// conduct sets row j of out to the conducted heat K·v. A node at the far end of a row
// or column has no conductance onwards, so inner rows need no case for the ends.
func (p *plate) conduct(j int, v, out []float64) {
	nz, row := p.nz, p.nx*p.nz
	a, b := j*row, (j+1)*row
	if j == 0 || j == p.ny-1 {
		p.conductEdge(j, v, out)
		return
	}
	n := b - a
	here, o := v[a:b:b], out[a:b:b]
	west, east := v[a-nz:][:n], v[a+nz:][:n]
	south, north := v[a-row:][:n], v[a+row:][:n]
	above, below := v[a-1:][:n], v[a+1:][:n]
	gw, ge := p.gx[a-nz:][:n], p.gx[a:][:n]
	gs, gn := p.gy[a-row:][:n], p.gy[a:][:n]
	ga, gb := p.gz[a-1:][:n], p.gz[a:][:n]
	for q, x := range here {
		o[q] = gw[q]*(west[q]-x) + ge[q]*(east[q]-x) + gs[q]*(south[q]-x) + gn[q]*(north[q]-x) + ga[q]*(above[q]-x) + gb[q]*(below[q]-x)
	}
}

// conductEdge is conduct for the first and last row.
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
		if q > a {
			s += p.gz[q-1] * (v[q-1] - v[q])
		}
		if q+1 < b {
			s += p.gz[q] * (v[q+1] - v[q])
		}
		out[q] = s
	}
}

// grip sets the implicit surface conductances to those of the present temperatures.
func (p *plate) grip() {
	for col := range p.surfTop {
		h, _ := p.top.blown(col)
		p.surfTop[col] = h + p.top.losing(col, p.t[col*p.nz])
		h, _ = p.under.blown(col)
		p.surfUnder[col] = h + p.under.losing(col, p.t[(col+1)*p.nz-1])
	}
}

// faces adds the flow at the two faces of row j and books it, but for what the
// implicit part changes.
func (p *plate) faces(j int, out []float64, s *rowSums) {
	for col := j * p.nx; col < (j+1)*p.nx; col++ {
		first, last := col*p.nz, (col+1)*p.nz-1
		h, hT := p.top.blown(col)
		t := p.t[first]
		in, loss := hT-h*t, p.top.losing(col, t)*(t-p.ambient)
		out[first] += in - loss
		s.top, s.loss = s.top+in, s.loss+loss
		h, hT = p.under.blown(col)
		t = p.t[last]
		in, loss = hT-h*t, p.under.losing(col, t)*(t-p.ambient)
		out[last] += in - loss
		s.under, s.loss = s.under+in, s.loss+loss
	}
}

// settle is the last part of a factored step: the sweep through the thickness, and
// what it gives added to the temperatures.
func (p *plate) settle(v []float64, tau float64) {
	row := p.nx * p.nz
	p.each(p.ny, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			for q := j * row; q < (j+1)*row; q += p.nz {
				p.sweepColumn(q, v[q:][:p.nz])
			}
			p.book(j, v, tau)
		}
	})
}

// book adds the increments w of row j to the temperatures and books what the faces
// exchanged beyond what flows booked: it is as much less as the implicit part took.
func (p *plate) book(j int, v []float64, tau float64) {
	nz, row := p.nz, p.nx*p.nz
	w, t := v[j*row:][:row], p.t[j*row:][:row]
	s := p.rows[j]
	peak, moved := lossFrom, 0.0
	for q, d := range w {
		x := t[q] + d
		t[q] = x
		if x > peak {
			peak = x
		}
		if d < 0 {
			d = -d
		}
		if d > moved {
			moved = d
		}
	}
	if tau > 0 {
		for i := range p.nx {
			col := j*p.nx + i
			h, _ := p.top.blown(col)
			d := tau * w[i*nz]
			s.top -= h * d
			s.loss += (p.surfTop[col] - h) * d
			h, _ = p.under.blown(col)
			d = tau * w[(i+1)*nz-1]
			s.under -= h * d
			s.loss += (p.surfUnder[col] - h) * d
		}
	}
	s.peak, s.moved = peak, moved
	p.rows[j] = s
}
