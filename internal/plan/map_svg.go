package plan

import (
	"fmt"
	"html"
	"io"
	"strings"
)

// Measures of the drawing, in pixels.
const (
	colWide   = 352.0
	cardWide  = 196.0
	cardHigh  = 62.0
	rowHigh   = 78.0
	edge      = 16.0
	headHigh  = 34.0
	riverWide = 44.0 // of a ribbon that is certain
	lineChars = 27
	whenChars = 24
)

// SVG draws the map from left to right: cards for moves, between them rivers as
// wide as their outcome is likely, with the outcome written on them. What a card is
// shows in its outline as well as its shade, so it prints in black and white: a check is
// plain, a repair has a doubled left edge, trying the whole is rounded, an end is
// rounded and dashed, or filled if it works.
func (m *Map) SVG(w io.Writer) error {
	d := m.lay()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" role="img" font-family="system-ui, sans-serif" font-size="12">`+"\n", d.wide, d.high, d.wide, d.high)
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString("What to do next: "+m.Title), html.EscapeString(m.Words()))
	b.WriteString(`<rect width="100%" height="100%" fill="#fff"/>` + "\n")
	fmt.Fprintf(&b, `<text x="%.0f" y="22" font-size="14" font-weight="600" fill="#222">%s</text>`+"\n", edge, html.EscapeString(m.Title))
	for i := range m.Spots {
		if m.Spots[i].Parent >= 0 {
			d.river(&b, m, i)
		}
	}
	for i := range m.Spots {
		d.card(&b, m, i)
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// A drawing is where things go.
type drawing struct {
	wide, high float64
	mid        []float64 // per spot: the middle of its card
	leave      []float64 // per spot: where its river leaves the parent's card
}

// lay puts every spot without children on a row of its own and the others in the middle of theirs.
func (m *Map) lay() *drawing {
	d := &drawing{mid: make([]float64, len(m.Spots)), leave: make([]float64, len(m.Spots))}
	row, levels := 0, 0
	var place func(i int) (low, high float64)
	place = func(i int) (low, high float64) {
		levels = max(levels, m.Spots[i].Level+1)
		seen := false
		for c := range m.Spots {
			if m.Spots[c].Parent == i {
				l, h := place(c)
				if !seen {
					low, seen = l, true
				}
				high = h
			}
		}
		if !seen {
			low = headHigh + (float64(row)+0.5)*rowHigh
			high = low
			row++
		}
		d.mid[i] = (low + high) / 2
		return d.mid[i], d.mid[i]
	}
	if len(m.Spots) > 0 {
		place(0)
	}
	d.wide = 2*edge + colWide*float64(max(levels-1, 0)) + cardWide
	d.high = headHigh + rowHigh*float64(max(row, 1)) + edge
	d.leaves(m)
	return d
}

// leaves stacks the rivers at the edge of the card they leave.
func (d *drawing) leaves(m *Map) {
	for i := range m.Spots {
		sum := 0.0
		for c := range m.Spots {
			if m.Spots[c].Parent == i {
				sum += breadth(m.Spots[c].P)
			}
		}
		y := d.mid[i] - sum/2
		for c := range m.Spots {
			if m.Spots[c].Parent == i {
				d.leave[c] = y + breadth(m.Spots[c].P)/2
				y += breadth(m.Spots[c].P)
			}
		}
	}
}

func breadth(p float64) float64 { return max(1.5, riverWide*p) }

func left(level int) float64 { return edge + colWide*float64(level) }

// river draws the way to spot i, with the result that leads there.
func (d *drawing) river(b *strings.Builder, m *Map, i int) {
	s := &m.Spots[i]
	x0, x1 := left(s.Level-1)+cardWide, left(s.Level)
	y0, y1, h := d.leave[i], d.mid[i], breadth(s.P)/2
	c := (x0 + x1) / 2
	fmt.Fprintf(b, `<path d="M%.1f %.1fC%.1f %.1f %.1f %.1f %.1f %.1fV%.1fC%.1f %.1f %.1f %.1f %.1f %.1fZ" fill="#9db4ab" fill-opacity="0.55"/>`+"\n",
		x0, y0-h, c, y0-h, c, y1-h, x1, y1-h, y1+h, c, y1+h, c, y0+h, x0, y0+h)
	lines := wrap(s.When, whenChars, 2)
	lines[len(lines)-1] += "  " + percent(s.P/m.Spots[s.Parent].P)
	for k, l := range lines {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="end" font-size="11" fill="#222">%s</text>`+"\n",
			x1-6, y1-h-4-13*float64(len(lines)-1-k), html.EscapeString(l))
	}
}

// card draws a move or an end.
func (d *drawing) card(b *strings.Builder, m *Map, i int) {
	s := &m.Spots[i]
	x, y := left(s.Level), d.mid[i]-cardHigh/2
	round, fill, extra := 2.0, "#fff", ""
	switch {
	case s.Works:
		round, fill = 31, "#dcebe3"
	case s.Rest:
		round, fill, extra = 2, "#f4f4f2", ` stroke-dasharray="2 3"`
	case s.Kind == Stop:
		round, extra = 31, ` stroke-dasharray="6 4"`
	case s.Kind == Test:
		round = 14
	}
	fmt.Fprintf(b, `<g><title>%s</title><rect x="%.1f" y="%.1f" width="%.0f" height="%.0f" rx="%.0f" fill="%s" stroke="#333"%s/>`+"\n",
		html.EscapeString(s.Do), x, y, cardWide, cardHigh, round, fill, extra)
	if s.Kind == Repair && !s.Rest {
		fmt.Fprintf(b, `<path d="M%.1f %.1fv%.0f" stroke="#333" stroke-width="1.5"/>`+"\n", x+5, y, cardHigh)
	}
	lines := wrap(s.Do, lineChars, 2)
	for k, l := range lines {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" fill="#111">%s</text>`, x+14, y+18+15*float64(k), html.EscapeString(l))
	}
	far := percent(s.P)
	if s.Folded {
		far += " ›"
	}
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="10" fill="#444">%s</text>`, x+14, y+cardHigh-8, html.EscapeString(s.Note))
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="10" font-weight="600" text-anchor="end" fill="#444">%s</text></g>`+"\n", x+cardWide-10, y+cardHigh-8, html.EscapeString(far))
}

// Words tells the map in sentences, for those who do not see it.
func (m *Map) Words() string {
	var parts []string
	for _, s := range m.Spots {
		if s.Parent < 0 {
			parts = append(parts, "First: "+s.Do+".")
		} else if !s.Rest {
			parts = append(parts, fmt.Sprintf("After “%s”, if %s (%s): %s.", m.Spots[s.Parent].Do, s.When, percent(s.P/m.Spots[s.Parent].P), s.Do))
		}
	}
	return strings.Join(parts, " ")
}

func percent(p float64) string {
	switch {
	case p >= 0.995 && p < 1-1e-9:
		return "over 99 %"
	case p < 0.005:
		return "under 1 %"
	default:
		return fmt.Sprintf("%.0f %%", 100*p)
	}
}

// wrap breaks text into at most most lines of about n characters.
func wrap(text string, n, most int) []string {
	var out []string
	line := ""
	words := strings.Fields(text)
	for k, w := range words {
		if line != "" && len([]rune(line))+1+len([]rune(w)) > n {
			if len(out) == most-1 {
				return append(out, cut(line+" "+strings.Join(words[k:], " "), n))
			}
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, cut(line, n))
}

// cut shortens text to n characters.
func cut(text string, n int) string {
	r := []rune(text)
	if len(r) <= n {
		return text
	}
	return strings.TrimSpace(string(r[:n-1])) + "…"
}
