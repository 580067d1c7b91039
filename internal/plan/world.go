package plan

import (
	"math"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A world is the device as one candidate has it: a set of faults still there,
// and whether any of them shows when the whole is tried. The planner numbers the
// worlds it meets and remembers what moves do in each.
//
// A fault shows in no symptom with a chance of its own (hidden). That is drawn
// once, not at every test: a device that has failed its test fails it again until
// something is repaired. So a repair that takes the faults from S to S' leaves a
// failing device failing with chance (1-Π_S' hidden)/(1-Π_S hidden).
type world struct {
	modes   []int // ascending; empty: all is well
	unknown bool  // the fault the note does not know
	state   belief.World
	passes  float64   // 1 if the test of the whole passes, else 0
	after   [][]drift // per repair: the worlds it leads to; nil until asked
	helps   []help    // the repairs that change the chance of passing; nil until asked
	least   []float64 // per access: what it costs at least when known; nil or 0 until asked
	matters []int     // the repairs that matter to it; nil until asked
}

// drift is one world a repair may lead to.
type drift struct {
	id int
	p  float64
}

// help is what one repair adds to the chance that the test passes, and how far
// it goes towards that when several faults have to be cleared.
type help struct {
	r          int
	gain, part float64
}

// worlds hands out numbers for worlds. World 0 is the sound device, world 1 the unknown fault.
type worlds struct {
	e      *belief.Engine
	list   []*world
	index  map[string]int
	hidden []float64 // per mode: chance that it shows in no symptom
	whole  []float64 // per repair: chance that it clears the unknown fault
	checks []checkPlan
	told   [][][]float64 // per check and world: the chances of its results, nil until asked
	still  []bits        // per repair: the worlds it is known to leave as they are
	looks  [][]look      // per repair
	made   bits          // repairs made before
	relaid bool          // the last belief came with another layout of checks or other looks than the one before

	seat  []seat // scratch of repair: where a world sits in the lot being made
	stamp int
	scrap scrap
}

type seat struct{ stamp, at int }

const (
	soundWorld   = 0
	unknownWorld = 1
)

func newWorlds(e *belief.Engine) *worlds {
	m := e.Model()
	ws := &worlds{e: e, index: map[string]int{}, made: newBits(len(m.Repairs)), still: make([]bits, len(m.Repairs))}
	ws.hidden = make([]float64, len(m.Modes))
	for i := range m.Modes {
		ws.hidden[i] = ws.symptomFree([]int{i})
	}
	if ws.hides(allModes(m)) == 1 { // no symptom at all: then every fault counts
		clear(ws.hidden)
	}
	ws.wholeRepairs()
	ws.id(nil, false)
	ws.list = append(ws.list, ws.fresh(nil, true, true))
	return ws
}

func allModes(m *note.Model) []int {
	all := make([]int, len(m.Modes))
	for i := range all {
		all[i] = i
	}
	return all
}

// hides is the chance that none of the modes shows.
func (ws *worlds) hides(modes []int) float64 {
	p := 1.0
	for _, i := range modes {
		p *= ws.hidden[i]
	}
	return p
}

// fails is the chance that a device which failed its test with the modes before
// fails it with the modes after.
func (ws *worlds) fails(before, after []int) float64 {
	if len(after) == 0 {
		return 0
	}
	old := 1 - ws.hides(before)
	if old < 1e-12 {
		return 1
	}
	return math.Min(1, (1-ws.hides(after))/old)
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

func (ws *worlds) fresh(modes []int, unknown, fails bool) *world {
	w := &world{modes: modes, unknown: unknown, state: ws.e.World(modes), passes: 1}
	w.after = make([][]drift, len(ws.e.Model().Repairs))
	if fails {
		w.passes = 0
	}
	return w
}

// id numbers the world with the given modes that fails its test, or passes it.
func (ws *worlds) id(modes []int, fails bool) int {
	key := make([]byte, 2*len(modes), 2*len(modes)+1)
	for k, i := range modes {
		key[2*k], key[2*k+1] = byte(i), byte(i>>8)
	}
	if fails {
		key = append(key, 1)
	}
	if id, ok := ws.index[string(key)]; ok {
		return id
	}
	id := len(ws.list)
	ws.list = append(ws.list, ws.fresh(slices.Clone(modes), false, fails))
	ws.index[string(key)] = id
	return id
}

// drifts returns the worlds that repair r may lead to from world id.
func (ws *worlds) drifts(id, r int) []drift {
	w := ws.list[id]
	if w.after[r] == nil {
		w.after[r] = ws.repaired(w, id, r)
		if d := w.after[r]; len(d) == 1 && d[0] == (drift{id, 1}) {
			for len(ws.still[r]) <= id/64 {
				ws.still[r] = append(ws.still[r], 0)
			}
			ws.still[r].set(id)
		}
	}
	return w.after[r]
}

// helpful lists the repairs that bring world id nearer to passing.
func (ws *worlds) helpful(id int) []help {
	if h := ws.list[id].helps; h != nil {
		return h
	}
	return ws.helped(id)
}

func (ws *worlds) helped(id int) []help {
	w := ws.list[id]
	if w.helps == nil {
		w.helps = []help{}
		for r := range ws.e.Model().Repairs {
			pass, gone := 0.0, 0.0
			for _, d := range ws.drifts(id, r) {
				to := ws.list[d.id]
				pass += d.p * to.passes
				gone += d.p * ws.nearer(w, to)
			}
			if gain := pass - w.passes; gain != 0 || gone > 0 {
				w.helps = append(w.helps, help{r, gain, math.Max(gain, gone)})
			}
		}
	}
	return w.helps
}

// nearer is how much of the way from a failing world to one that passes is made
// when world to is reached: by the number of faults gone.
func (ws *worlds) nearer(from, to *world) float64 {
	switch {
	case from.passes == 1:
		return 0
	case to.passes == 1:
		return 1
	case from.unknown || len(to.modes) >= len(from.modes):
		return 0
	default:
		return 1 - float64(len(to.modes))/float64(len(from.modes))
	}
}
