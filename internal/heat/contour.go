package heat

import (
	"fmt"
	"math"
	"slices"
)

// A Grid is a field of values at the points X0+i·Dx, Y0+j·Dy, row by row.
type Grid struct {
	Nx, Ny         int
	X0, Y0, Dx, Dy float64
	Values         []float64
}

// A Contour is one line of equal value. The higher side is on the left of its
// direction when y points up.
type Contour struct {
	Level  float64
	Label  string // "217 °C"
	Closed bool   // the last point joins the first, which is not repeated
	Points [][2]float64
	// LabelAt is half way along; Angle the direction there in degrees, −90 to 90, so
	// that text stays upright when y points up.
	LabelAt [2]float64
	Angle   float64
}

// Contours draws the lines at the given levels by marching squares with linear
// interpolation along the grid lines; a saddle is decided by the mean of its corners.
// A value equal to a level counts as above it. Cost: the number of cells per level.
// The order is that of the levels, then open lines before closed ones, each from low
// rows up: the same input gives the same output.
func Contours(g Grid, levels []float64) ([]Contour, error) {
	if g.Nx < 1 || g.Ny < 1 || len(g.Values) != g.Nx*g.Ny {
		return nil, &FieldError{"grid", fmt.Sprintf("%d × %d with %d values", g.Nx, g.Ny, len(g.Values)), "at least 1 × 1 with one value per point"}
	}
	if !(g.Dx > 0 && g.Dy > 0) || math.IsInf(g.Dx*g.Dy*g.X0*g.Y0, 0) {
		return nil, &FieldError{"grid spacing", num(g.Dx) + " × " + num(g.Dy), "positive finite numbers"}
	}
	for i, v := range g.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, &FieldError{fmt.Sprintf("grid value %d", i), num(v), "a finite number"}
		}
	}
	var out []Contour
	for _, l := range levels {
		if math.IsNaN(l) || math.IsInf(l, 0) {
			return nil, &FieldError{"contour level", num(l), "a finite number"}
		}
		out = append(out, g.trace(l)...)
	}
	return out, nil
}

// Edges of the grid carry a number: 2n for the edge from point n in x, 2n+1 in y.
type edgeWalk struct {
	next map[int]int
	from map[int]bool // edges that some segment enters
}

// trace joins the segments of one level into lines.
func (g Grid) trace(level float64) []Contour {
	w := edgeWalk{next: map[int]int{}, from: map[int]bool{}}
	for j := range g.Ny - 1 {
		for i := range g.Nx - 1 {
			g.cell(i, j, level, &w)
		}
	}
	starts := make([]int, 0, len(w.next))
	for e := range w.next {
		starts = append(starts, e)
	}
	slices.Sort(starts)
	var out []Contour
	for _, open := range []bool{true, false} {
		for _, e := range starts {
			if _, left := w.next[e]; left && (!open || !w.from[e]) {
				out = append(out, g.follow(e, level, !open, w.next))
			}
		}
	}
	return out
}

func (g Grid) follow(e int, level float64, closed bool, next map[int]int) Contour {
	c := Contour{Level: level, Label: fmt.Sprintf("%.4g °C", level), Closed: closed}
	for {
		c.Points = append(c.Points, g.crossing(e, level))
		n, ok := next[e]
		if !ok {
			break
		}
		delete(next, e)
		e = n
	}
	if closed {
		c.Points = c.Points[:len(c.Points)-1] // it came back to the start
	}
	c.LabelAt, c.Angle = c.middle()
	return c
}

// crossing interpolates the place where an edge meets the level.
func (g Grid) crossing(e int, level float64) [2]float64 {
	n := e / 2
	i, j := n%g.Nx, n/g.Nx
	x, y := g.X0+float64(i)*g.Dx, g.Y0+float64(j)*g.Dy
	a := g.Values[n]
	if e%2 == 0 {
		return [2]float64{x + g.Dx*part(a, g.Values[n+1], level), y}
	}
	return [2]float64{x, y + g.Dy*part(a, g.Values[n+g.Nx], level)}
}

// part is where on the way from a to b the level lies; halves guard against
// overflow of the difference.
func part(a, b, level float64) float64 {
	return min(max((level/2-a/2)/(b/2-a/2), 0), 1)
}

// cell adds the segments of one cell: corner bits 1 2 4 8 counter-clockwise from the
// lower left, edges bottom, right, top, left.
func (g Grid) cell(i, j int, level float64, w *edgeWalk) {
	n := j*g.Nx + i
	v := [4]float64{g.Values[n], g.Values[n+1], g.Values[n+1+g.Nx], g.Values[n+g.Nx]}
	edges := [4]int{2 * n, 2*(n+1) + 1, 2 * (n + g.Nx), 2*n + 1}
	bits := 0
	for k, x := range v {
		if x >= level {
			bits |= 1 << k
		}
	}
	row := bits
	if bits == 5 || bits == 10 {
		if v[0]/4+v[1]/4+v[2]/4+v[3]/4 >= level {
			row = 16 + bits/10 // joined through the middle
		}
	}
	for _, s := range segments[row] {
		a, b := edges[s[0]], edges[s[1]]
		w.next[a] = b
		w.from[b] = true
	}
}

const (
	bottom = iota
	right
	above
	left
)

var segments = [18][][2]int{
	1:  {{bottom, left}},
	2:  {{right, bottom}},
	3:  {{right, left}},
	4:  {{above, right}},
	5:  {{bottom, left}, {above, right}},
	6:  {{above, bottom}},
	7:  {{above, left}},
	8:  {{left, above}},
	9:  {{bottom, above}},
	10: {{right, bottom}, {left, above}},
	11: {{right, above}},
	12: {{left, right}},
	13: {{bottom, right}},
	14: {{left, bottom}},
	16: {{bottom, right}, {above, left}},
	17: {{left, bottom}, {right, above}},
}

// middle is the point half way along and the direction there.
func (c Contour) middle() (at [2]float64, angle float64) {
	pts := c.Points
	if c.Closed {
		pts = append(slices.Clip(pts), pts[0])
	}
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += math.Hypot(pts[i][0]-pts[i-1][0], pts[i][1]-pts[i-1][1])
	}
	at = pts[0]
	run := 0.0
	for i := 1; i < len(pts); i++ {
		dx, dy := pts[i][0]-pts[i-1][0], pts[i][1]-pts[i-1][1]
		d := math.Hypot(dx, dy)
		if d > 0 && run+d >= total/2 {
			f := (total/2 - run) / d
			at = [2]float64{pts[i-1][0] + f*dx, pts[i-1][1] + f*dy}
			angle = math.Atan2(dy, dx) * 180 / math.Pi
			break
		}
		run += d
	}
	if angle > 90 {
		angle -= 180
	} else if angle < -90 {
		angle += 180
	}
	return at, angle
}
