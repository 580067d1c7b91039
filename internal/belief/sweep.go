package belief

import (
	"context"
	"math"
	"slices"
)

// A sweep is a program run forward and backward: the exact sum over all
// candidates, up to the mass reported in dropped.
type sweep struct {
	p      *program
	layers []layer
	scale  []float64 // ln of what each layer's weights were divided by, cumulative
	back   [][]float64
	logZ   float64
	// dropped bounds ln of the mass of the states pruned, relative to nothing (the scale of logZ); -Inf if none.
	dropped float64
}

func (p *program) run(ctx context.Context, maxStates int) (*sweep, error) {
	s := &sweep{p: p, dropped: math.Inf(-1)}
	s.layers = make([]layer, len(p.steps)+1)
	s.scale = make([]float64, len(p.steps)+1)
	s.layers[0] = layer{words: p.words, rows: make([]uint64, p.words), weight: []float64{1}}
	growth := p.growth()
	var g gatherer
	for t := range p.steps {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s.layers[t+1] = p.advance(&p.steps[t], &s.layers[t], &g)
		s.normalise(t + 1)
		if s.layers[t+1].len() > maxStates {
			lost := s.prune(t+1, maxStates)
			s.dropped = logAdd(s.dropped, lost+growth[t+1])
		}
	}
	s.backward()
	return s, nil
}

// growth is, per layer, ln of the most that the steps ahead can multiply a state's weight by.
func (p *program) growth() []float64 {
	g := make([]float64, len(p.steps)+1)
	for t := len(p.steps) - 1; t >= 0; t-- {
		sum := 0.0
		for _, o := range p.steps[t].options {
			sum += o.weight
		}
		g[t] = g[t+1] + math.Log(math.Max(1, sum))
	}
	return g
}

// advance applies one step to every state of a layer.
func (p *program) advance(st *step, from *layer, g *gatherer) layer {
	to := layer{words: p.words}
	to.rows = make([]uint64, 0, len(from.rows))
	to.weight = make([]float64, 0, from.len())
	from.start = make([]int32, 0, from.len()+1)
	from.edges = make([]edge, 0, from.len()*max(1, len(st.options)))
	g.reset(from.len())
	scratch := make(row, p.words)
	for i := range from.len() {
		from.start = append(from.start, int32(len(from.edges)))
		st.apply(from.row(i), scratch, func(o int, w float64) {
			id := g.add(&to, scratch, w*from.weight[i])
			from.edges = append(from.edges, edge{id, int32(o), w})
		})
	}
	from.start = append(from.start, int32(len(from.edges)))
	return to
}

// apply calls emit with scratch set to each successor of r, and its weight.
// Option -1 stands for passing through.
func (st *step) apply(r, scratch row, emit func(option int, weight float64)) {
	if st.settle != nil {
		copy(scratch, r)
		if w := st.settle.apply(scratch); w > 0 {
			st.forget(scratch)
			emit(-1, w)
		}
		return
	}
	if !st.meets(r) {
		copy(scratch, r)
		st.forget(scratch)
		emit(-1, 1)
		return
	}
	for o := range st.options {
		opt := &st.options[o]
		if opt.weight == 0 {
			continue
		}
		copy(scratch, r)
		for _, x := range opt.raise {
			x.f.raise(scratch, x.v)
		}
		for _, x := range opt.put {
			x.f.put(scratch, x.v)
		}
		st.forget(scratch)
		emit(o, opt.weight)
	}
}

func (st *step) meets(r row) bool {
	for _, f := range st.guard {
		if f.get(r) == 0 {
			return false
		}
	}
	for _, f := range st.unless {
		if f.get(r) != 0 {
			return false
		}
	}
	return true
}

func (st *step) forget(r row) {
	for _, f := range st.clear {
		f.put(r, 0)
	}
}

// apply settles the node in r and returns the likelihood of what it judges.
func (s *settle) apply(r row) float64 {
	for _, f := range s.from {
		s.self.raise(r, f.to[f.f.get(r)])
	}
	w := 1.0
	for i := range s.looks {
		j := &s.looks[i]
		struck := j.spark != nil && j.spark.get(r) == 1
		extra := 1.0
		for _, m := range j.marks {
			if m.f.get(r) == 1 {
				extra *= 1 - m.chance
			}
		}
		w *= j.l.likelihood(func(cond int) int { return j.nodes[cond].get(r) }, struck, extra)
	}
	return w
}

// normalise divides a layer's weights by their largest.
func (s *sweep) normalise(t int) {
	l := &s.layers[t]
	top := 0.0
	for _, w := range l.weight {
		top = math.Max(top, w)
	}
	s.scale[t] = s.scale[t-1]
	if top == 0 {
		return
	}
	for i := range l.weight {
		l.weight[i] /= top
	}
	s.scale[t] += math.Log(top)
}

// prune keeps the heaviest states of layer t and returns ln of the weight lost.
func (s *sweep) prune(t, keep int) float64 {
	l := &s.layers[t]
	order := make([]int32, l.len())
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int {
		switch {
		case l.weight[a] > l.weight[b]:
			return -1
		case l.weight[a] < l.weight[b]:
			return 1
		}
		return int(a - b)
	})
	lost := 0.0
	moved := make([]int32, l.len())
	next := layer{words: l.words}
	for k, i := range order {
		if k >= keep {
			lost += l.weight[i]
			moved[i] = -1
			continue
		}
		moved[i] = int32(next.len())
		next.rows = append(next.rows, l.row(int(i))...)
		next.weight = append(next.weight, l.weight[i])
	}
	s.layers[t] = next
	s.reroute(&s.layers[t-1], moved)
	return math.Log(lost) + s.scale[t]
}

// reroute points the edges of a layer at the states kept.
func (s *sweep) reroute(l *layer, moved []int32) {
	edges := l.edges[:0]
	start := make([]int32, 0, len(l.start))
	for i := range l.len() {
		start = append(start, int32(len(edges)))
		for _, e := range l.edges[l.start[i]:l.start[i+1]] {
			if moved[e.to] >= 0 {
				e.to = moved[e.to]
				edges = append(edges, e)
			}
		}
	}
	l.start, l.edges = append(start, int32(len(edges))), edges
}

// backward computes, per state, the weight of all its completions, and logZ.
func (s *sweep) backward() {
	s.back = make([][]float64, len(s.layers))
	last := len(s.layers) - 1
	end := &s.layers[last]
	s.back[last] = make([]float64, end.len())
	z := 0.0
	for i := range end.len() {
		if s.p.none || s.p.any.get(end.row(i)) == 1 {
			s.back[last][i] = 1
			z += end.weight[i]
		}
	}
	s.logZ = math.Log(z) + s.scale[last]
	for t := last - 1; t >= 0; t-- {
		l := &s.layers[t]
		b := make([]float64, l.len())
		top := 0.0
		for i := range b {
			for _, e := range l.edges[l.start[i]:l.start[i+1]] {
				b[i] += e.weight * s.back[t+1][e.to]
			}
			top = math.Max(top, b[i])
		}
		if top > 0 {
			for i := range b {
				b[i] /= top
			}
		}
		s.back[t] = b
	}
}

// marginals returns, per mode, the chance that it was present in epoch 0 and
// that it is present in the last one, given a fault the note knows.
func (s *sweep) marginals() (first, now []float64) {
	n := s.p.n
	first = make([]float64, len(n.m.Modes))
	now = make([]float64, len(n.m.Modes))
	for t := range s.p.steps {
		st := &s.p.steps[t]
		if !st.tally {
			continue
		}
		chance := s.presence(t)
		if st.run == 0 {
			first[st.mode] = chance
		}
		if st.run == len(n.runs[st.mode])-1 {
			now[st.mode] = chance
		}
	}
	return first, now
}

// presence is the share of all candidates that pass step t by a present option.
func (s *sweep) presence(t int) float64 {
	st, l := &s.p.steps[t], &s.layers[t]
	with, all := 0.0, 0.0
	for i := range l.len() {
		for _, e := range l.edges[l.start[i]:l.start[i+1]] {
			flow := l.weight[i] * e.weight * s.back[t+1][e.to]
			all += flow
			if e.option >= 0 && st.options[e.option].present {
				with += flow
			}
		}
	}
	if all == 0 {
		return 0
	}
	return with / all
}

func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}
