package web

import (
	"fmt"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/report"
)

// Measures of the map, in its own units.
const (
	ticketWide = 236.0
	riverLong  = 176.0
	rowHigh    = 94.0
	ticketHigh = 76.0
	riverFull  = 46.0 // width of what is certain
	nameChars  = 24
	whenChars  = 24
)

// A moveMap is the map laid out: from left to right, every end on a row of its own.
type moveMap struct {
	Wide, High float64
	Desc       string // the map in short, for those who do not see it
	Cards      []mapCard
	Rivers     []mapRiver
}

// A mapCard is a place, drawn as a ticket.
type mapCard struct {
	X, Y, Wide, High, Round float64
	Class                   string // check, repair, test, stop, works, rest
	Title                   string
	Name                    []mapText
	Takes, Chance           mapText
	HoleX, HoleY            float64
	Hole                    bool
	Spine                   string
}

// A mapRiver is the way from a place to the next, as wide as it is likely.
type mapRiver struct {
	Path string
	When []mapText
}

type mapText struct {
	X, Y float64
	Text string
	Bold string // beside it
}

func drawMap(root *casework.Spot, currency string) *moveMap {
	d := &moveMap{Desc: describe(root)}
	row := 0
	depth := 0
	d.place(root, 0, &row, &depth, currency)
	d.Wide = float64(depth)*(ticketWide+riverLong) + ticketWide + 4
	d.High = float64(row)*rowHigh + 4
	return d
}

// place draws a place and all after it, and returns the middle of its card.
func (d *moveMap) place(s *casework.Spot, level int, row, depth *int, currency string) float64 {
	*depth = max(*depth, level)
	var mids []float64
	for _, x := range s.Spots {
		mids = append(mids, d.place(x, level+1, row, depth, currency))
	}
	mid := 2 + (float64(*row)+0.5)*rowHigh
	if len(mids) > 0 {
		mid = mids[0] // the likeliest way runs straight on
	} else {
		*row++
	}
	x := 2 + float64(level)*(ticketWide+riverLong)
	d.card(s, x, mid, currency)
	d.rivers(s, x+ticketWide, mid, mids)
	return mid
}

func (d *moveMap) card(s *casework.Spot, x, mid float64, currency string) {
	c := mapCard{X: x, Y: mid - ticketHigh/2, Wide: ticketWide, High: ticketHigh, Round: 3, Class: s.Kind, Title: spotDoes(s)}
	switch {
	case s.Works:
		c.Class, c.Round = "works", ticketHigh/2
	case s.Rest:
		c.Class = "rest"
	case s.Kind == "stop":
		c.Round = ticketHigh / 2
	default:
		c.Hole, c.HoleX, c.HoleY = true, x+ticketWide-13, c.Y+13
	}
	left := x + 13
	if c.Round > 10 {
		left += 12
	}
	if s.Kind == "repair" && !s.Rest {
		c.Spine = fmt.Sprintf("M%.1f %.1fv%.1f", x+3.5, c.Y+1, ticketHigh-2)
	}
	for i, line := range wrapped(c.Title, nameChars, 2) {
		c.Name = append(c.Name, mapText{X: left, Y: c.Y + 23 + 18*float64(i), Text: line})
	}
	c.Takes = mapText{X: left, Y: c.Y + ticketHigh - 10, Text: spotTakes(s, currency)}
	far := percent(s.P)
	if s.More {
		far += " …"
	}
	c.Chance = mapText{X: x + ticketWide - 12, Y: c.Y + ticketHigh - 10, Text: far}
	if c.Round > 10 {
		c.Chance.X -= 12
	}
	d.Cards = append(d.Cards, c)
}

// rivers leave the ticket stacked, and arrive at the middle of the next.
func (d *moveMap) rivers(s *casework.Spot, x, mid float64, mids []float64) {
	all := 0.0
	for _, n := range s.Spots {
		all += river(n)
	}
	from := mid - all/2
	for i, n := range s.Spots {
		h := river(n)
		y0, y1, to := from+h/2, mids[i], x+riverLong
		c := x + riverLong*0.45
		from += h
		r := mapRiver{Path: fmt.Sprintf("M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1fV%.1fC%.1f %.1f %.1f %.1f %.1f %.1fZ",
			x, y0-h/2, c, y0-h/2, c, y1-h/2, to, y1-h/2, y1+h/2, c, y1+h/2, c, y0+h/2, x, y0+h/2)}
		lines := wrapped(capital(n.When), whenChars, 3)
		for k, line := range lines {
			t := mapText{X: to - 7, Y: y1 + 4.5 + 15*(float64(k)-float64(len(lines))/2), Text: line}
			if k == len(lines)-1 {
				t.Bold = percent(n.Share)
			}
			r.When = append(r.When, t)
		}
		d.Rivers = append(d.Rivers, r)
	}
}

func river(s *casework.Spot) float64 { return max(2, riverFull*s.P) }

// describe tells the first two moves; the list below the picture tells all.
func describe(root *casework.Spot) string {
	var b strings.Builder
	fmt.Fprintf(&b, "First: %s.", spotDoes(root))
	for _, s := range root.Spots {
		fmt.Fprintf(&b, " If %s (%s): %s.", s.When, percent(s.Share), spotDoes(s))
	}
	b.WriteString(" The list after the picture has all of it.")
	return b.String()
}

// wrapped breaks text into at most most lines of n characters, the last cut short.
func wrapped(text string, n, most int) []string {
	out := report.Fold(text, n)
	if len(out) > most {
		out = out[:most]
		out[most-1] += " …"
	}
	for i, l := range out {
		if r := []rune(l); len(r) > n+2 {
			out[i] = string(r[:n]) + "…"
		}
	}
	return out
}
