package heat

import (
	"math"
	"slices"
)

// A mesh is the edges of the columns, m. Cells are as small as asked for at the part and
// under the nozzle; away from there they grow, since the field is smooth.
type mesh struct {
	x, y []float64 // edges, ascending, from 0
}

const (
	meshGrowth = 1.25 // of a cell over the one nearer to the part
	meshMost   = 4.0  // times the smallest cell …
	meshWide   = 4.0  // … but no more than this, mm, unless the smallest is larger
	meshMargin = 2.0  // mm of small cells round pads, body and nozzle
)

// newMesh lays the columns out.
func newMesh(j Job, s Settings) mesh {
	b, p := j.Board, j.Part
	if s.Uniform {
		return mesh{even(b.Width, s.Cell), even(b.Height, s.Cell)}
	}
	rx, ry := p.Length/2, p.Width/2
	for _, d := range p.Pads {
		rx, ry = max(rx, math.Abs(d.X)+d.Width/2), max(ry, math.Abs(d.Y)+d.Height/2)
	}
	if a := j.Tool.HotAir; a != nil {
		rx, ry = max(rx, a.Nozzle/2+a.Orbit), max(ry, a.Nozzle/2+a.Orbit)
	}
	rx, ry = rx+meshMargin, ry+meshMargin
	return mesh{graded(b.Width, s.Cell, p.X-rx, p.X+rx), graded(b.Height, s.Cell, p.Y-ry, p.Y+ry)}
}

// even is edges of equal cells near the given size, all in mm but the result, m.
func even(length, cell float64) []float64 {
	n := max(int(math.Round(length/cell)), 2)
	out := make([]float64, n+1)
	for i := range out {
		out[i] = length / float64(n) * float64(i) / 1000
	}
	return out
}

// graded is edges of cells of the given size from lo to hi and growing ones beyond.
func graded(length, cell, lo, hi float64) []float64 {
	lo, hi = max(lo, 0), min(hi, length)
	left, right := growing(lo, cell), growing(length-hi, cell)
	if len(left) == 0 {
		lo = 0
	}
	if len(right) == 0 {
		hi = length
	}
	n := max(int(math.Round((hi-lo)/cell)), 2)
	widths := slices.Clone(left)
	slices.Reverse(widths)
	for range n {
		widths = append(widths, (hi-lo)/float64(n))
	}
	widths = append(widths, right...)
	out, at := []float64{0}, 0.0
	for _, w := range widths {
		at += w
		out = append(out, at/1000)
	}
	out[len(out)-1] = length / 1000
	return out
}

// growing is the widths of cells, nearest first, that fill a span; none if it is narrower
// than half a cell.
func growing(span, cell float64) []float64 {
	if span < cell/2 {
		return nil
	}
	most := max(cell, min(meshMost*cell, meshWide))
	var out []float64
	sum := 0.0
	for w := cell; sum < span-cell/2; {
		out = append(out, w)
		sum += w
		w = min(w*meshGrowth, most)
	}
	for i := range out {
		out[i] *= span / sum
	}
	return out
}

func (g *mesh) nx() int { return len(g.x) - 1 }

func (g *mesh) ny() int { return len(g.y) - 1 }

func (g *mesh) dx(i int) float64 { return g.x[i+1] - g.x[i] }

func (g *mesh) dy(j int) float64 { return g.y[j+1] - g.y[j] }

// area of a column, m².
func (g *mesh) area(col int) float64 { return g.dx(col%g.nx()) * g.dy(col/g.nx()) }

// centre of a column, mm.
func (g *mesh) centre(col int) (x, y float64) {
	i, j := col%g.nx(), col/g.nx()
	return 500 * (g.x[i] + g.x[i+1]), 500 * (g.y[j] + g.y[j+1])
}

// A part of an interval that lies in a cell, m.
type within struct {
	cell int
	len  float64
}

// cover lists the cells of ascending edges that an interval touches.
func cover(edges []float64, lo, hi float64) []within {
	lo, hi = max(lo, 0), min(hi, edges[len(edges)-1])
	i, _ := slices.BinarySearch(edges, lo)
	var out []within
	for i = max(i-1, 0); i < len(edges)-1 && edges[i] < hi; i++ {
		if l := min(hi, edges[i+1]) - max(lo, edges[i]); l > 1e-9*(edges[i+1]-edges[i]) {
			out = append(out, within{i, l})
		}
	}
	return out
}

// rect spreads a rectangle (mm) over the columns it covers.
func (g *mesh) rect(x, y, w, h float64) []share {
	across := cover(g.x, (x-w/2)/1000, (x+w/2)/1000)
	var out []share
	total := 0.0
	for _, v := range cover(g.y, (y-h/2)/1000, (y+h/2)/1000) {
		for _, u := range across {
			col := v.cell*g.nx() + u.cell
			a := u.len * v.len
			out = append(out, share{col: col, of: a, fill: a / g.area(col)})
			total += a
		}
	}
	for i := range out {
		out[i].of /= total
	}
	return out
}

// sampled says for each of n equal cells which of the cells of a mesh make it up, and with
// what weights: their means where they are smaller, between two centres where they are
// larger.
func sampled(edges []float64, n int) [][]within {
	length := edges[len(edges)-1]
	centre := func(i int) float64 { return (edges[i] + edges[i+1]) / 2 }
	out := make([][]within, n)
	for k := range out {
		lo, hi := length*float64(k)/float64(n), length*float64(k+1)/float64(n)
		parts := cover(edges, lo, hi)
		if len(parts) > 2 {
			for i := range parts {
				parts[i].len /= hi - lo
			}
			out[k] = parts
			continue
		}
		at := (lo + hi) / 2
		i := parts[0].cell
		for i < len(edges)-2 && centre(i+1) <= at {
			i++
		}
		if i == len(edges)-2 || centre(i) > at {
			i = max(i-1, 0)
		}
		f := min(max((at-centre(i))/(centre(i+1)-centre(i)), 0), 1)
		out[k] = []within{{i, 1 - f}, {i + 1, f}}
	}
	return out
}
