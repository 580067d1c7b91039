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
	cells := func(length float64) (int, float64) {
		n := max(int(math.Round(length/max(m.set.FrameCell, m.set.Cell))), 1)
		return n, length / float64(n)
	}
	h := History{}
	h.Nx, h.Dx = cells(m.job.Board.Width)
	h.Ny, h.Dy = cells(m.job.Board.Height)
	m.across, m.along = sampled(m.mesh.x, h.Nx), sampled(m.mesh.y, h.Ny)
	return h
}

// frame reads the two faces on the coarse cells.
func (m *model) frame(h *History, time float64) {
	p := m.plate
	f := Frame{Time: time, Top: make([]float32, h.Nx*h.Ny), Bottom: make([]float32, h.Nx*h.Ny)}
	for j, rows := range m.along {
		for i, cols := range m.across {
			var top, bottom float64
			for _, y := range rows {
				for _, x := range cols {
					q := (y.cell*p.nx + x.cell) * p.nz
					top += y.len * x.len * p.t[q]
					bottom += y.len * x.len * p.t[q+p.nz-1]
				}
			}
			f.Top[j*h.Nx+i], f.Bottom[j*h.Nx+i] = float32(top), float32(bottom)
		}
	}
	h.Frames = append(h.Frames, f)
}
