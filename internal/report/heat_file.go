package report

import (
	"fmt"
	"html"
	"strings"

	"fettler/internal/heatdesk"
)

// HeatSVG is one moment of the heat picture as a file of its own; a moment below zero is
// the one when all joints are molten. It is "" if there is no such moment.
func HeatSVG(a *heatdesk.Answer, moment int) string {
	d := DrawHeat(a.Picture)
	if moment < 0 {
		for i, m := range d.Moments {
			if m.Now {
				moment = i
			}
		}
	}
	if moment < 0 || moment >= len(d.Moments) {
		return ""
	}
	return d.file(d.Moments[moment], a.Ask.Part+", "+a.Ask.Package)
}

const svgStyle = `.l{fill:none;stroke:#17211e;stroke-width:1.2px;vector-effect:non-scaling-stroke}.part{fill:#fff;fill-opacity:.35}.neighbour{fill:#fff;fill-opacity:.25;stroke-dasharray:5 3}` +
	`text{text-anchor:middle;fill:#10181a;stroke:#fff;stroke-width:.32em;paint-order:stroke;stroke-linejoin:round;font-family:sans-serif}.t{text-anchor:start}`

// file draws a moment with its caption below it, mm to the unit.
func (d HeatDrawing) file(m heatFrame, what string) string {
	var b strings.Builder
	var x, y, w, h float64
	_, _ = fmt.Sscanf(d.View, "%g %g %g %g", &x, &y, &w, &h)
	foot := 2 * d.Font
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="%.2f %.2f %.2f %.2f" width="1200" height="%.0f"><title>%s</title><style>%s</style>`,
		x, y, w, h+foot, 1200*(h+foot)/w, html.EscapeString(what+". "+m.Alt), svgStyle)
	fmt.Fprintf(&b, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="#fff"/>`, x, y, w, h+foot)
	fmt.Fprintf(&b, `<image href="%s" width="%.2f" height="%.2f" preserveAspectRatio="none"/>`, html.EscapeString(string(m.Field)), d.Board.W, d.Board.H)
	box := func(r heatRect, class string) {
		fmt.Fprintf(&b, `<rect class="l %s" x="%.2f" y="%.2f" width="%.2f" height="%.2f"/>`, html.EscapeString(class), r.X, r.Y, r.W, r.H)
	}
	box(d.Board, "board")
	for _, l := range m.Lines {
		fmt.Fprintf(&b, `<path class="l" d="%s"/>`, l.D)
	}
	for _, r := range d.Boxes {
		box(r, r.Kind)
	}
	word := func(x, y float64, class, text string) {
		fmt.Fprintf(&b, `<text%s x="%.2f" y="%.2f" font-size="%.2f">%s</text>`, class, x, y, d.Font, html.EscapeString(text))
	}
	for _, l := range m.Labels {
		word(l.X, l.Y, "", l.Text)
	}
	for _, r := range d.Boxes {
		if r.Labelled {
			word(r.LabelX, r.LabelY, "", r.Name)
		}
	}
	fmt.Fprintf(&b, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="#fff"/>`, x, y+h, w, foot)
	caption := what + ", " + m.Title
	if m.Note != "" {
		caption += ", " + m.Note
	}
	word(x+d.Font/2, y+h+1.4*d.Font, ` class="t"`, caption)
	b.WriteString("</svg>\n")
	return b.String()
}
