package plan

import (
	"context"
	"math"
	"slices"

	"fettler/internal/belief"
)

// A world is the device as one candidate has it: a set of faults still there.
// The planner numbers the worlds it meets and remembers what moves do in each.
type world struct {
	modes   []int // ascending; empty: all is well
	unknown bool  // the fault the note does not know
	state   belief.World
	passes  float64     // chance that the test of the whole passes
	after   [][]drift   // per repair: the worlds it leads to; nil until asked
	helps   []help      // the repairs that change the chance of passing; nil until asked
	tells   [][]float64 // per check: chance of each of its results; nil until asked
}

// drift is one world a repair may lead to.
type drift struct {
	id int
	p  float64
}

// help is what one repair adds to the chance that the test passes.
type help struct {
	r    int
	gain float64
}

// A lot is a belief as the planner carries it: weighted worlds, weights summing to 1.
type lot struct {
	ids []int
	w   []float64
}

// worlds hands out numbers for worlds. World 0 is the sound device, world 1 the unknown fault.
type worlds struct {
	e      *belief.Engine
	list   []*world
	index  map[string]int
	hidden []float64 // per mode: chance that the test passes with only this fault there
	whole  []float64 // per repair: chance that it clears the unknown fault
	checks []checkPlan

	seat  []seat // scratch of repair: where a world sits in the lot being made
	stamp int
}

type seat struct{ stamp, at int }

const (
	soundWorld   = 0
	unknownWorld = 1
)

func newWorlds(ctx context.Context, e *belief.Engine) (*worlds, error) {
	m := e.Model()
	ws := &worlds{e: e, index: map[string]int{}}
	ws.hidden = make([]float64, len(m.Modes))
	for i := range m.Modes {
		ws.hidden[i] = ws.symptomFree([]int{i})
	}
	ws.wholeRepairs()
	ws.id(nil)
	ws.list = append(ws.list, ws.fresh(nil, true))
	return ws, nil
}

// symptomFree is the chance that none of the device's symptoms shows with the
// given faults, beyond what shows in a sound device anyway.
func (ws *worlds) symptomFree(modes []int) float64 {
	m := ws.e.Model()
	w, sound := ws.e.World(modes), ws.e.World(nil)
	free := 1.0
	for f := range m.Findings {
		if m.Findings[f].Check >= 0 || m.Findings[f].Kind != 0 {
			continue
		}
		quiet := ws.e.Chances(w, f)[1]
		if q := ws.e.Chances(sound, f)[1]; q > 0 {
			free *= math.Min(1, quiet/q)
		}
	}
	return free
}

// wholeRepairs gives a swap of a whole block its share of the faults the note
// does not know: the block's share of the prior odds, and four in five of those.
func (ws *worlds) wholeRepairs() {
	m := ws.e.Model()
	unit := map[int]float64{}
	all := 0.0
	for i := range m.Modes {
		unit[m.Parts[m.Modes[i].Part].Unit] += m.Modes[i].Odds
		all += m.Modes[i].Odds
	}
	ws.whole = make([]float64, len(m.Repairs))
	for r := range m.Repairs {
		if m.Repairs[r].Whole && all > 0 {
			ws.whole[r] = 0.8 * unit[m.Repairs[r].Unit] / all
		}
	}
}

func (ws *worlds) fresh(modes []int, unknown bool) *world {
	m := ws.e.Model()
	w := &world{modes: modes, unknown: unknown, state: ws.e.World(modes), passes: 1}
	w.after = make([][]drift, len(m.Repairs))
	for _, i := range modes {
		w.passes *= ws.hidden[i]
	}
	if unknown {
		w.passes = 0
	}
	return w
}

// id numbers the world with the given modes.
func (ws *worlds) id(modes []int) int {
	key := make([]byte, 2*len(modes))
	for k, i := range modes {
		key[2*k], key[2*k+1] = byte(i), byte(i>>8)
	}
	if id, ok := ws.index[string(key)]; ok {
		return id
	}
	id := len(ws.list)
	ws.list = append(ws.list, ws.fresh(slices.Clone(modes), false))
	ws.index[string(key)] = id
	return id
}

// drifts returns the worlds that repair r may lead to from world id.
func (ws *worlds) drifts(id, r int) []drift {
	w := ws.list[id]
	if w.after[r] == nil {
		w.after[r] = ws.repaired(w, id, r)
	}
	return w.after[r]
}

// repaired works out, mode by mode, what a repair does: each mode it clears
// goes with its success unless a cause that stays brings it back at once.
func (ws *worlds) repaired(w *world, id, r int) []drift {
	m := ws.e.Model()
	rep := &m.Repairs[r]
	if w.unknown {
		if p := ws.whole[r]; p > 0 {
			return []drift{{id, 1 - p}, {soundWorld, p}}
		}
		return []drift{{id, 1}}
	}
	type partial struct {
		modes []int
		p     float64
	}
	now := []partial{{nil, 1}}
	for _, i := range w.modes { // causes before consequences
		success := 0.0
		for _, c := range rep.Clears {
			if c.Mode == i {
				success = math.Max(success, c.Success)
			}
		}
		var next []partial
		for _, x := range now {
			again := 1.0
			for _, c := range m.Modes[i].Causes {
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
	var out []drift
	for _, x := range now {
		out = append(out, drift{ws.id(x.modes), x.p})
		if h := rep.Harms; h >= 0 && rep.Harm > 0 && !slices.Contains(x.modes, h) {
			out[len(out)-1].p *= 1 - rep.Harm
			hurt := append(slices.Clone(x.modes), h)
			slices.Sort(hurt)
			out = append(out, drift{ws.id(hurt), x.p * rep.Harm})
		}
	}
	return out
}

// helpful lists the repairs that change the chance of passing in world id.
func (ws *worlds) helpful(id int) []help {
	w := ws.list[id]
	if w.helps == nil {
		w.helps = []help{}
		for r := range ws.e.Model().Repairs {
			p := 0.0
			for _, d := range ws.drifts(id, r) {
				p += d.p * ws.list[d.id].passes
			}
			if gain := p - w.passes; gain != 0 {
				w.helps = append(w.helps, help{r, gain})
			}
		}
	}
	return w.helps
}

// repair returns the lot after repair r.
func (ws *worlds) repair(b lot, r int) lot {
	out := lot{ids: make([]int, 0, len(b.ids)+4), w: make([]float64, 0, len(b.ids)+4)}
	ws.stamp++
	for k, id := range b.ids {
		for _, d := range ws.drifts(id, r) {
			for len(ws.seat) < len(ws.list) {
				ws.seat = append(ws.seat, seat{})
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

// scaled multiplies the weights and normalises; worlds that get no weight drop out.
func (b lot) scaled(by func(id int) float64) lot {
	out := lot{ids: make([]int, 0, len(b.ids)), w: make([]float64, 0, len(b.ids))}
	sum := 0.0
	for k, id := range b.ids {
		if w := b.w[k] * by(id); w > 0 {
			out.ids = append(out.ids, id)
			out.w = append(out.w, w)
			sum += w
		}
	}
	for k := range out.w {
		out.w[k] /= sum
	}
	return out
}
