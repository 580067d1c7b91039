package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fettler/internal/partdesk"
)

func atoi(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

func itoa(n int) string { return strconv.Itoa(n) }

// A BandDrawing is a resistor with its bands.
type BandDrawing struct {
	Bands []BandDrawn
	Alt   string
	Picks bool // bands can be tapped
}

// A BandDrawn is one band; positions are of a drawing that shows 40 to 580.
type BandDrawn struct {
	X, Y, W, H int
	HitX, HitW int
	Colour     string // CSS class: "band-red"
	Name       string
	Short      string
	Now        bool
	Path       string // where it is picked
	N          int
	LabelX     int
}

// The body's share of the drawing that bands are laid out in. Where the drawing is
// 300 pixels wide (a phone of 360), each of six bands is still 44 wide to the finger.
const (
	bandsFrom = 65
	bandsWide = 480
	bandWide  = 34
)

// drawBands draws bands; the last stands apart, as it does on the part. Each has its
// equal share of the width to be tapped in, and the first ones stand to the left in it.
func drawBands(names []string, at int) *BandDrawing {
	d := &BandDrawing{}
	share := bandsWide / max(len(names), 1)
	left := min(share/8, (share/2-bandWide/2-3)/max(len(names)-2, 1))
	for i, n := range names {
		middle := bandsFrom + share*i + share/2
		if i < len(names)-1 {
			middle -= i * left
		}
		b := BandDrawn{X: middle - bandWide/2, Y: 26, W: bandWide, H: 108, HitX: bandsFrom + share*i, HitW: share, Name: n, Now: i == at, N: i + 1, LabelX: middle}
		switch n {
		case blank:
			b.Colour, b.Name = "band-none", "not chosen yet"
		case "?":
			b.Colour, b.Name = "band-unseen", "lost"
		default:
			b.Colour = "band-" + n
		}
		b.Short = strings.SplitN(b.Name, " ", 2)[0]
		if n == blank || n == "?" {
			b.Short = "?"
		}
		d.Bands = append(d.Bands, b)
	}
	var alt []string
	for _, b := range d.Bands {
		alt = append(alt, b.Name)
	}
	d.Alt = "Resistor, bands from left to right: " + strings.Join(alt, ", ")
	return d
}

// A PoleDrawing is a polarised part with its mark.
type PoleDrawing struct {
	partdesk.Pole
	Shape string // "can", "block" or "diode"
	Alt   string
}

func drawPoles(poles []partdesk.Pole) []PoleDrawing {
	var out []PoleDrawing
	for _, p := range poles {
		out = append(out, drawPole(p))
	}
	return out
}

func drawPole(p partdesk.Pole) PoleDrawing {
	d := PoleDrawing{Pole: p}
	switch {
	case strings.HasPrefix(p.Kind, "electrolytic"):
		d.Shape, d.Alt = "can", "Aluminium cans: the dark segment on top of a surface-mount one, and the stripe down the side of a leaded one, are at minus"
	case strings.HasPrefix(p.Kind, "tantalum"):
		d.Shape, d.Alt = "block", "A tantalum block: the bar is at the plus end"
	case strings.HasPrefix(p.Kind, "zener"):
		d.Shape, d.Alt = "zener", "A zener diode: the ring is at the cathode"
	default:
		d.Shape, d.Alt = "diode", "A diode: the ring is at the cathode"
	}
	return d
}

// A Plot is curves in a box 640 × 300 with its axes.
type Plot struct {
	Alt            string
	Lines          []PlotLine
	X, Y           []PlotTick
	XName, YName   string
	Left, Bottom   int
	Right, Top     int
	MarkX          float64
	Mark           bool
	MarkName       string
	Width, Heights int
}

// A PlotLine is one curve.
type PlotLine struct {
	D, Class, Name string
	NameX, NameY   float64
}

// A PlotTick is a figure at an axis.
type PlotTick struct {
	At   float64
	Text string
}

// newPlot lays out curves over x; lines must be as long as x. top is the top of the y axis.
func newPlot(x []float64, top float64, xName, yName string, lines map[string][]float64, order []string) *Plot {
	p := &Plot{XName: xName, YName: yName, Left: 64, Right: 620, Top: 16, Bottom: 248, Width: 640, Heights: 300}
	if len(x) < 2 || !(top > 0) || !(x[len(x)-1] > x[0]) {
		return nil
	}
	px := func(v float64) float64 {
		return float64(p.Left) + (v-x[0])/(x[len(x)-1]-x[0])*float64(p.Right-p.Left)
	}
	py := func(v float64) float64 { return float64(p.Bottom) - min(v, top)/top*float64(p.Bottom-p.Top) }
	for i, name := range order {
		var d strings.Builder
		for k, v := range lines[name] {
			fmt.Fprintf(&d, "%c%.1f %.1f", "ML"[min(k, 1)], px(x[k]), py(v))
		}
		at := len(x) * (i + 1) / (len(order) + 2)
		p.Lines = append(p.Lines, PlotLine{d.String(), "curve-" + itoa(i+1), name, px(x[at]) + 6, py(lines[name][at]) - 8})
	}
	for _, v := range ticks(x[0], x[len(x)-1]) {
		p.X = append(p.X, PlotTick{px(v), strconv.FormatFloat(v, 'g', 4, 64)})
	}
	for _, v := range ticks(0, top) {
		p.Y = append(p.Y, PlotTick{py(v), strconv.FormatFloat(v, 'g', 4, 64)})
	}
	return p
}

// mark puts an upright line at x.
func (p *Plot) mark(from, to, x float64, name string) {
	if p == nil || x < from || x > to {
		return
	}
	p.Mark, p.MarkX, p.MarkName = true, float64(p.Left)+(x-from)/(to-from)*float64(p.Right-p.Left), name
}

// ticks are four to ten round figures between two.
func ticks(from, to float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((to-from)/4)))
	for _, m := range []float64{1, 2, 5, 10} {
		if (to-from)/(step*m) <= 7 {
			step *= m
			break
		}
	}
	var out []float64
	for k := math.Ceil(from/step - 1e-9); k*step <= to+1e-9*step && len(out) < 12; k++ {
		out = append(out, k*step+0) // no -0
	}
	return out
}
