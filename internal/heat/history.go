package heat

import "math"

// A History is the picture of a run: the top and bottom face on a coarse grid.
type History struct {
	Frames []Frame
	// Cells in x and y, and their size in mm; values belong to cell centres.
	Nx, Ny int
	Dx, Dy float64
}

// A Frame is one moment; values in °C, row by row from y = 0.
type Frame struct {
	Time        float64 // s, negative during the preheater's soak
	Top, Bottom []float32
}

// Grid returns the frame's top or bottom face for [Contours].
func (h History) Grid(i int, bottom bool) Grid {
	v := h.Frames[i].Top
	if bottom {
		v = h.Frames[i].Bottom
	}
	g := Grid{Nx: h.Nx, Ny: h.Ny, X0: h.Dx / 2, Y0: h.Dy / 2, Dx: h.Dx, Dy: h.Dy, Values: make([]float64, len(v))}
	for k, x := range v {
		g.Values[k] = float64(x)
	}
	return g
}

func (m *model) newHistory() History {
	f := func(n int, d float64) (int, float64) {
		k := max(int(math.Round(m.set.FrameCell/(d*1000))), 1)
		cells := (n + k - 1) / k
		return cells, d * 1000 * float64(n) / float64(cells)
	}
	h := History{}
	h.Nx, h.Dx = f(m.plate.nx, m.dx)
	h.Ny, h.Dy = f(m.plate.ny, m.dy)
	return h
}

// frame averages the two faces over the coarse cells.
func (m *model) frame(h *History, time float64) {
	p := m.plate
	f := Frame{Time: time, Top: make([]float32, h.Nx*h.Ny), Bottom: make([]float32, h.Nx*h.Ny)}
	for j := range h.Ny {
		j0, j1 := j*p.ny/h.Ny, (j+1)*p.ny/h.Ny
		for i := range h.Nx {
			i0, i1 := i*p.nx/h.Nx, (i+1)*p.nx/h.Nx
			var top, bottom float64
			for y := j0; y < j1; y++ {
				for x := i0; x < i1; x++ {
					q := (y*p.nx + x) * p.nz
					top += p.t[q]
					bottom += p.t[q+p.nz-1]
				}
			}
			n := float64((j1 - j0) * (i1 - i0))
			f.Top[j*h.Nx+i], f.Bottom[j*h.Nx+i] = float32(top/n), float32(bottom/n)
		}
	}
	h.Frames = append(h.Frames, f)
}
