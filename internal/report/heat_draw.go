package report

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"

	"fettler/internal/heatdesk"
)

// A HeatDrawing is the heat picture as SVG wants it: mm, y downwards.
type HeatDrawing struct {
	View    string // viewBox
	W, H    float64
	Board   heatRect
	Boxes   []heatRect
	Moments []heatFrame
	Scale   []heatStop
	Font    float64
}

type heatRect struct {
	Kind, Name       string
	X, Y, W, H       float64
	LabelX, LabelY   float64
	Labelled, Inside bool
}

type heatFrame struct {
	ID, Title, Note string
	Now             bool   // shown first
	Save            string // address of it as a file
	Field           template.URL
	Lines           []heatPath
	Labels          []heatLabel
	Alt             string
}

type heatPath struct{ D string }

type heatLabel struct {
	X, Y float64
	Text string
}

type heatStop struct {
	Temp  float64
	Words string
	Fill  string
}

// ramp is the colour of a temperature: paper, straw, amber, red, wine. Light falls
// steadily, so that it reads without colours too.
var ramp = []struct {
	at float64
	c  color.NRGBA
}{
	{20, color.NRGBA{0xf7, 0xf4, 0xe8, 255}}, {60, color.NRGBA{0xf8, 0xe3, 0xae, 255}}, {100, color.NRGBA{0xf5, 0xc4, 0x74, 255}}, {140, color.NRGBA{0xec, 0x9a, 0x4b, 255}},
	{183, color.NRGBA{0xda, 0x68, 0x34, 255}}, {217, color.NRGBA{0xb9, 0x3c, 0x2f, 255}}, {260, color.NRGBA{0x8c, 0x1f, 0x30, 255}}, {310, color.NRGBA{0x57, 0x12, 0x2b, 255}},
}

func warmth(t float64) color.NRGBA {
	if t <= ramp[0].at {
		return ramp[0].c
	}
	for i := 1; i < len(ramp); i++ {
		a, b := ramp[i-1], ramp[i]
		if t <= b.at {
			f := (t - a.at) / (b.at - a.at)
			mix := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + f*(float64(y)-float64(x)))) }
			return color.NRGBA{mix(a.c.R, b.c.R), mix(a.c.G, b.c.G), mix(a.c.B, b.c.B), 255}
		}
	}
	return ramp[len(ramp)-1].c
}

// aroundPart is the margin shown round part and neighbours, mm.
const aroundPart = 12

// DrawHeat lays the heat picture out; one without moments is empty.
func DrawHeat(p heatdesk.Picture) HeatDrawing {
	if len(p.Moments) == 0 || p.Width <= 0 || p.Height <= 0 {
		return HeatDrawing{}
	}
	x0, y0, x1, y1 := heatWindow(p)
	d := HeatDrawing{W: x1 - x0, H: y1 - y0, Board: heatRect{X: 0, Y: 0, W: p.Width, H: p.Height}}
	d.View = fmt.Sprintf("%.2f %.2f %.2f %.2f", x0, p.Height-y1, d.W, d.H)
	d.Font = max(d.W, d.H) / 29
	for _, b := range p.Boxes {
		r := heatRect{Kind: b.Kind, Name: b.Name, X: b.X, Y: p.Height - b.Y - b.H, W: b.W, H: b.H}
		r.LabelX, r.LabelY = r.X+r.W/2, r.Y+r.H/2+d.Font*0.35
		r.Labelled = b.Kind != "pad"
		d.Boxes = append(d.Boxes, r)
	}
	show := 0
	for i, m := range p.Moments {
		if strings.HasPrefix(m.Note, "all joints") {
			show = i
		}
	}
	for i, m := range p.Moments {
		f := d.frame(p, m)
		f.ID, f.Now = fmt.Sprintf("moment-%d", i), i == show
		d.Moments = append(d.Moments, f)
	}
	for _, s := range ramp {
		d.Scale = append(d.Scale, heatStop{s.at, fmt.Sprintf("%.0f °C", s.at), fmt.Sprintf("#%02x%02x%02x", s.c.R, s.c.G, s.c.B)})
	}
	return d
}

// heatWindow is the part of the board that is shown: what stands on it with a margin.
func heatWindow(p heatdesk.Picture) (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = p.Width, p.Height, 0, 0
	for _, b := range p.Boxes {
		x0, y0, x1, y1 = min(x0, b.X), min(y0, b.Y), max(x1, b.X+b.W), max(y1, b.Y+b.H)
	}
	return max(x0-aroundPart, 0), max(y0-aroundPart, 0), min(x1+aroundPart, p.Width), min(y1+aroundPart, p.Height)
}

func (d HeatDrawing) frame(p heatdesk.Picture, m heatdesk.Moment) heatFrame {
	f := heatFrame{Title: fmt.Sprintf("%.1f s", m.Time), Note: m.Note, Field: heatField(m)}
	if m.Time < 0 {
		f.Title = fmt.Sprintf("%.0f s before", -m.Time)
	}
	f.Alt = fmt.Sprintf("Heat after %s: hottest %.0f °C, coldest joint %.0f °C", f.Title, m.Peak, m.Joint)
	for _, l := range m.Lines {
		if !l.Closed || extent(l) > d.Font/2 { // a speck says nothing
			f.Lines = append(f.Lines, heatPath{linePath(l, p.Height)})
		}
	}
	f.Labels = d.labels(p, m)
	return f
}

// extent is the larger side of the box round a line, mm.
func extent(l heatdesk.Line) float64 {
	if len(l.Points) == 0 {
		return 0
	}
	lo, hi := l.Points[0], l.Points[0]
	for _, q := range l.Points {
		lo = [2]float64{min(lo[0], q[0]), min(lo[1], q[1])}
		hi = [2]float64{max(hi[0], q[0]), max(hi[1], q[1])}
	}
	return max(hi[0]-lo[0], hi[1]-lo[1])
}

func linePath(l heatdesk.Line, height float64) string {
	var b strings.Builder
	for i, q := range l.Points {
		c := byte('L')
		if i == 0 {
			c = 'M'
		}
		fmt.Fprintf(&b, "%c%.2f %.2f", c, q[0], height-q[1])
	}
	if l.Closed {
		b.WriteByte('Z')
	}
	return b.String()
}

// labels puts one label at the top of each level's longest line, and leaves out those
// that would lie on another or outside.
func (d HeatDrawing) labels(p heatdesk.Picture, m heatdesk.Moment) []heatLabel {
	longest := map[float64]heatdesk.Line{}
	for _, l := range m.Lines {
		if len(l.Points) > len(longest[l.Level].Points) {
			longest[l.Level] = l
		}
	}
	x0, y0, x1, y1 := heatWindow(p)
	var out []heatLabel
	for i := len(ramp) - 1; i >= 0; i-- { // hottest, innermost, first
		l, ok := longest[ramp[i].at]
		if !ok {
			continue
		}
		best, found := [2]float64{}, false
		for _, q := range l.Points {
			if q[0] > x0+2*d.Font && q[0] < x1-2*d.Font && q[1] > y0+d.Font && q[1] < y1-d.Font && (!found || q[1] > best[1]) {
				best, found = q, true
			}
		}
		lab := heatLabel{best[0], p.Height - best[1] + d.Font*0.35, l.Label}
		for _, o := range out {
			if math.Abs(o.Y-lab.Y) < 1.1*d.Font && math.Abs(o.X-lab.X) < 4*d.Font {
				found = false
			}
		}
		if found {
			out = append(out, lab)
		}
	}
	return out
}

// heatField is the temperatures as a small picture that the browser draws large and smooth.
func heatField(m heatdesk.Moment) template.URL {
	img := image.NewNRGBA(image.Rect(0, 0, m.Nx, m.Ny))
	for y := range m.Ny {
		for x := range m.Nx {
			img.SetNRGBA(x, m.Ny-1-y, warmth(m.Values[y*m.Nx+x]))
		}
	}
	var b bytes.Buffer
	if png.Encode(&b, img) != nil {
		return "data:,"
	}
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes()))
}
