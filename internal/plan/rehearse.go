package plan

import (
	"container/heap"
	"context"
	"sort"

	"fettler/internal/belief"
)

// A Step is one node of the policy laid out in advance: what to do there, what
// it costs, and what follows from each result.
type Step struct {
	Move     Move
	Cost     Cost
	P        float64 // chance of ever getting here
	Total    float64 // expected cost from here on
	Tops     []Suspect
	Branches []Branch
	// Folded marks a place not laid out further, because it is unlikely; from
	// there on the base policy is followed.
	Folded bool
}

// A Branch is one result of a step and what follows. Next is nil at an end.
type Branch struct {
	Result Result
	Next   *Step
}

// A Leaf is one way it can end.
type Leaf struct {
	P       float64
	Money   float64
	Minutes float64
	Days    float64
	Total   float64 // all costs in money, the loss of a device not repaired not among them
	Works   bool
}

// A Rehearsal is the distribution of what following the advice will take.
type Rehearsal struct {
	Root   *Step
	Leaves []Leaf  // all ends, by their chance; chances sum to 1
	Folded float64 // chance of ending up where the policy was not laid out but the base policy followed

	loss float64
}

// Rehearse lays out the policy of the advice at once, as a careful repairer follows it (Prefer), from here, the
// likeliest places first, at most nodes of them (0 means 150), and returns every way it
// can end. Nothing is sampled: where the policy is not laid out, the base policy
// is followed to its ends, and Folded says how often that is.
func (p *Planner) Rehearse(ctx context.Context, b *belief.Belief, sit Situation, nodes int) (*Rehearsal, error) {
	return p.rehearse(ctx, b, sit, nodes, nil)
}

// RehearseFrom is Rehearse with the first move given. If that cannot be made, it begins with the advice.
func (p *Planner) RehearseFrom(ctx context.Context, b *belief.Belief, sit Situation, nodes int, first Move) (*Rehearsal, error) {
	return p.rehearse(ctx, b, sit, nodes, &first)
}

func (p *Planner) rehearse(ctx context.Context, b *belief.Belief, sit Situation, nodes int, begin *Move) (*Rehearsal, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if nodes <= 0 {
		nodes = 150
	}
	p.bounding = false
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	r := &Rehearsal{Root: &Step{P: 1}, loss: p.tariff.loss()}
	q := &stageHeap{{root, r.Root, Leaf{P: 1}}}
	for n := 0; q.Len() > 0; n++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s := heap.Pop(q).(stage)
		if n >= nodes {
			p.fold(r, s)
			continue
		}
		p.think(s.n)
		a := p.liked(s.n)
		if begin != nil && s.n == root {
			if x := root.arc(*begin); x != nil || begin.Kind == Stop {
				a = x
			}
		}
		p.stage(r, q, s, a)
	}
	return r, nil
}

// A stage is a place yet to be laid out, with what it took to get there.
type stage struct {
	n    *node
	step *Step
	sum  Leaf
}

type stageHeap []stage

func (h stageHeap) Len() int           { return len(h) }
func (h stageHeap) Less(i, j int) bool { return h[i].sum.P > h[j].sum.P }
func (h stageHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *stageHeap) Push(x any)        { *h = append(*h, x.(stage)) }
func (h *stageHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}

// stage takes arc a from a place (nil: stops there) and queues what follows from it.
func (p *Planner) stage(r *Rehearsal, q *stageHeap, s stage, a *arc) {
	s.step.Total, s.step.Tops = s.n.upper.total, p.tops(s.n.b, 3)
	if a == nil {
		s.step.Move = Move{Stop, -1}
		r.Leaves = append(r.Leaves, s.sum)
		return
	}
	s.step.Move, s.step.Cost = a.move, a.cost
	view := p.ranked(s.n, a)
	for i, x := range byChance(a.next) {
		sum := s.sum
		sum.P *= x.p
		sum.pay(a.cost)
		br := Branch{Result: view.Results[i]}
		if a.move.Kind == Test && x.result == 1 {
			p.shut(&sum, p.tariff.closing(x.n.at.access))
			sum.Works = true
			r.Leaves = append(r.Leaves, sum)
		} else {
			br.Next = &Step{P: sum.P}
			heap.Push(q, stage{x.n, br.Next, sum})
		}
		s.step.Branches = append(s.step.Branches, br)
	}
}

// byChance orders branches as Ranked.Results are ordered.
func byChance(next []branch) []branch {
	out := append([]branch(nil), next...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].p > out[j].p })
	return out
}

// chosen is the arc the look-ahead takes, nil to stop.
func (p *Planner) chosen(n *node) *arc {
	var best *arc
	for _, a := range n.arcs {
		if a.upper.total < p.tariff.loss()-1e-9 && (best == nil || a.upper.total < best.upper.total-1e-9) {
			best = a
		}
	}
	return best
}

// fold follows the base policy from a place to its ends.
func (p *Planner) fold(r *Rehearsal, s stage) {
	s.step.Folded = true
	s.step.Total, s.step.Tops, s.step.Move = s.n.upper.total, p.tops(p.lotOf(s.n), 3), s.n.upper.first
	r.Folded += s.sum.P
	p.ends(r, p.rounds(p.lotOf(s.n), s.n.at), s.sum)
}

// ends adds the ways in which rounds of the base policy can end.
func (p *Planner) ends(r *Rehearsal, rounds []round, at Leaf) {
	_, n := p.value(rounds)
	for _, x := range rounds[:n] {
		start := at.P
		at.pay(x.see)
		made := at
		made.pay(x.work)
		if x.look == nil {
			at = made
		} else if miss := x.goes - x.passes; miss > 1e-12 {
			made.P = start * miss
			p.ends(r, x.side, made)
		}
		at.P = start * x.next
		made.P, made.Works = start*x.passes, true
		p.shut(&made, x.shut)
		r.add(made)
	}
	r.add(at)
}

// pay adds what a move takes.
func (l *Leaf) pay(c Cost) {
	l.Money += c.Money
	l.Minutes += c.Minutes + c.Access
	l.Days += c.Days
	l.Total += c.Total
}

// shut adds the minutes of closing it up.
func (p *Planner) shut(l *Leaf, minutes float64) {
	l.Minutes += minutes
	l.Total += p.tariff.time(minutes)
}

func (r *Rehearsal) add(l Leaf) {
	if l.P > 1e-12 {
		r.Leaves = append(r.Leaves, l)
	}
}
