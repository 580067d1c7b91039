package plan

// A lot is a belief as the planner carries it: weighted worlds, weights summing to 1.
type lot struct {
	ids []int
	w   []float64
}

// A scrap is room for lots that are wanted for a moment only: the base policy
// makes some dozen on its way and keeps none.
type scrap struct {
	ids     []int
	w       []float64
	lending bool // lots are made in it
}

// room is a list of worlds and one of weights, empty, with capacity n.
func (ws *worlds) room(n int) ([]int, []float64) {
	return ws.idRoom(n), ws.weightRoom(n)[:0]
}

func (ws *worlds) idRoom(n int) []int {
	s := &ws.scrap
	if !s.lending {
		return make([]int, 0, n)
	}
	if cap(s.ids)-len(s.ids) < n {
		s.ids = make([]int, 0, max(4096, 2*cap(s.ids), n))
	}
	at := len(s.ids)
	s.ids = s.ids[:at+n]
	return s.ids[at : at : at+n]
}

func (ws *worlds) weightRoom(n int) []float64 {
	s := &ws.scrap
	if !s.lending {
		return make([]float64, n)
	}
	if cap(s.w)-len(s.w) < n {
		s.w = make([]float64, 0, max(4096, 2*cap(s.w), n))
	}
	at := len(s.w)
	s.w = s.w[:at+n]
	return s.w[at : at+n : at+n]
}

// lend has lots made in the scrap until the function it returns is called; none of them may be kept.
func (ws *worlds) lend() (back func()) {
	s := &ws.scrap
	s.ids, s.w, s.lending = s.ids[:0], s.w[:0], true
	return func() { s.lending = false }
}

// repair returns the lot after repair r.
func (ws *worlds) repair(b lot, r int) lot {
	ids, w := ws.room(len(b.ids) + 16)
	ws.stamp++
	for k, id := range b.ids {
		still := ws.still[r]
		if len(ws.seat) < len(ws.list) {
			ws.seat = append(ws.seat, make([]seat, len(ws.list)-len(ws.seat))...)
		}
		if id/64 < len(still) && still.has(id) { // most repairs have nothing to do with most faults
			ids, w = ws.sit(ids, w, id, b.w[k])
			continue
		}
		for _, d := range ws.drifts(id, r) {
			if d.id >= len(ws.seat) {
				ws.seat = append(ws.seat, make([]seat, len(ws.list)-len(ws.seat))...)
			}
			ids, w = ws.sit(ids, w, d.id, b.w[k]*d.p)
		}
	}
	return lot{ids, w}
}

// sit adds weight to a world of the lot being made.
func (ws *worlds) sit(ids []int, w []float64, id int, more float64) ([]int, []float64) {
	s := &ws.seat[id]
	if s.stamp == ws.stamp {
		w[s.at] += more
		return ids, w
	}
	*s = seat{ws.stamp, len(ids)}
	return append(ids, id), append(w, more)
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
	w := ws.weightRoom(len(b.ids))
	sum := 0.0
	for k, id := range b.ids {
		w[k] = b.w[k] * (1 - ws.list[id].passes)
		sum += w[k]
	}
	return ws.reweighed(b, w, sum)
}

// faint is the weight below which a world is dropped from a lot.
const faint = 1e-7

// scaled multiplies the weights and normalises; worlds that get no weight drop out.
func (ws *worlds) scaled(b lot, by func(id int) float64) lot {
	w := ws.weightRoom(len(b.ids))
	sum := 0.0
	for k, id := range b.ids {
		w[k] = b.w[k] * by(id)
		sum += w[k]
	}
	return ws.reweighed(b, w, sum)
}

// reweighed returns the lot with weights w, which add up to sum; w is taken over.
func (ws *worlds) reweighed(b lot, w []float64, sum float64) lot {
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
	out := lot{ids: ws.idRoom(kept), w: w[:0]}
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
func (ws *worlds) thin(b lot) lot {
	var out lot
	out.ids, out.w = ws.room(len(b.ids) + 1)
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
