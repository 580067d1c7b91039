package heatdesk

import (
	"context"
	"math"

	"fettler/internal/heat"
)

// A Picture is the board's top face over time, lengths in mm with y upwards.
type Picture struct {
	Width, Height float64
	Boxes         []Box
	Moments       []Moment
	Hottest       float64 // °C in any moment
}

// A Box is an outline. Kind is "part", "pad" or "neighbour".
type Box struct {
	Kind, Name string
	X, Y, W, H float64 // lower left corner and size
}

// A Moment is one moment of the picture.
type Moment struct {
	Time   float64 // s since the tool was applied, negative while preheating
	Note   string  // "all joints molten", "tool off" …
	Peak   float64 // °C anywhere on the top face
	Joint  float64 // °C of the coldest joint
	Nx, Ny int
	Values []float64 // °C of Nx × Ny cells, row by row from y = 0
	Lines  []Line
}

// A Line is a line of equal temperature.
type Line struct {
	Level   float64
	Label   string
	Closed  bool
	Points  [][2]float64
	LabelAt [2]float64
}

// mostMoments is how many moments are shown.
const mostMoments = 10

// levels are the temperatures drawn: touchable, softening, the solders' liquidus.
var levels = []float64{60, 100, 140, 183, 217, 260, 310}

// pictureOf runs the best option once more, with frames.
func pictureOf(ctx context.Context, job heat.Job, adv *heat.Advice, cell float64) (Picture, error) {
	best := adv.Best
	job.Tool = best.Tool
	for i, n := range best.Result.Neighbours {
		job.Neighbours[i].Shielded = n.Shielded
	}
	long := best.Result.Applied + 10
	if p := best.Tool.Preheat; p != nil {
		long += p.Soak / 6
	}
	r, err := heat.Simulate(ctx, job, heat.Settings{Cell: cell, Workers: 1, Frames: max(0.5, long/60), FrameCell: max(1, math.Sqrt(job.Board.Width*job.Board.Height/4000)), Cool: 10})
	if err != nil {
		return Picture{}, refused(err)
	}
	p := Picture{Width: job.Board.Width, Height: job.Board.Height, Boxes: outlines(job, r)}
	for _, i := range pickFrames(r) {
		m, err := momentOf(r, i)
		if err != nil {
			return p, err
		}
		p.Hottest = max(p.Hottest, m.Peak)
		p.Moments = append(p.Moments, m)
	}
	return p, nil
}

func outlines(j heat.Job, r *heat.Result) []Box {
	var out []Box
	p := j.Part
	for _, d := range p.Pads {
		out = append(out, Box{"pad", d.Name, p.X + d.X - d.Width/2, p.Y + d.Y - d.Height/2, d.Width, d.Height})
	}
	out = append(out, Box{"part", p.Name, p.X - p.Length/2, p.Y - p.Width/2, p.Length, p.Width})
	for i, n := range r.Neighbours {
		l, w := j.Neighbours[i].Length, j.Neighbours[i].Width
		out = append(out, Box{"neighbour", n.Name, n.X - l/2, n.Y - w/2, l, w})
	}
	return out
}

// pickFrames takes evenly spread moments, and with them the one when all is molten and the last.
func pickFrames(r *heat.Result) []int {
	n := len(r.History.Frames)
	molten := -1
	for i, f := range r.History.Frames {
		if molten < 0 && r.Molten > 0 && f.Time >= r.Molten {
			molten = i
		}
	}
	take := map[int]bool{}
	for k := range min(mostMoments, n) {
		take[k*(n-1)/max(min(mostMoments, n)-1, 1)] = true
	}
	if molten >= 0 {
		take[molten] = true
	}
	var out []int
	for i := range n {
		if take[i] {
			out = append(out, i)
		}
	}
	return out
}

func momentOf(r *heat.Result, i int) (Moment, error) {
	g := r.History.Grid(i, false)
	m := Moment{Time: r.History.Frames[i].Time, Nx: g.Nx, Ny: g.Ny, Values: g.Values, Peak: math.Inf(-1)}
	for _, v := range g.Values {
		m.Peak = max(m.Peak, v)
	}
	for _, s := range r.Trace {
		if s.Time <= m.Time+1e-9 {
			m.Joint = s.Coldest
		}
	}
	switch before := i > 0; {
	case m.Time < 0:
		m.Note = "preheating"
	case r.Molten > 0 && m.Time >= r.Molten && (!before || r.History.Frames[i-1].Time < r.Molten):
		m.Note = "all joints molten: lift"
	case m.Time > r.Applied+1e-9:
		m.Note = "tool off, cooling"
	}
	lines, err := heat.Contours(g, levels)
	if err != nil {
		return m, err
	}
	for _, c := range lines {
		m.Lines = append(m.Lines, Line{Level: c.Level, Label: c.Label, Closed: c.Closed, Points: c.Points, LabelAt: c.LabelAt})
	}
	return m, nil
}
