package plan

import (
	"math"
	"slices"
)

// A partial is a set of modes left by a repair, with its chance.
type partial struct {
	modes []int
	p     float64
}

// repaired works out what a repair does to a world: which modes it may leave,
// whether they show, and the harm it may do.
func (ws *worlds) repaired(w *world, id, r int) []drift {
	rep := &ws.e.Model().Repairs[r]
	if w.unknown {
		if p := ws.whole[r]; p > 0 {
			return []drift{{id, 1 - p}, {soundWorld, p}}
		}
		return []drift{{id, 1}}
	}
	var out []drift
	add := func(modes []int, p, fails float64) {
		if p*fails > 0 {
			out = append(out, drift{ws.id(modes, true), p * fails})
		}
		if p*(1-fails) > 0 {
			out = append(out, drift{ws.id(modes, false), p * (1 - fails)})
		}
	}
	for _, x := range ws.left(w.modes, r) {
		fails := 0.0
		if w.passes == 0 {
			fails = ws.fails(w.modes, x.modes)
		}
		if h := rep.Harms; h >= 0 && rep.Harm > 0 && !slices.Contains(x.modes, h) {
			hurt := append(slices.Clone(x.modes), h)
			slices.Sort(hurt)
			add(hurt, x.p*rep.Harm, 1-(1-fails)*ws.hidden[h])
			x.p *= 1 - rep.Harm
		}
		add(x.modes, x.p, fails)
	}
	return out
}

// encore is what is left of a repair's success when it has been made before and
// the fault is still there: what defeated it the first time most likely does so
// again. A judgement. Faults that others bring about are left out of this: there it
// worked, and the new part went the way of the old.
const encore = 0.35

// repeats tells the worlds which repairs were made before, and reports whether that is news.
func (ws *worlds) repeats(made bits) bool {
	if slices.Equal(made, ws.made) {
		return false
	}
	for _, w := range ws.list {
		for r := range w.after {
			if made.has(r) != ws.made.has(r) {
				w.after[r] = nil
			}
		}
		w.helps, w.matters, w.least = nil, nil, nil
	}
	for r := range ws.still {
		if made.has(r) != ws.made.has(r) {
			ws.still[r] = nil
		}
	}
	ws.made = made
	return true
}

// left works out, mode by mode, what a repair leaves: each mode it clears goes
// with its success unless a cause that stays brings it back at once.
func (ws *worlds) left(modes []int, r int) []partial {
	rep := &ws.e.Model().Repairs[r]
	now := []partial{{nil, 1}}
	made := ws.made.has(r)
	for _, i := range modes { // causes before consequences
		success := 0.0
		for _, c := range rep.Clears {
			if c.Mode == i {
				success = math.Max(success, c.Success)
			}
		}
		if made && len(ws.e.Model().Modes[i].Causes) == 0 {
			success *= encore
		}
		var next []partial
		for _, x := range now {
			again := 1.0
			for _, c := range ws.e.Model().Modes[i].Causes {
				if slices.Contains(x.modes, c.Mode) {
					again *= 1 - c.Chance
				}
			}
			gone := success * again
			if gone > 0 {
				next = append(next, partial{x.modes, x.p * gone})
			}
			if gone < 1 {
				next = append(next, partial{append(slices.Clone(x.modes), i), x.p * (1 - gone)})
			}
		}
		now = next
	}
	return now
}
