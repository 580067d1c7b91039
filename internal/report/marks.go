package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"fettler/internal/casework"
)

// Marks are drawn light on dark, so that they stand out on any board.
var (
	markDark  = image.NewUniform(color.RGBA{0x14, 0x11, 0x0a, 0xff})
	markLight = image.NewUniform(color.RGBA{0xff, 0xd2, 0x3f, 0xff})
)

const markedQuality = 88

// drawMarks returns a picture with its designators drawn on it: a ring at the
// place, a stroke the way its mark points, and the name beside it. A picture without
// marks is returned as it is.
func drawMarks(data []byte, marks []casework.TagInfo) ([]byte, error) {
	if len(marks) == 0 {
		return data, nil
	}
	src, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	m := &marker{img: image.NewRGBA(image.Rect(0, 0, src.Bounds().Dx(), src.Bounds().Dy()))}
	draw.Draw(m.img, m.img.Bounds(), src, src.Bounds().Min, draw.Src)
	m.r = math.Max(6, float64(max(m.img.Rect.Dx(), m.img.Rect.Dy()))/60)
	f, err := opentype.Parse(gobold.TTF)
	if err == nil {
		m.face, err = opentype.NewFace(f, &opentype.FaceOptions{Size: 2.2 * m.r, DPI: 72})
	}
	if err != nil {
		return nil, fmt.Errorf("the letters of the marks: %w", err)
	}
	for _, t := range marks {
		m.draw(t)
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m.img, &jpeg.Options{Quality: markedQuality}); err != nil {
		return nil, fmt.Errorf("writing the picture: %w", err)
	}
	return out.Bytes(), nil
}

// A marker draws on a picture; r is the size of a ring.
type marker struct {
	img  *image.RGBA
	face font.Face
	r    float64
}

func (m *marker) draw(t casework.TagInfo) {
	w, h := float64(m.img.Rect.Dx()), float64(m.img.Rect.Dy())
	x, y := within(t.X)*w, within(t.Y)*h
	angle, known := casework.Degrees(t.Points)
	sin, cos := math.Sincos(angle * math.Pi / 180)
	for _, pass := range []struct {
		with  image.Image
		width float64
	}{{markDark, 0.7 * m.r}, {markLight, 0.3 * m.r}} {
		m.ring(pass.with, x, y, pass.width)
		if known {
			m.stroke(pass.with, x+m.r*sin, y-m.r*cos, x+3.2*m.r*sin, y-3.2*m.r*cos, pass.width)
		}
	}
	m.label(t.Mark, x, y, known && sin > 0.5)
}

func within(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	return math.Min(v, 1)
}

// ring draws a ring of a width around a place.
func (m *marker) ring(with image.Image, x, y, width float64) {
	p := m.path()
	circle(p, x, y, m.r+width/2, false)
	circle(p, x, y, m.r-width/2, true)
	p.Draw(m.img, m.img.Bounds(), with, image.Point{})
}

func (m *marker) path() *vector.Rasterizer {
	return vector.NewRasterizer(m.img.Rect.Dx(), m.img.Rect.Dy())
}

// circle adds a circle as a polygon; the other way round it cuts a hole.
func circle(p *vector.Rasterizer, x, y, r float64, hole bool) {
	const corners = 48
	p.MoveTo(float32(x+r), float32(y))
	for i := 1; i < corners; i++ {
		a := 2 * math.Pi * float64(i) / corners
		if hole {
			a = -a
		}
		p.LineTo(float32(x+r*math.Cos(a)), float32(y+r*math.Sin(a)))
	}
	p.ClosePath()
}

// stroke draws a straight line of a width.
func (m *marker) stroke(with image.Image, x1, y1, x2, y2, width float64) {
	long := math.Hypot(x2-x1, y2-y1)
	if !(long > 0) {
		return
	}
	nx, ny := -(y2-y1)/long*width/2, (x2-x1)/long*width/2
	p := m.path()
	p.MoveTo(float32(x1+nx), float32(y1+ny))
	p.LineTo(float32(x2+nx), float32(y2+ny))
	p.LineTo(float32(x2-nx), float32(y2-ny))
	p.LineTo(float32(x1-nx), float32(y1-ny))
	p.ClosePath()
	p.Draw(m.img, m.img.Bounds(), with, image.Point{})
}

// label writes the name beside its ring, on the side where there is room.
func (m *marker) label(text string, x, y float64, left bool) {
	d := font.Drawer{Dst: m.img, Src: markLight, Face: m.face}
	wide := float64(d.MeasureString(text)) / 64
	pad := 0.4 * m.r
	at := x + 1.8*m.r
	if left || at+wide+pad > float64(m.img.Rect.Dx()) {
		at = x - 1.8*m.r - wide
	}
	at = math.Max(pad, at)
	tall := 2.2 * m.r
	base := math.Min(math.Max(y+0.8*m.r, tall), float64(m.img.Rect.Dy())-pad)
	box := image.Rect(int(at-pad), int(base-0.85*tall-pad/2), int(at+wide+pad), int(base+0.25*tall))
	draw.Draw(m.img, box, markDark, image.Point{}, draw.Src)
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(at * 64), Y: fixed.Int26_6(base * 64)}
	d.DrawString(text)
}
