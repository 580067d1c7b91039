package plan

// A lot is a belief as the planner carries it: weighted worlds, weights summing to 1.
type lot struct {
	ids []int
	w   []float64
}

// repair returns the lot after repair r.
func (ws *worlds) repair(b lot, r int) lot {
	out := lot{ids: make([]int, 0, len(b.ids)+16), w: make([]float64, 0, len(b.ids)+16)}
	ws.stamp++
	for k, id := range b.ids {
		for _, d := range ws.drifts(id, r) {
			if len(ws.seat) < len(ws.list) {
				ws.seat = append(ws.seat, make([]seat, len(ws.list)-len(ws.seat))...)
			}
			s := &ws.seat[d.id]
			if s.stamp != ws.stamp {
				*s = seat{ws.stamp, len(out.ids)}
				out.ids = append(out.ids, d.id)
				out.w = append(out.w, 0)
			}
			out.w[s.at] += b.w[k] * d.p
		}
	}
	return out
}

// passing is the chance that the test of the whole passes.
func (ws *worlds) passing(b lot) float64 {
	p := 0.0
	for k, id := range b.ids {
		p += b.w[k] * ws.list[id].passes
	}
	return p
}

// failed returns the lot after the test of the whole has failed.
func (ws *worlds) failed(b lot) lot {
	return b.scaled(func(id int) float64 { return 1 - ws.list[id].passes })
}

// faint is the weight below which a world is dropped from a lot.
const faint = 1e-7

// scaled multiplies the weights and normalises; worlds that get no weight drop out.
func (b lot) scaled(by func(id int) float64) lot {
	w := make([]float64, len(b.ids))
	sum := 0.0
	for k, id := range b.ids {
		w[k] = b.w[k] * by(id)
		sum += w[k]
	}
	return b.reweighed(w, sum)
}

// reweighed returns the lot with weights w, which add up to sum; w is taken over.
func (b lot) reweighed(w []float64, sum float64) lot {
	kept, mass := 0, 0.0
	for _, x := range w {
		if x > faint*sum {
			kept++
			mass += x
		}
	}
	if kept == len(w) {
		for k := range w {
			w[k] /= mass
		}
		return lot{ids: b.ids, w: w} // lots are never changed, so the list can be shared
	}
	out := lot{ids: make([]int, 0, kept), w: w[:0]}
	for k, x := range w {
		if x > faint*sum {
			out.ids = append(out.ids, b.ids[k])
			out.w = append(out.w, x/mass)
		}
	}
	return out
}

// slight is the weight below which thin takes a world for the unknown fault.
const slight = 1e-3

// thin returns the lot with its lightest worlds made one with the unknown fault,
// which no part repair cures: quicker to think about, and never too hopeful.
func (b lot) thin() lot {
	out := lot{ids: make([]int, 0, 32), w: make([]float64, 0, 32)}
	rest, at := 0.0, -1
	for k, w := range b.w {
		if id := b.ids[k]; id == unknownWorld || w >= slight {
			if id == unknownWorld {
				at = len(out.ids)
			}
			out.ids, out.w = append(out.ids, id), append(out.w, w)
		} else {
			rest += w
		}
	}
	switch {
	case at >= 0:
		out.w[at] += rest
	case rest > 0:
		out.ids, out.w = append(out.ids, unknownWorld), append(out.w, rest)
	}
	return out
}
