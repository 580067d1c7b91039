package notecraft

import (
	"fmt"

	"fettler/internal/note"
)

// A sheet is a device laid out: cards in layers, and wires between their rows.
type sheet struct {
	cards         []*card
	wires         []*wire
	layers        [][]*slot
	width, height int
}

// A card is one block, or one condition of the device itself.
type card struct {
	title, tip, foot string
	rows             []row
	order            int // where it stands in the flow, to break circles
	layer            int
	x, y             int
}

type row struct {
	title       string
	left, right bool // a wire ends here on that side
}

// A wire leads from a row of one card to a row of another.
type wire struct {
	from, to       *card
	fromRow, toRow int
	loads          bool // tells its supplier how heavy the work is
	back, loop     bool // against the flow; within a layer
	tip            string
	points         []point
	lanes          []*slot // where it passes through layers
}

type point struct{ x, y int }

func (c *card) height() int {
	h := headRoom + rowHeight*len(c.rows) + 6
	if c.foot != "" {
		h += footRoom
	}
	return h
}

func (c *card) rowY(k int) int { return c.y + headRoom + rowHeight*k + rowHeight/2 }

func layOut(m *note.Model) *sheet {
	p := &sheet{}
	place := p.deal(m)
	p.connect(m, place)
	p.rank()
	p.lanes()
	p.settle()
	return p
}

// deal makes the cards. It returns, per condition, its card and row; conditions
// that are the state of a part have none.
func (p *sheet) deal(m *note.Model) map[int]spot {
	part := map[int]bool{}
	parts, modes := make([]int, len(m.Units)), make([]int, len(m.Units))
	for _, x := range m.Parts {
		part[x.Cond] = true
		parts[x.Unit]++
	}
	for _, x := range m.Modes {
		modes[m.Parts[x.Part].Unit]++
	}
	place := map[int]spot{}
	cards := make([]*card, len(m.Units))
	for u := range m.Units {
		if m.Units[u].ID == "" {
			continue
		}
		cards[u] = &card{title: m.Units[u].Title, tip: m.Units[u].ID + ": " + m.Units[u].Title, foot: tally(parts[u], modes[u])}
		p.cards = append(p.cards, cards[u])
	}
	for c := range m.Conditions {
		x := &m.Conditions[c]
		if part[c] {
			continue
		}
		to := cards[x.Unit]
		if to == nil { // the device's own: a card each, so that it can stand where it belongs
			to = &card{title: "the device itself", tip: x.ID + ": " + x.Title}
			p.cards = append(p.cards, to)
		}
		place[c] = spot{to, len(to.rows)}
		to.rows = append(to.rows, row{title: x.Title})
	}
	return place
}

type spot struct {
	card *card
	row  int
}

func tally(parts, modes int) string {
	switch {
	case parts == 0:
		return ""
	case parts == 1:
		return "1 part, " + plural(modes, "fault")
	}
	return plural(parts, "part") + ", " + plural(modes, "fault")
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// connect makes a wire of every link between two cards.
func (p *sheet) connect(m *note.Model, place map[int]spot) {
	for c := range m.Conditions {
		to, ok := place[c]
		for _, l := range m.Conditions[c].From {
			from, known := place[l.Cond]
			if !ok || !known || from.card == to.card {
				continue
			}
			tip := m.Conditions[l.Cond].Title + " → " + m.Conditions[c].Title
			p.wires = append(p.wires, &wire{from: from.card, to: to.card, fromRow: from.row, toRow: to.row, tip: tip, loads: actsBack(m.Conditions[c].ID)})
		}
	}
	p.line()
}
