package belief

import (
	"math/bits"
	"slices"
)

// A program is the order in which a sweep decides the modes of a network and
// judges its observations, as a list of steps over rows.
type program struct {
	n     *network
	words int
	steps []step
	any   field // set once any mode is present in epoch 0
	none  bool  // whether the empty candidate is allowed
}

// A step takes each row to one or more others. Rows that do not meet the guard
// pass through unchanged; then clear applies to all.
type step struct {
	guard, unless []field
	options       []option
	clear         []field
	settle        *settle

	mode, run int  // what the options decide, -1 if nothing that a candidate holds
	tally     bool // whether option.present counts towards the marginal of mode in run
}

type option struct {
	weight  float64
	raise   []raise
	put     []raise
	present bool
}

type raise struct {
	f field
	v int
}

// settle fixes a node's state and judges what can now be judged.
type settle struct {
	node  int
	self  field
	from  []inheritField
	looks []judge
}

type inheritField struct {
	f  field
	to []int
}

type judge struct {
	l     *look
	nodes map[int]field // condition → field
	spark *field
	marks []mark
}

type mark struct {
	f      field
	chance float64
}

// planner chooses the order and writes the program.
type planner struct {
	program
	lay layout

	done     []bool // mode decided
	settled  []bool // node
	judged   []bool // look
	touches  [][]int
	sparks   [][]int // per mode: looks it may strike or mark
	heirs    [][]int // per mode: modes it may bring about
	present  field
	replaced field

	nodeField    map[int]field
	lookField    map[int]field    // spark bits
	markField    map[[2]int]field // look, mode
	broughtField map[[2]int]field // mode, run: a cause has brought it about
	openNode     []bool

	round            int   // of opens, so that nothing is counted twice in one
	visited, counted []int // per mode, per node: the round it was counted in
}

func newProgram(n *network, allowNone bool) *program {
	p := &planner{
		program:   program{n: n, none: allowNone},
		lay:       newLayout(),
		done:      make([]bool, len(n.m.Modes)),
		settled:   make([]bool, len(n.nodes)),
		judged:    make([]bool, len(n.looks)),
		touches:   make([][]int, len(n.m.Modes)),
		sparks:    make([][]int, len(n.m.Modes)),
		heirs:     make([][]int, len(n.m.Modes)),
		nodeField: map[int]field{}, lookField: map[int]field{},
		markField: map[[2]int]field{}, broughtField: map[[2]int]field{},
		openNode: make([]bool, len(n.nodes)),
		visited:  make([]int, len(n.m.Modes)), counted: make([]int, len(n.nodes)),
	}
	p.any, p.present, p.replaced = p.lay.field(2), p.lay.field(2), p.lay.field(2)
	p.survey()
	p.order()
	p.words = p.lay.words
	return &p.program
}

// survey notes what each mode touches.
func (p *planner) survey() {
	for id, nd := range p.n.nodes {
		for _, i := range nd.raisers {
			p.touches[i] = append(p.touches[i], id)
		}
	}
	for id := range p.n.looks {
		l := &p.n.looks[id]
		if l.spark() || l.counted() {
			for _, t := range l.direct {
				if !slices.Contains(p.sparks[t.Mode], id) {
					p.sparks[t.Mode] = append(p.sparks[t.Mode], id)
				}
			}
		}
	}
	for i := range p.n.m.Modes {
		for _, c := range p.n.m.Modes[i].Causes {
			p.heirs[c.Mode] = append(p.heirs[c.Mode], i)
		}
	}
}

func (p *planner) idle(i int) bool { return len(p.touches[i]) == 0 && len(p.sparks[i]) == 0 }

// order decides first the modes that no evidence touches, while the only state
// is the empty one; then, again and again, settles the node or judges the sign
// for which the frontier grows least.
func (p *planner) order() {
	for i := range p.done {
		if p.idle(i) && len(p.n.m.Modes[i].Causes) == 0 && len(p.heirs[i]) == 0 {
			p.decide(i)
		}
	}
	p.judgeReady(nil)
	for {
		nd, lk, best := -1, -1, 1<<30
		for id := range p.n.nodes {
			if !p.settled[id] && p.upstreamSettled(id) {
				if c := p.opens(p.n.nodes[id].raisers) - p.frees(id); c < best {
					nd, lk, best = id, -1, c
				}
			}
		}
		for id := range p.n.looks {
			if l := &p.n.looks[id]; !p.judged[id] && p.lookSettled(l) {
				if c := p.opens(awaited(l)) - p.freesLook(id); c < best {
					nd, lk, best = -1, id, c
				}
			}
		}
		switch {
		case nd >= 0:
			p.decideAll(p.n.nodes[nd].raisers)
			p.settleNode(nd)
		case lk >= 0:
			p.decideAll(awaited(&p.n.looks[lk]))
			p.judgeReady(nil)
		default:
			for i := range p.done {
				p.decide(i)
			}
			return
		}
	}
}

// awaited are the modes that must be decided before the look can be judged: its
// direct triggers, unless it did not show, when they are plain factors.
func awaited(l *look) []int {
	if l.quiet() {
		return nil
	}
	out := make([]int, len(l.direct))
	for i, t := range l.direct {
		out[i] = t.Mode
	}
	return out
}

func (p *planner) upstreamSettled(id int) bool {
	for _, f := range p.n.nodes[id].from {
		if !p.settled[f.node] {
			return false
		}
	}
	return true
}

func (p *planner) lookSettled(l *look) bool {
	for _, nd := range l.nodes {
		if !p.settled[nd] {
			return false
		}
	}
	return true
}

// opens counts the bits of the fields that deciding the modes would open.
func (p *planner) opens(modes []int) int {
	p.round++
	c := 0
	for _, i := range modes {
		c += p.opensMode(i)
	}
	return c
}

func (p *planner) opensMode(i int) int {
	if p.done[i] || p.visited[i] == p.round {
		return 0
	}
	p.visited[i] = p.round
	c := 0
	for _, nd := range p.touches[i] {
		if !p.openNode[nd] && p.counted[nd] != p.round {
			p.counted[nd] = p.round
			c += p.width(nd)
		}
	}
	for _, l := range p.sparks[i] {
		if _, open := p.lookField[l]; !open {
			c++
		}
	}
	for _, h := range p.heirs[i] {
		if _, open := p.broughtField[[2]int{h, 0}]; !open {
			c++
		}
	}
	for _, x := range p.n.m.Modes[i].Causes {
		c += p.opensMode(x.Mode)
	}
	return c
}

// width is how many bits the state of a node takes.
func (p *planner) width(nd int) int {
	return bits.Len(uint(len(p.n.m.Conditions[p.n.nodes[nd].cond].States) - 1))
}

// frees counts the bits that settling the node would free: of its upstream
// nodes that nothing else waits for, and of itself if only observations hang on it.
func (p *planner) frees(id int) int {
	c := 0
	for _, f := range p.n.nodes[id].from {
		if p.openNode[f.node] && p.lastHeir(f.node, id) && p.looksDone(f.node) {
			c += p.width(f.node)
		}
	}
	if len(p.n.nodes[id].heirs) == 0 {
		c += p.width(id)
	}
	return c
}

// lastHeir tells whether every node that inherits from id, but heir, is settled.
func (p *planner) lastHeir(id, heir int) bool {
	for _, h := range p.n.nodes[id].heirs {
		if h != heir && !p.settled[h] {
			return false
		}
	}
	return true
}

func (p *planner) looksDone(id int) bool {
	for _, l := range p.n.nodes[id].look {
		if !p.judged[l] {
			return false
		}
	}
	return true
}

// freesLook counts the bits that judging the look would free.
func (p *planner) freesLook(id int) int {
	c := 0
	if p.n.looks[id].spark() {
		c++
	}
	if p.n.looks[id].counted() {
		c += len(p.n.looks[id].direct)
	}
	for _, nd := range p.n.looks[id].nodes {
		if p.lastHeir(nd, -1) && len(p.n.nodes[nd].look) == 1 {
			c += p.width(nd)
		}
	}
	return c
}

func (p *planner) decideAll(modes []int) {
	for _, i := range modes {
		p.decide(i)
	}
}

func (p *planner) fieldOf(nd int) field {
	f, ok := p.nodeField[nd]
	if !ok {
		f = p.lay.field(len(p.n.m.Conditions[p.n.nodes[nd].cond].States))
		p.nodeField[nd] = f
		p.openNode[nd] = true
	}
	return f
}

// decide writes the steps of one mode, after those of the modes that bring it about.
func (p *planner) decide(i int) {
	if p.done[i] {
		return
	}
	m := &p.n.m.Modes[i]
	for _, c := range m.Causes {
		p.decide(c.Mode)
	}
	if p.done[i] { // deciding a cause decided it along
		return
	}
	p.done[i] = true
	p.writeMode(i)
	for _, h := range p.heirs[i] {
		if p.idle(h) && p.causesDone(h) {
			p.decide(h)
		}
	}
}

func (p *planner) causesDone(i int) bool {
	for _, c := range p.n.m.Modes[i].Causes {
		if !p.done[c.Mode] {
			return false
		}
	}
	return true
}

func (p *planner) brought(i, run int) field {
	key := [2]int{i, run}
	f, ok := p.broughtField[key]
	if !ok {
		f = p.lay.field(2)
		p.broughtField[key] = f
	}
	return f
}
