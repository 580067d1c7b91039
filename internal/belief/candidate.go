package belief

import (
	"container/heap"
	"math"
	"slices"
)

// A trail is how one candidate was found: the choices that differ from the best
// completion, as a linked list of deviations.
type trail struct {
	parent *trail
	step   int   // the step at which it leaves its parent's best path
	edge   int32 // the edge taken there
	log    float64
}

type trailHeap []*trail

func (h trailHeap) Len() int           { return len(h) }
func (h trailHeap) Less(i, j int) bool { return h[i].log > h[j].log }
func (h trailHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *trailHeap) Push(x any)        { *h = append(*h, x.(*trail)) }
func (h *trailHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}

// presence is, per mode of one candidate, the runs in which it is there.
type presence struct {
	mode int
	runs runSet
}

// runSet is a set of runs: there are as many as a mode has been repaired, and one more.
type runSet []uint64

func (s runSet) has(run int) bool { return run/64 < len(s) && s[run/64]>>uint(run%64)&1 == 1 }

func (s runSet) with(run int) runSet {
	for len(s) <= run/64 {
		s = append(s, 0)
	}
	s[run/64] |= 1 << uint(run%64)
	return s
}

// generator lists candidates best-first: a sweep's layers form a graph whose
// paths are candidates, and the backward max-product gives the exact weight of
// the best completion of every state, so each new path is the best not yet seen.
type generator struct {
	s    *sweep
	logs [][]float64 // ln weight of every edge
	best [][]float64 // ln weight of the best completion
	heap trailHeap
}

func newGenerator(s *sweep) *generator {
	g := &generator{s: s, logs: make([][]float64, len(s.layers)), best: make([][]float64, len(s.layers))}
	last := len(s.layers) - 1
	end := &s.layers[last]
	g.best[last] = make([]float64, end.len())
	for i := range end.len() {
		if !s.p.none && s.p.any.get(end.row(i)) == 0 {
			g.best[last][i] = math.Inf(-1)
		}
	}
	for t := last - 1; t >= 0; t-- {
		l := &s.layers[t]
		g.best[t] = make([]float64, l.len())
		g.logs[t] = make([]float64, len(l.edges))
		for i := range g.best[t] {
			top := math.Inf(-1)
			for k := l.start[i]; k < l.start[i+1]; k++ {
				e := l.edges[k]
				if e.weight != 1 {
					g.logs[t][k] = math.Log(e.weight)
				}
				top = max(top, g.logs[t][k]+g.best[t+1][e.to])
			}
			g.best[t][i] = top
		}
	}
	if root := g.best[0][0]; !math.IsInf(root, -1) {
		heap.Push(&g.heap, &trail{step: -1, log: root})
	}
	return g
}

// next returns the best path not yet returned, as the presence of its modes, or
// false when there is none.
func (g *generator) next(floor float64) ([]presence, bool) {
	if len(g.heap) == 0 {
		return nil, false
	}
	t := heap.Pop(&g.heap).(*trail)
	return g.follow(t, floor), true
}

// follow walks a trail to its end, and puts on the heap every way to leave it
// after its last deviation whose weight is within floor of the best of all.
func (g *generator) follow(t *trail, floor float64) []presence {
	var turns []*trail
	for x := t; x.parent != nil; x = x.parent {
		turns = append(turns, x)
	}
	slices.Reverse(turns)
	var found []presence
	state, soFar := int32(0), 0.0
	for at := range g.s.p.steps {
		l := &g.s.layers[at]
		from, to := l.start[state], l.start[state+1]
		pick := g.argmax(at, from, to)
		if len(turns) > 0 && turns[0].step == at {
			pick = turns[0].edge
			turns = turns[1:]
		} else if at > t.step && to-from > 1 {
			g.branch(t, at, from, to, pick, soFar, floor)
		}
		e := l.edges[pick]
		if st := &g.s.p.steps[at]; st.tally && e.option >= 0 && st.options[e.option].present {
			found = addPresence(found, st.mode, st.run)
		}
		soFar += g.logs[at][pick]
		state = e.to
	}
	return found
}

// argmax is the edge among from…to of layer at with the best completion.
func (g *generator) argmax(at int, from, to int32) int32 {
	if to-from == 1 {
		return from
	}
	pick, top := from, math.Inf(-1)
	edges, logs, best := g.s.layers[at].edges, g.logs[at], g.best[at+1]
	for k := from; k < to; k++ {
		if w := logs[k] + best[edges[k].to]; w > top {
			pick, top = k, w
		}
	}
	return pick
}

func (g *generator) branch(t *trail, at int, from, to, pick int32, soFar, floor float64) {
	edges := g.s.layers[at].edges
	for k := from; k < to; k++ {
		if k == pick {
			continue
		}
		if w := soFar + g.logs[at][k] + g.best[at+1][edges[k].to]; w >= floor {
			heap.Push(&g.heap, &trail{parent: t, step: at, edge: k, log: w})
		}
	}
}

func addPresence(list []presence, mode, run int) []presence {
	for i := range list {
		if list[i].mode == mode {
			list[i].runs = list[i].runs.with(run)
			return list
		}
	}
	return append(list, presence{mode, runSet(nil).with(run)})
}
