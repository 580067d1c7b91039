package belief

import "math"

// joint is ln of the weight of one candidate: prior odds of its modes, what
// repairs did to them, and the likelihood of every observation. It is the plain
// formula of the package comment, without any of the sharing of a sweep.
func (n *network) joint(c []presence) float64 {
	runs := make([]runSet, len(n.m.Modes))
	for _, p := range c {
		runs[p.mode] = p.runs
	}
	there := func(mode, epoch int) bool {
		if runs[mode] == nil {
			return false
		}
		for r, x := range n.runs[mode] {
			if epoch <= x.last {
				return runs[mode].has(r)
			}
		}
		return false
	}
	w := 0.0
	for i := range n.m.Modes {
		if runs[i] != nil || len(n.m.Modes[i].Causes) > 0 || len(n.runs[i]) > 1 {
			w += n.priorLog(i, runs[i], there)
		}
	}
	states := make([][]int, n.epochs)
	for e := range states {
		states[e] = conditionStates(n.m, func(mode int) bool { return there(mode, e) })
	}
	for k := range n.looks {
		l := &n.looks[k]
		extra, struck := 1.0, 1.0
		for _, t := range l.direct {
			if there(t.Mode, l.Epoch) {
				struck *= 1 - t.Chance
			}
		}
		state := func(cond int) int { return states[l.Epoch][cond] }
		switch {
		case l.counted():
			extra = struck
			w += math.Log(l.likelihood(state, false, extra))
		case len(l.direct) > 0:
			shows := 1 - (1-signChance(l.f, state))*struck
			if l.Value == 0 {
				shows = 1 - shows
			}
			w += math.Log(shows)
		default:
			w += math.Log(l.likelihood(state, false, extra))
		}
	}
	return w
}

// priorLog is ln of the weight of mode i being present in just these runs.
func (n *network) priorLog(i int, runs runSet, there func(mode, epoch int) bool) float64 {
	m := &n.m.Modes[i]
	brought := func(epoch int) float64 { // chance that a cause brings it about
		quiet := 1.0
		for _, c := range m.Causes {
			if there(c.Mode, epoch) {
				quiet *= 1 - c.Chance
			}
		}
		return 1 - quiet
	}
	was := runs.has(0)
	w := math.Log(1 - brought(0))
	if was {
		w = math.Log(m.Odds + brought(0))
	}
	for r := 1; r < len(n.runs[i]); r++ {
		is := runs.has(r)
		p := n.changeChance(i, r, was, brought)
		if !is {
			p = 1 - p
		}
		w += math.Log(p)
		was = is
	}
	return w
}

// changeChance is the chance that mode i is present in run r, given whether it was before.
func (n *network) changeChance(i, r int, was bool, brought func(epoch int) float64) float64 {
	rep, success := n.repairBefore(i, r), n.success(i, r)
	harm := 0.0
	if rep.Harms == i {
		harm = rep.Harm
	}
	after := harm
	if was {
		again := brought(n.runs[i][r].first)
		stays := 1 - success + success*again
		after = stays + (1-stays)*harm
	}
	return after
}
