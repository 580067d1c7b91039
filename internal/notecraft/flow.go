package notecraft

import (
	"math"
	"slices"
	"strings"
)

// actsBack tells whether a need is one by which the driven acts back on the
// driver; the library calls those load and beyond.
func actsBack(id string) bool {
	name := id[strings.LastIndexByte(id, '.')+1:]
	return name == "load" || name == "beyond"
}

// line puts the cards in one line such that few wires lead backwards: what
// nothing left feeds goes to the front, what feeds nothing left to the back, and
// in a circle first whoever gives most more than it takes, and among those the
// one best supplied from the front.
func (p *sheet) line() {
	left := slices.Clone(p.cards)
	var front, back []*card
	for len(left) > 0 {
		best, at, end := [2]int{math.MinInt, 0}, 0, false
		for k, c := range left {
			in, out, fed := p.degrees(c, left, front)
			score := [2]int{out - in, fed}
			switch {
			case in == 0:
				score[0] = math.MaxInt
			case out == 0 && best[0] < math.MaxInt:
				best, at, end = [2]int{math.MaxInt - 1, 0}, k, true
				continue
			}
			if slices.Compare(score[:], best[:]) > 0 {
				best, at, end = score, k, false
			}
		}
		if end {
			back = append(back, left[at])
		} else {
			front = append(front, left[at])
		}
		left = slices.Delete(left, at, at+1)
	}
	slices.Reverse(back)
	p.cards = append(front, back...)
	for k, c := range p.cards {
		c.order = k
	}
}

// degrees counts the wires to and from the cards left, and those from the front;
// a load on its supplier does not count.
func (p *sheet) degrees(c *card, left, front []*card) (in, out, fed int) {
	for _, w := range p.wires {
		switch {
		case w.loads:
		case w.to == c && slices.Contains(left, w.from):
			in++
		case w.from == c && slices.Contains(left, w.to):
			out++
		case w.to == c && slices.Contains(front, w.from):
			fed++
		}
	}
	return in, out, fed
}

// rank puts every card one layer behind the last that feeds it. Links against
// the order of the conditions act back and do not count.
func (p *sheet) rank() {
	for _, w := range p.wires {
		w.back = w.from.order > w.to.order
	}
	for range p.cards { // cards are in order, so this settles at once
		moved := false
		for _, w := range p.wires {
			if !w.back && w.to.layer < w.from.layer+1 {
				w.to.layer, moved = w.from.layer+1, true
			}
		}
		if !moved {
			break
		}
	}
	// A card that only feeds stands right before the first it feeds.
	for k := len(p.cards) - 1; k >= 0; k-- {
		c, first, fed := p.cards[k], math.MaxInt, false
		for _, w := range p.wires {
			if w.from == c && !w.back {
				first = min(first, w.to.layer)
			}
			fed = fed || w.to == c && !w.back
		}
		if !fed && first < math.MaxInt {
			c.layer = first - 1
		}
	}
	for _, w := range p.wires {
		w.back = w.back || w.from.layer >= w.to.layer
		w.loop = w.from.layer == w.to.layer
		out, in := &w.from.rows[w.fromRow], &w.to.rows[w.toRow]
		out.right = out.right || !w.back || w.loop
		out.left = out.left || w.back && !w.loop
		in.right = in.right || w.back
		in.left = in.left || !w.back
	}
}
