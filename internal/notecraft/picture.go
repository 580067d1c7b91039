package notecraft

import (
	"bytes"
	"fmt"
	"strings"

	"fettler/internal/note"
)

// Picture draws the device as its note has it, as an SVG document: each block a
// card with a notched corner, the conditions in it as rows with a pin where
// a line ends, and a line for every link from block to block. Supply runs from left to right;
// what acts back, such as a load on its motor, is dashed and runs right to left.
//
// Colours come from the text around it (currentColor), so it prints in black and
// white and follows a dark page; the classes nc-card, nc-title, nc-row, nc-foot,
// nc-pin, nc-feed and nc-back are there for a style sheet. Title and
// description say the same in words.
func Picture(m *note.Model) []byte {
	p := layOut(m)
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="nc-name nc-words" `+
		`fill="none" stroke="none" color="currentColor" font-family="system-ui, sans-serif" font-size="12">`+"\n", p.width, p.height, p.width, p.height)
	fmt.Fprintf(&b, "<title id=\"nc-name\">%s: its blocks and who feeds whom</title>\n", escaped(m.Title))
	fmt.Fprintf(&b, "<desc id=\"nc-words\">%s</desc>\n", escaped(p.words()))
	b.WriteString("<g class=\"nc-lines\" stroke=\"currentColor\" stroke-width=\"1.2\">\n")
	for _, w := range p.wires {
		w.draw(&b, p)
	}
	b.WriteString("</g>\n")
	for _, c := range p.cards {
		c.draw(&b)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// Sizes, in the units of the picture.
const (
	cardWidth = 190
	rowHeight = 20
	headRoom  = 26
	footRoom  = 20
	notch     = 10
	layerGap  = 78
	cardGap   = 22
	laneRoom  = 12
	margin    = 16
	pin       = 5
)

func (c *card) draw(b *bytes.Buffer) {
	x, y, w, h := c.x, c.y, cardWidth, c.height()
	fmt.Fprintf(b, "<g class=\"nc-card\"><title>%s</title>\n", escaped(c.tip))
	fmt.Fprintf(b, `<path class="nc-card-edge" d="M%d %dh%dl%d %dv%dh%dz" stroke="currentColor" stroke-width="1.4"/>`+"\n", x, y, w-notch, notch, notch, h-notch, -w)
	fmt.Fprintf(b, `<path class="nc-card-bar" d="M%d %dh%d" stroke="currentColor" stroke-width="0.7"/>`+"\n", x, y+headRoom-4, w)
	text(b, "nc-title", x+10, y+16, cardWidth-24, c.title, ` font-weight="600"`)
	for k, r := range c.rows {
		ry := c.rowY(k)
		text(b, "nc-row", x+12, ry+4, cardWidth-24, r.title, "")
		if r.left {
			fmt.Fprintf(b, `<rect class="nc-pin" x="%d" y="%d" width="%d" height="%d" fill="currentColor"/>`+"\n", x-pin/2, ry-pin/2, pin, pin)
		}
		if r.right {
			fmt.Fprintf(b, `<rect class="nc-pin" x="%d" y="%d" width="%d" height="%d" fill="currentColor"/>`+"\n", x+w-pin/2, ry-pin/2, pin, pin)
		}
	}
	if c.foot != "" {
		text(b, "nc-foot", x+10, y+h-7, cardWidth-20, c.foot, ` font-size="10" font-style="italic"`)
	}
	b.WriteString("</g>\n")
}

// text writes one line, cut to the width; the whole of it stays in its title.
func text(b *bytes.Buffer, class string, x, y, width int, s, more string) {
	perLetter := 6.7 // mean width of a letter at this size, on the safe side
	if class == "nc-title" {
		perLetter = 7.4
	}
	shown := s
	if most := int(float64(width) / perLetter); len([]rune(s)) > most {
		shown = strings.TrimSpace(string([]rune(s)[:most-1])) + "…"
	}
	tip := ""
	if shown != s {
		tip = "<title>" + escaped(s) + "</title>"
	}
	fmt.Fprintf(b, `<text class="%s" x="%d" y="%d" fill="currentColor"%s>%s%s</text>`+"\n", class, x, y, more, tip, escaped(shown))
}

// draw follows a wire through its lanes.
func (w *wire) draw(b *bytes.Buffer, p *sheet) {
	class, dash := "nc-feed", ""
	if w.back {
		class, dash = "nc-back", ` stroke-dasharray="5 4"`
	}
	var d strings.Builder
	from := w.points[0]
	fmt.Fprintf(&d, "M%d %d", from.x, from.y)
	for k, to := range w.points[1:] {
		if k%2 == 1 { // straight through a layer
			fmt.Fprintf(&d, "H%d", to.x)
		} else {
			bend := (to.x - from.x) / 2
			if w.loop {
				fmt.Fprintf(&d, "C%d %d %d %d %d %d", from.x+layerGap/2, from.y, to.x+layerGap/2, to.y, to.x, to.y)
			} else {
				fmt.Fprintf(&d, "C%d %d %d %d %d %d", from.x+bend, from.y, to.x-bend, to.y, to.x, to.y)
			}
		}
		from = to
	}
	fmt.Fprintf(b, `<path class="%s" d="%s"%s><title>%s</title></path>`+"\n", class, d.String(), dash, escaped(w.tip))
	end, way := w.points[len(w.points)-1], 7
	if w.back {
		way = -7
	}
	fmt.Fprintf(b, `<path class="%s" d="M%d %dl%d -4v8z" fill="currentColor"/>`+"\n", class, end.x, end.y, -way)
}

func escaped(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;").Replace(s)
}

// words tells the picture to whoever cannot see it.
func (p *sheet) words() string {
	var out []string
	for _, c := range p.cards {
		var to []string
		for _, w := range p.wires {
			if w.from == c {
				to = append(to, fmt.Sprintf("%s to %s of %s", c.rows[w.fromRow].title, w.to.rows[w.toRow].title, w.to.title))
			}
		}
		s := fmt.Sprintf("%s (%s)", c.title, c.foot)
		if c.foot == "" {
			s = c.title
		}
		if len(to) > 0 {
			s += " passes " + strings.Join(to, ", ")
		}
		out = append(out, s+".")
	}
	return strings.Join(out, " ")
}
