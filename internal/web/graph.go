package web

import (
	"fmt"
	"math"
	"strings"
)

// A Graph is a drawing of figures as SVG, in its own units: 640 wide, text 15. It is
// drawn by the template "graph"; colours are the sheet's, so it follows light, dark and print.
type Graph struct {
	W, H           float64
	Left, Right    float64 // of the field
	Top, Bottom    float64
	XTicks, YTicks []GraphTick
	XName, YName   string
	Bands          []GraphBox
	Lines          []GraphLine
	Dots           []GraphDot
	Words          []GraphWord
	Alt            string
}

// A GraphTick is a mark on an axis.
type GraphTick struct {
	At   float64
	Text string
}

// A GraphLine is a path; Look is its class.
type GraphLine struct{ D, Look string }

// A GraphDot is a point with what it stands for.
type GraphDot struct {
	X, Y, R float64
	Look    string
	Title   string
}

// A GraphBox is a rectangle.
type GraphBox struct {
	X, Y, W, H float64
	Look       string
	Title      string
}

// A GraphWord is text in the field.
type GraphWord struct {
	X, Y   float64
	Text   string
	Anchor string
}

// axis maps figures to places.
type axis struct {
	from, to float64 // figures
	at, end  float64 // places
	log      bool
}

func (a axis) place(v float64) float64 {
	f, t := a.from, a.to
	if a.log {
		v, f, t = math.Log(v), math.Log(f), math.Log(t)
	}
	if !(t > f) {
		return a.at
	}
	return round1(a.at + (a.end-a.at)*min(max((v-f)/(t-f), 0), 1))
}

func round1(v float64) float64 { return math.Round(v*10) / 10 }

// newGraph is an empty field with its axes.
func newGraph(h float64, x, y axis, xName, yName string) (*Graph, axis, axis) {
	p := &Graph{W: 640, H: h, Left: 76, Right: 604, Top: 30, Bottom: h - 48, XName: xName, YName: yName}
	x.at, x.end, y.at, y.end = p.Left, p.Right, p.Bottom, p.Top
	return p, x, y
}

// steps are round figures from a to b, about n of them.
func steps(a, b float64, n int) []float64 {
	if !(b > a) || math.IsInf(b-a, 0) {
		return []float64{a}
	}
	raw := (b - a) / float64(n)
	size := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*size >= raw {
			size *= m
			break
		}
	}
	var out []float64
	for k := math.Ceil(a/size - 1e-9); k*size <= b+1e-9*size && len(out) < 50; k++ {
		out = append(out, k*size+0) // no negative zero
	}
	return out
}

func (p *Graph) ticks(x, y axis, xs, ys []float64, xText, yText func(float64) string) {
	for _, v := range xs {
		p.XTicks = append(p.XTicks, GraphTick{x.place(v), xText(v)})
	}
	for _, v := range ys {
		p.YTicks = append(p.YTicks, GraphTick{y.place(v), yText(v)})
	}
}

func (p *Graph) line(look string, x, y axis, xs, ys []float64) {
	var d strings.Builder
	for i := range xs {
		op := "L"
		if i == 0 {
			op = "M"
		}
		fmt.Fprintf(&d, "%s%g %g", op, x.place(xs[i]), y.place(ys[i]))
	}
	p.Lines = append(p.Lines, GraphLine{d.String(), look})
}

func tickPercent(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }

func tickPlain(v float64) string {
	if math.Abs(v) < 1e-12 {
		return "0"
	}
	if math.Abs(v) >= 999.5 { // no power of ten
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.3g", v)
}
