package belief

import (
	"fmt"
	"slices"

	"fettler/internal/note"
)

// A network is the part of a model that one set of evidence touches, unrolled
// over epochs: which conditions matter in which epoch, which modes move them,
// and which observations hang on them.
type network struct {
	m      *note.Model
	epochs int
	seen   []Observation
	acts   []Act

	runs  [][]run // per mode: its stretches of constant presence
	nodes []node
	index map[nodeKey]int
	at    [][]int // group[epoch][cond]: the first epoch since which the condition is unchanged
	looks []look  // one per observation
}

type nodeKey struct{ cond, group int }

// A node is a condition over a group of epochs in which no repair touched
// anything upstream of it.
type node struct {
	nodeKey
	from    []inherit
	raisers []int // modes that act on it
	look    []int // observations that depend on it
	heirs   []int // nodes that inherit from it
}

type inherit struct {
	node int
	to   []int // state of node → least state here
}

// A run is a stretch of epochs over which a mode's presence cannot change.
// The transition into it happens by act (an index into acts, -1 for the first).
type run struct {
	first, last int // epochs
	act         int
}

// A look is an observation with what it takes to judge it.
type look struct {
	Observation
	f       *note.Finding
	nodes   map[int]int // condition → node
	direct  []note.Trigger
	weights []float64 // Reading: per state
}

func newNetwork(m *note.Model, ev Evidence) (*network, error) {
	n := &network{m: m, epochs: len(ev.Acts) + 1, seen: ev.settled(), acts: ev.Acts, index: map[nodeKey]int{}}
	if err := n.check(); err != nil {
		return nil, err
	}
	changed := n.layRuns()
	n.group(changed)
	for _, o := range n.seen {
		n.addLook(o)
	}
	n.link()
	return n, nil
}

func (n *network) check() error {
	for _, a := range n.acts {
		if a.Repair < -1 || a.Repair >= len(n.m.Repairs) {
			return fmt.Errorf("evidence names repair %d, but the note of %s has %d", a.Repair, n.m.ID, len(n.m.Repairs))
		}
	}
	for _, o := range n.seen {
		if o.Finding < 0 || o.Finding >= len(n.m.Findings) {
			return fmt.Errorf("evidence names finding %d, but the note of %s has %d", o.Finding, n.m.ID, len(n.m.Findings))
		}
		f := &n.m.Findings[o.Finding]
		switch {
		case o.Epoch < 0 || o.Epoch >= n.epochs:
			return fmt.Errorf("%s was seen in epoch %d, but there are %d", f.ID, o.Epoch, n.epochs)
		case f.Kind == note.Pick && (o.Value < 0 || o.Value >= len(f.Answers)):
			return fmt.Errorf("%s has %d answers, none numbered %d", f.ID, len(f.Answers), o.Value)
		case f.Kind == note.Sign && (o.Value < 0 || o.Value > max(o.Of, 1) || o.Of < 0):
			return fmt.Errorf("%s cannot have shown %d times of %d", f.ID, o.Value, max(o.Of, 1))
		case f.Kind == note.Reading && o.Number != o.Number:
			return fmt.Errorf("%s: the reading is not a number", f.ID)
		}
	}
	return nil
}

// layRuns finds, per mode, the epochs between which a repair may change it, and
// returns for each act the modes it may change.
func (n *network) layRuns() [][]int {
	changed := make([][]int, len(n.acts))
	n.runs = make([][]run, len(n.m.Modes))
	for i := range n.runs {
		n.runs[i] = []run{{first: 0, last: n.epochs - 1, act: -1}}
	}
	for k, a := range n.acts {
		if a.Repair < 0 {
			continue
		}
		r := &n.m.Repairs[a.Repair]
		for _, c := range r.Clears {
			changed[k] = append(changed[k], c.Mode)
		}
		if r.Harms >= 0 && r.Harm > 0 && !slices.Contains(changed[k], r.Harms) {
			changed[k] = append(changed[k], r.Harms)
		}
		for _, i := range changed[k] {
			last := &n.runs[i][len(n.runs[i])-1]
			last.last = k
			n.runs[i] = append(n.runs[i], run{first: k + 1, last: n.epochs - 1, act: k})
		}
	}
	return changed
}

// repairBefore is the repair that run r of mode i begins with.
func (n *network) repairBefore(i, r int) *note.Repair {
	return &n.m.Repairs[n.acts[n.runs[i][r].act].Repair]
}

// success is the chance that the repair before run r clears mode i.
func (n *network) success(i, r int) float64 {
	s := 0.0
	for _, c := range n.repairBefore(i, r).Clears {
		if c.Mode == i {
			s = max(s, c.Success)
		}
	}
	return s
}

// group works out since which epoch each condition has been out of reach of repairs.
func (n *network) group(changed [][]int) {
	conds := len(n.m.Conditions)
	n.at = make([][]int, n.epochs)
	n.at[0] = make([]int, conds)
	for k := 1; k < n.epochs; k++ {
		dirty := make([]bool, conds)
		for _, i := range changed[k-1] {
			for _, e := range n.m.Modes[i].Effects {
				dirty[e.Cond] = true
			}
		}
		n.at[k] = make([]int, conds)
		for c := range n.m.Conditions {
			for _, l := range n.m.Conditions[c].From {
				dirty[c] = dirty[c] || dirty[l.Cond]
			}
			n.at[k][c] = n.at[k-1][c]
			if dirty[c] {
				n.at[k][c] = k
			}
		}
	}
}

func (n *network) addLook(o Observation) {
	f := &n.m.Findings[o.Finding]
	l := look{Observation: o, f: f, nodes: map[int]int{}}
	id := len(n.looks)
	need := func(cond int) {
		if _, ok := l.nodes[cond]; !ok {
			nd := n.node(cond, o.Epoch)
			l.nodes[cond] = nd
			n.nodes[nd].look = append(n.nodes[nd].look, id)
		}
	}
	switch f.Kind {
	case note.Sign:
		for _, t := range f.Trigger {
			if t.Mode >= 0 {
				l.direct = append(l.direct, t)
			} else {
				need(t.Cond)
			}
		}
	case note.Pick:
		need(f.Cond)
	case note.Reading:
		need(f.Cond)
		l.weights = readingWeights(f, o.Number)
	}
	n.looks = append(n.looks, l)
}

// node returns the node of a condition in an epoch, making it and what is upstream of it.
func (n *network) node(cond, epoch int) int {
	key := nodeKey{cond, n.at[epoch][cond]}
	if id, ok := n.index[key]; ok {
		return id
	}
	var from []inherit
	for _, l := range n.m.Conditions[cond].From {
		from = append(from, inherit{n.node(l.Cond, epoch), l.Map})
	}
	id := len(n.nodes)
	n.nodes = append(n.nodes, node{nodeKey: key, from: from})
	n.index[key] = id
	for _, f := range from {
		n.nodes[f.node].heirs = append(n.nodes[f.node].heirs, id)
	}
	return id
}

// link tells every node which modes act on it.
func (n *network) link() {
	byCond := make([][]int, len(n.m.Conditions))
	for id := range n.nodes {
		byCond[n.nodes[id].cond] = append(byCond[n.nodes[id].cond], id)
	}
	for i := range n.m.Modes {
		for _, e := range n.m.Modes[i].Effects {
			for _, id := range byCond[e.Cond] {
				if !slices.Contains(n.nodes[id].raisers, i) {
					n.nodes[id].raisers = append(n.nodes[id].raisers, i)
				}
			}
		}
	}
}

// spark tells whether the look can be judged by letting each present direct
// trigger strike or not: a plain sign that showed. Otherwise, if it did not
// show, direct triggers are plain factors; if it was counted, they are marked.
func (l *look) spark() bool {
	return l.f.Kind == note.Sign && l.Of == 0 && l.Value == 1 && len(l.direct) > 0
}

func (l *look) quiet() bool { return l.f.Kind == note.Sign && l.Of == 0 && l.Value == 0 }

func (l *look) counted() bool { return l.f.Kind == note.Sign && l.Of > 0 && len(l.direct) > 0 }

// likelihood judges the look once the states of its conditions are known.
// struck tells whether a direct trigger has already struck; extra is the chance
// that none of the marked direct triggers of a counted sign shows.
func (l *look) likelihood(state func(cond int) int, struck bool, extra float64) float64 {
	switch l.f.Kind {
	case note.Pick:
		return l.f.Table[state(l.f.Cond)][l.Value]
	case note.Reading:
		return l.weights[state(l.f.Cond)]
	}
	p := signChance(l.f, state)
	switch {
	case l.Of > 0:
		return countLikelihood(1-(1-p)*extra, l.Value, l.Of)
	case l.Value == 0:
		return 1 - p
	case struck:
		return 1
	default:
		return p
	}
}
