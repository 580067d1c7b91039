package web

import (
	"fmt"
	"math"
	"strings"
)

// A Plot is a drawing of figures as SVG, in its own units: 640 wide, text 15. It is
// drawn by the template "plot"; colours are the sheet's, so it follows light, dark and print.
type Plot struct {
	W, H           float64
	Left, Right    float64 // of the field
	Top, Bottom    float64
	XTicks, YTicks []PlotTick
	XName, YName   string
	Bands          []PlotBox
	Lines          []PlotLine
	Dots           []PlotDot
	Words          []PlotWord
	Alt            string
}

// A PlotTick is a mark on an axis.
type PlotTick struct {
	At   float64
	Text string
}

// A PlotLine is a path; Look is its class.
type PlotLine struct{ D, Look string }

// A PlotDot is a point with what it stands for.
type PlotDot struct {
	X, Y, R float64
	Look    string
	Title   string
}

// A PlotBox is a rectangle.
type PlotBox struct {
	X, Y, W, H float64
	Look       string
	Title      string
}

// A PlotWord is text in the field.
type PlotWord struct {
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

// newPlot is an empty field with its axes.
func newPlot(h float64, x, y axis, xName, yName string) (*Plot, axis, axis) {
	p := &Plot{W: 640, H: h, Left: 64, Right: 624, Top: 14, Bottom: h - 48, XName: xName, YName: yName}
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

func (p *Plot) ticks(x, y axis, xs, ys []float64, xText, yText func(float64) string) {
	for _, v := range xs {
		p.XTicks = append(p.XTicks, PlotTick{x.place(v), xText(v)})
	}
	for _, v := range ys {
		p.YTicks = append(p.YTicks, PlotTick{y.place(v), yText(v)})
	}
}

func (p *Plot) line(look string, x, y axis, xs, ys []float64) {
	var d strings.Builder
	for i := range xs {
		op := "L"
		if i == 0 {
			op = "M"
		}
		fmt.Fprintf(&d, "%s%g %g", op, x.place(xs[i]), y.place(ys[i]))
	}
	p.Lines = append(p.Lines, PlotLine{d.String(), look})
}

func tickPercent(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }

func tickPlain(v float64) string {
	if math.Abs(v) < 1e-12 {
		return "0"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.3g", v), ".0")
}
