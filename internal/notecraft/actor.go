package notecraft

import (
	"fmt"
	"math"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// follow adds to the faults, drawn by the note's chances, the damage they bring.
// Modes stand after their causes, so one pass is enough.
func (a *actor) follow(roots []int) []int {
	there := slices.Clone(roots)
	for i := range a.m.Modes {
		if slices.Contains(there, i) {
			continue
		}
		for _, c := range a.m.Modes[i].Causes {
			if slices.Contains(there, c.Mode) && a.dice.Float64() < c.Chance {
				there = append(there, i)
				break
			}
		}
	}
	slices.Sort(there)
	return there
}

// bringBack adds those of the repaired modes that causes still there bring about again.
func (a *actor) bringBack(left []int, rep *note.Repair) []int {
	slices.Sort(left)
	for _, i := range sortedClears(rep) {
		if slices.Contains(left, i) || !slices.Contains(a.there, i) {
			continue
		}
		for _, c := range a.m.Modes[i].Causes {
			if slices.Contains(left, c.Mode) && a.dice.Float64() < c.Chance {
				left = append(left, i)
				break
			}
		}
	}
	slices.Sort(left)
	return left
}

func sortedClears(rep *note.Repair) []int {
	var out []int
	for _, c := range rep.Clears {
		out = append(out, c.Mode)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// noticed is the least by which a symptom must be likelier than in a sound
// device to count as one of this fault.
const noticed = 0.05

// complain states what somebody would say who brings the device: the symptoms
// that show. It reports false if the fault shows in none.
func (a *actor) complain() bool {
	w, sound := a.e.World(a.there), a.e.World(nil)
	best, gain := -1, noticed
	for f := range a.m.Findings {
		if a.m.Findings[f].Check >= 0 {
			continue
		}
		p, q := a.e.Chances(w, f), a.e.Chances(sound, f)
		d := apart(p, q)
		if d > gain {
			best, gain = f, d
		}
		if d <= noticed && !a.o.Denied {
			continue
		}
		if a.m.Findings[f].Kind != note.Sign {
			a.state(f, a.value(f, p))
			continue
		}
		shows := p[0] > 0.5
		if a.o.Drawn {
			shows = a.dice.Float64() < p[0]
		}
		if shows || a.o.Denied {
			a.state(f, sign(shows))
		}
	}
	if best < 0 {
		return false
	}
	if len(a.run.Shown) == 0 { // none is likely, but something made them bring it
		if a.m.Findings[best].Kind != note.Sign {
			a.state(best, a.value(best, a.e.Chances(w, best)))
		} else {
			a.state(best, belief.Observation{Value: 1})
		}
	}
	return true
}

func sign(shows bool) belief.Observation {
	if shows {
		return belief.Observation{Value: 1}
	}
	return belief.Observation{}
}

// state puts an observation into the evidence and the history.
func (a *actor) state(f int, o belief.Observation) {
	o.Finding, o.Epoch = f, len(a.ev.Acts)
	x := &a.m.Findings[f]
	if x.Check < 0 && o.Epoch == 0 && (x.Kind != note.Sign || o.Value == 1) {
		a.run.Shown = append(a.run.Shown, f)
	}
	a.ev = a.ev.With(o)
	fmt.Fprintf(&a.trace, "%d=%d/%g,", f, o.Value, o.Number)
}

// look draws how the finding comes out in the world as it is.
func (a *actor) look(f int) {
	a.state(f, a.value(f, a.e.Chances(a.e.World(a.there), f)))
}

// value draws an observation. A number is the middle of the range that was
// drawn: what it speaks for is drawn, how strongly is not, so that histories repeat.
func (a *actor) value(f int, p []float64) belief.Observation {
	k, u := 0, a.dice.Float64()
	for ; k < len(p)-1 && u >= p[k]; k++ {
		u -= p[k]
	}
	out := a.e.Outcomes(f)[k]
	if x := &a.m.Findings[f]; x.Kind == note.Reading {
		return belief.Observation{Number: quantile(x.Dist[out.State], 0.5)}
	}
	return belief.Observation{Value: out.Value}
}

// symptomFree is the chance that nothing shows of the faults, beyond what shows
// in a sound device anyway. The planner tests the whole by the same rule.
func (a *actor) symptomFree(modes []int) float64 {
	if len(modes) == 0 {
		return 1
	}
	w, sound := a.e.World(modes), a.e.World(nil)
	free := 1.0
	for f := range a.m.Findings {
		if a.m.Findings[f].Check >= 0 || a.m.Findings[f].Kind != note.Sign {
			continue
		}
		if q := a.e.Chances(sound, f)[1]; q > 0 {
			free *= math.Min(1, a.e.Chances(w, f)[1]/q)
		}
	}
	return free
}

// showAgain states, after a test that failed, what shows now of what was complained of;
// at least one thing does.
func (a *actor) showAgain() {
	w := a.e.World(a.there)
	some, best, top := false, -1, -1.0
	draws := make([]bool, len(a.run.Shown))
	for k, f := range a.run.Shown {
		if a.m.Findings[f].Kind != note.Sign {
			continue
		}
		p := a.e.Chances(w, f)[0]
		draws[k] = p > 0.5
		if a.o.Drawn {
			draws[k] = a.dice.Float64() < p
		}
		some = some || draws[k]
		if p > top {
			best, top = k, p
		}
	}
	for k, f := range a.run.Shown {
		if a.m.Findings[f].Kind != note.Sign {
			a.look(f)
			continue
		}
		a.state(f, sign(draws[k] || !some && k == best))
	}
	a.trace.WriteByte(';')
}

// apart is how far two distributions over the same outcomes are from each other,
// from 0 to 1 (total variation).
func apart(p, q []float64) float64 {
	d := 0.0
	for i := range p {
		d += math.Abs(p[i]-q[i]) / 2
	}
	return d
}
