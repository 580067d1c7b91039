package belief_test

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// exhaustive is the judge of the engine: it multiplies out the joint of every
// history of every set of modes over all epochs, straight from the semantics,
// sharing no code with the engine. Only for a handful of modes.
type exhaustive struct {
	m  *note.Model
	ev belief.Evidence
}

type verdict struct {
	total      float64 // P(evidence, something wrong) relative to nothing wrong
	first, now []float64
}

func (x exhaustive) solve(allowNone bool) verdict {
	n := len(x.m.Modes)
	v := verdict{first: make([]float64, n), now: make([]float64, n)}
	epochs := len(x.ev.Acts) + 1
	sets := make([]int, epochs)
	var walk func(k int, w float64)
	walk = func(k int, w float64) {
		if w == 0 {
			return
		}
		if k == epochs {
			v.total += w
			for i := range n {
				if sets[0]>>i&1 == 1 {
					v.first[i] += w
				}
				if sets[epochs-1]>>i&1 == 1 {
					v.now[i] += w
				}
			}
			return
		}
		for s := range 1 << n {
			if k == 0 && s == 0 && !allowNone {
				continue
			}
			sets[k] = s
			p := w
			if k == 0 {
				p *= x.arrive(s)
			} else {
				p *= x.change(k-1, sets[k-1], s)
			}
			walk(k+1, p*x.see(k, s))
		}
	}
	walk(0, 1)
	for i := range n {
		v.first[i] /= v.total
		v.now[i] /= v.total
	}
	return v
}

func (x exhaustive) brought(i, set int) float64 {
	q := 1.0
	for _, c := range x.m.Modes[i].Causes {
		if set>>c.Mode&1 == 1 {
			q *= 1 - c.Chance
		}
	}
	return 1 - q
}

func (x exhaustive) arrive(set int) float64 {
	w := 1.0
	for i := range x.m.Modes {
		b := x.brought(i, set)
		if set>>i&1 == 1 {
			w *= x.m.Modes[i].Odds + b
		} else {
			w *= 1 - b
		}
	}
	return w
}

func (x exhaustive) change(act, from, to int) float64 {
	w := 1.0
	for i := range x.m.Modes {
		was := from>>i&1 == 1
		p := 0.0
		if was {
			p = 1
		}
		if r := x.ev.Acts[act].Repair; r >= 0 {
			rep := x.m.Repairs[r]
			for _, c := range rep.Clears {
				if c.Mode == i && was {
					p = (1 - c.Success) + c.Success*x.brought(i, to)
				}
			}
			if rep.Harms == i {
				p += (1 - p) * rep.Harm
			}
		}
		if to>>i&1 == 0 {
			p = 1 - p
		}
		w *= p
	}
	return w
}

func (x exhaustive) see(epoch, set int) float64 {
	st := make([]int, len(x.m.Conditions))
	for c := range x.m.Conditions {
		for i := range x.m.Modes {
			for _, e := range x.m.Modes[i].Effects {
				if set>>i&1 == 1 && e.Cond == c {
					st[c] = max(st[c], e.State)
				}
			}
		}
		for _, l := range x.m.Conditions[c].From {
			st[c] = max(st[c], l.Map[st[l.Cond]])
		}
	}
	w := 1.0
	for _, o := range x.ev.Seen {
		if o.Epoch != epoch {
			continue
		}
		f := x.m.Findings[o.Finding]
		switch f.Kind {
		case note.Pick:
			w *= f.Table[st[f.Cond]][o.Value]
		case note.Reading:
			w *= bell(f.Dist, st[f.Cond], o.Number)
		default:
			q := 1 - f.Leak
			for _, t := range f.Trigger {
				if t.Mode >= 0 && set>>t.Mode&1 == 1 || t.Mode < 0 && t.States>>uint(st[t.Cond])&1 == 1 {
					q *= 1 - t.Chance
				}
			}
			w *= counted(1-q, o.Value, max(1, o.Of))
		}
	}
	return w
}

// counted is the chance of k shows in n looks in one order: ∫ x^k·(1-x)^(n-k) over the Beta(2p, 2(1-p)) that
// a device's own chance x follows, by the logarithms of the beta functions.
func counted(p float64, k, n int) float64 {
	switch {
	case p == 0 || p == 1:
		return map[bool]float64{true: 1}[k == int(p)*n]
	default:
		return math.Exp(mathext.Lbeta(2*p+float64(k), 2*(1-p)+float64(n-k)) - mathext.Lbeta(2*p, 2*(1-p)))
	}
}

// bell is a normal reading's density, 90 % from low to high, with a 2 % chance
// of a slip, relative to the likeliest state.
func bell(dist []note.Dist, state int, v float64) float64 {
	d := make([]float64, len(dist))
	mean, top := 0.0, 0.0
	for i, x := range dist {
		sd := (x.High - x.Low) / (2 * 1.6448536269514722)
		z := (v - (x.High+x.Low)/2) / sd
		d[i] = math.Exp(-z*z/2) / sd
		mean += d[i] / float64(len(dist))
	}
	for i := range d {
		d[i] = 0.98*d[i] + 0.02*mean
		top = math.Max(top, d[i])
	}
	return d[state] / top
}
