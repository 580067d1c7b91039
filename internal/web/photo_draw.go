package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// A Picture is a photo drawn with its marks.
type Picture struct {
	Hash       string
	W, H       int
	Mirror     bool
	Turn       int
	Pins       []Pin
	R          float64 // size of a mark
	Alt        string
	Clip       string // id of the clip path, "" for the whole
	Name, Side string
}

// A Pin is a mark on a picture, in its pixels.
type Pin struct {
	X, Y, X2, Y2 float64 // place, and end of the direction
	LabelX       float64
	LabelY       float64
	Font         float64
	R            float64
	Mark         string
	Points       bool
	Anchor       string
}

// pictureOf is a picture as it is shown: turned clockwise, then, if it is seen through the
// board, mirrored left to right.
func pictureOf(ph casework.PhotoInfo, tags []casework.TagInfo, turn int, mirror bool) Picture {
	p := Picture{Hash: ph.Hash, W: ph.Width, H: ph.Height, Turn: turn, Mirror: mirror, Name: photoName(ph), Side: ph.Side}
	if p.W < 1 || p.H < 1 {
		p.W, p.H = 1600, 1200
	}
	if turn%180 != 0 {
		p.W, p.H = p.H, p.W
	}
	p.R = float64(max(p.W, p.H)) / 60
	var marks []string
	for _, t := range tags {
		if t.Photo != ph.Hash {
			continue
		}
		marks = append(marks, t.Mark)
		p.Pins = append(p.Pins, p.pin(t))
	}
	p.Alt = p.Name
	if turn != 0 {
		p.Alt += fmt.Sprintf(", turned by %d°", turn)
	}
	if mirror {
		p.Alt += ", mirrored"
	}
	if len(marks) > 0 {
		p.Alt += ", marked: " + strings.Join(marks, ", ")
	}
	return p
}

func (p Picture) pin(t casework.TagInfo) Pin {
	x, y := turned(t.X, t.Y, p.Turn)
	d := casework.Turned(t.Points, p.Turn)
	if p.Mirror {
		x, d = 1-x, casework.Mirrored(d)
	}
	angle, known := casework.Degrees(d)
	n := Pin{X: x * float64(p.W), Y: y * float64(p.H), R: p.R, Font: 2.2 * p.R, Mark: t.Mark, Points: known, Anchor: "start"}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	n.X2, n.Y2 = n.X+3.2*p.R*sin, n.Y-3.2*p.R*cos
	n.LabelX, n.LabelY = n.X+1.6*p.R, n.Y+0.8*p.R
	if d == "right" || d == "up right" || d == "down right" || x > 0.8 {
		n.LabelX, n.Anchor = n.X-1.6*p.R, "end"
	}
	return n
}

// turned is where a place on a picture lies when it is turned clockwise.
func turned(x, y float64, degrees int) (float64, float64) {
	switch degrees {
	case 90:
		return 1 - y, x
	case 180:
		return 1 - x, 1 - y
	case 270:
		return y, 1 - x
	}
	return x, y
}

// turnOf is how far a picture is to be turned, 0 if that is none of the quarters.
func turnOf(r *http.Request) int {
	switch n, _ := strconv.Atoi(r.FormValue("turn")); n {
	case 90, 180, 270:
		return n
	}
	return 0
}

// photoName says what a picture shows.
func photoName(ph casework.PhotoInfo) string {
	parts := ph.Of()
	if len(parts) == 0 {
		return "picture of " + ph.At.Local().Format("2 Jan, 15:04")
	}
	return strings.Join(parts, ", ")
}
