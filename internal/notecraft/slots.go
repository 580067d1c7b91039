package notecraft

import (
	"math"
	"slices"
	"sort"
)

// A slot is a place in a layer: a card, or the lane of a wire that passes through.
type slot struct {
	card *card
	y    int
	want float64
	near []*slot // slots it is joined to in the layers beside
}

func (s *slot) height() int {
	if s.card != nil {
		return s.card.height()
	}
	return laneRoom
}

// lanes gives every card and every wire passing through a layer a slot in it.
func (p *sheet) lanes() {
	own := map[*card]*slot{}
	for _, c := range p.cards {
		for len(p.layers) <= c.layer {
			p.layers = append(p.layers, nil)
		}
		own[c] = &slot{card: c}
		p.layers[c.layer] = append(p.layers[c.layer], own[c])
	}
	for _, w := range p.wires {
		last := own[w.from]
		step := 1
		if w.from.layer > w.to.layer {
			step = -1
		}
		for l := w.from.layer + step; l != w.to.layer && !w.loop; l += step {
			s := &slot{}
			p.layers[l] = append(p.layers[l], s)
			w.lanes = append(w.lanes, s)
			join(last, s)
			last = s
		}
		if !w.loop {
			join(last, own[w.to])
		}
	}
}

func join(a, b *slot) {
	a.near, b.near = append(a.near, b), append(b.near, a)
}

const sweeps = 12

// alone is the wish of a slot that nothing is joined to: below all others.
const alone = 1e6

// settle orders the slots of each layer by where their neighbours stand, over
// and over, sets them apart, and draws the wires.
func (p *sheet) settle() {
	for range sweeps {
		for _, layer := range p.layers {
			for _, s := range layer {
				s.want = s.mean()
			}
			sort.SliceStable(layer, func(i, j int) bool { return layer[i].want < layer[j].want })
			stack(layer)
		}
	}
	top := math.MaxInt
	for _, layer := range p.layers {
		for _, s := range layer {
			top = min(top, s.y)
		}
	}
	for l, layer := range p.layers {
		for _, s := range layer {
			s.y += margin - top
			if s.card != nil {
				s.card.x, s.card.y = margin+l*(cardWidth+layerGap), s.y
			}
			p.height = max(p.height, s.y+s.height()+margin)
		}
	}
	p.width = max(1, len(p.layers))*(cardWidth+layerGap) - layerGap + 2*margin + layerGap/2
	p.height = max(p.height, 2*margin)
	for _, w := range p.wires {
		p.route(w)
	}
}

// mean is where the neighbours' middles are; far down where there are none.
func (s *slot) mean() float64 {
	if len(s.near) == 0 {
		return alone
	}
	sum := 0.0
	for _, n := range s.near {
		sum += float64(n.y + n.height()/2)
	}
	return sum / float64(len(s.near))
}

// stack sets a layer's slots below one another, each as near to where it wants
// to be as those above allow, then moves the whole to the middle of their wishes.
func stack(layer []*slot) {
	y, shift, joined := math.MinInt/2, 0.0, 0
	for _, s := range layer {
		s.y = max(y, int(s.want)-s.height()/2)
		if s.want == alone {
			s.y = max(y, 0)
		}
		y = s.y + s.height() + cardGap
		if s.card == nil {
			y -= cardGap / 2
		}
		if s.want != alone {
			shift += s.want - float64(s.y+s.height()/2)
			joined++
		}
	}
	if joined > 0 {
		by := int(shift / float64(joined))
		for _, s := range layer {
			s.y += by
		}
	}
}

// route lists the points a wire goes through: out of its row, in and out of each lane, into its row.
func (p *sheet) route(w *wire) {
	out, in := cardWidth, 0
	if w.back && !w.loop {
		out, in = 0, cardWidth
	}
	if w.loop {
		in = cardWidth
	}
	w.points = append(w.points, point{w.from.x + out, w.from.rowY(w.fromRow)})
	for _, s := range w.lanes {
		l := slices.IndexFunc(p.layers, func(layer []*slot) bool { return slices.Contains(layer, s) })
		x, y := margin+l*(cardWidth+layerGap), s.y+laneRoom/2
		w.points = append(w.points, point{x + cardWidth - out, y}, point{x + out, y})
	}
	w.points = append(w.points, point{w.to.x + in, w.to.rowY(w.toRow)})
}
