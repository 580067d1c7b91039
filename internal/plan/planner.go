package plan

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"

	"fettler/internal/belief"
)

// A Planner advises on one device for one bench. It is safe for concurrent use;
// calls take turns.
type Planner struct {
	mu       sync.Mutex
	e        *belief.Engine
	settings Settings

	worlds *worlds
	tariff *tariff
	least  map[int]float64

	useful       []int   // repairs that this bench can do
	byAccess     [][]int // useful repairs per access
	barredCheck  []string
	barredRepair []string
	buffer       []float64 // per repair, scratch
}

// Effort bounds how long a planner thinks.
type Effort struct {
	// Expansions is how many situations are looked into beyond the first; 0 gives the depth-1 answer.
	Expansions int
}

// New returns a planner for the engine's device under the given settings.
func New(e *belief.Engine, s Settings) (*Planner, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return &Planner{e: e, settings: s}, nil
}

// Advise says what to do next at once: one move looked ahead over the best
// sequence of repairs.
func (p *Planner) Advise(ctx context.Context, b *belief.Belief, sit Situation) (*Advice, error) {
	return p.AdviseWith(ctx, b, sit, Effort{})
}

// AdviseWith is Advise with more thought. It is deterministic for a given model,
// belief, situation and effort unless ctx ends first, when it returns the best so far.
func (p *Planner) AdviseWith(ctx context.Context, b *belief.Belief, sit Situation, effort Effort) (*Advice, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	p.expand(root)
	p.refine(ctx, root, effort.Expansions)
	return p.advice(root), nil
}

// start sets the planner up for a situation and returns the root of the search.
func (p *Planner) start(ctx context.Context, b *belief.Belief, sit Situation) (*node, error) {
	m := p.e.Model()
	if sit.Access < 0 || sit.Access >= len(m.Access) {
		return nil, fmt.Errorf("the situation names access %d, but the note of %s has %d", sit.Access, m.ID, len(m.Access))
	}
	if math.IsNaN(sit.Spent) || sit.Spent < 0 {
		return nil, fmt.Errorf("the money spent so far is %v; it must be 0 or more", sit.Spent)
	}
	ws, err := newWorlds(ctx, p.e)
	if err != nil {
		return nil, err
	}
	p.worlds = ws
	p.tariff = newTariff(m, p.settings, sit.AtHand)
	p.least = map[int]float64{}
	first := p.lot(b)
	if err := ws.layChecks(ctx, first, sit.Known); err != nil {
		return nil, err
	}
	p.bar()
	at := place{access: sit.Access, pending: sit.Pending, spent: sit.Spent, done: newBits(len(m.Repairs)), asked: newBits(len(m.Checks))}
	return p.node(first, at, 0), nil
}

// most is how many worlds a belief is carried with; what the lightest of more
// amount to goes to the unknown fault.
const most = 160

// lot turns a belief into weighted worlds.
func (p *Planner) lot(b *belief.Belief) lot {
	weight := map[int]float64{}
	left := 1.0
	for k, c := range b.Candidates {
		id := unknownWorld
		if !c.Unknown {
			if k >= most {
				continue
			}
			id = p.worlds.id(c.Now)
		}
		weight[id] += c.P
		left -= c.P
	}
	weight[unknownWorld] += math.Max(0, left)
	var out lot
	for id := range weight {
		out.ids = append(out.ids, id)
	}
	slices.Sort(out.ids)
	for _, id := range out.ids {
		out.w = append(out.w, weight[id])
	}
	return out.scaled(func(int) float64 { return 1 })
}

// bar works out what this bench cannot do.
func (p *Planner) bar() {
	m := p.e.Model()
	p.barredCheck = make([]string, len(m.Checks))
	p.barredRepair = make([]string, len(m.Repairs))
	p.byAccess = make([][]int, len(m.Access))
	p.useful = nil
	p.buffer = make([]float64, len(m.Repairs))
	for c := range m.Checks {
		x := &m.Checks[c]
		p.barredCheck[c] = p.tariff.blocked(x.With, x.Hazards, x.Live, x.Access)
	}
	for r := range m.Repairs {
		x := &m.Repairs[r]
		p.barredRepair[r] = p.tariff.blocked(x.With, x.Hazards, x.Live, x.Access)
		if p.barredRepair[r] == "" {
			p.useful = append(p.useful, r)
			p.byAccess[x.Access] = append(p.byAccess[x.Access], r)
		}
	}
}

// advice reads the answer off the root.
func (p *Planner) advice(root *node) *Advice {
	loss := p.tariff.loss()
	out := &Advice{Lower: root.lower, Depth: depth(root)}
	for _, a := range root.arcs {
		out.Ranking = append(out.Ranking, p.ranked(root, a))
	}
	out.Ranking = append(out.Ranking, Ranked{Move: Move{Stop, -1}, Total: loss})
	sort.SliceStable(out.Ranking, func(i, j int) bool { return before(out.Ranking[i], out.Ranking[j]) })
	out.Best = out.Ranking[0]
	for i := range out.Ranking {
		out.Ranking[i].Behind = out.Ranking[i].Total - out.Best.Total
	}
	out.Ranking = append(out.Ranking, p.wishes(root)...)
	if len(out.Ranking) > 1 {
		out.Best = out.Ranking[0]
	}
	out.Gain = loss - out.Best.Total
	for _, a := range root.arcs {
		if a.move == out.Best.Move {
			out.Success, out.Money, out.Minutes = a.upper.success, a.upper.money, a.upper.minutes
		}
	}
	out.StopAfter = p.stopAfter(root)
	return out
}

// before orders moves by expected cost; among equals by what they cost now.
func before(a, b Ranked) bool {
	if math.Abs(a.Total-b.Total) > 1e-9 {
		return a.Total < b.Total
	}
	if a.Kind == Stop || b.Kind == Stop {
		return b.Kind == Stop && a.Kind != Stop
	}
	return a.Cost.Minutes+a.Cost.Access < b.Cost.Minutes+b.Cost.Access
}

func depth(n *node) int {
	d := 0
	for _, a := range n.arcs {
		for _, x := range a.next {
			if x.n.b.ids != nil {
				d = max(d, 1+depth(x.n))
			}
		}
	}
	return d
}

func (p *Planner) ranked(root *node, a *arc) Ranked {
	r := Ranked{Move: a.move, Cost: a.cost, Total: a.upper.total}
	if a.move.Kind == Repair {
		r.Cures = p.cures(root.b, p.buffer)[a.move.Index]
	}
	for _, x := range a.next {
		res := Result{P: x.p, Next: x.n.upper.first, Total: x.n.upper.total, Tops: p.tops(x.n.b, 3)}
		switch a.move.Kind {
		case Check:
			res.Values = p.worlds.checks[a.move.Index].results[x.result]
		case Test:
			res.Works = x.result == 1
		}
		r.Results = append(r.Results, res)
	}
	sort.SliceStable(r.Results, func(i, j int) bool { return r.Results[i].P > r.Results[j].P })
	return r
}

// tops returns the likeliest modes of a lot.
func (p *Planner) tops(b lot, n int) []Suspect {
	chance := map[int]float64{}
	for k, id := range b.ids {
		for _, i := range p.worlds.list[id].modes {
			chance[i] += b.w[k]
		}
	}
	out := make([]Suspect, 0, len(chance))
	for i, c := range chance {
		out = append(out, Suspect{i, c})
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].P != out[j].P {
			return out[i].P > out[j].P
		}
		return out[i].Mode < out[j].Mode
	})
	return out[:min(n, len(out))]
}

// wishes lists the checks and repairs this bench cannot do, with the reason.
// For a check it also says what it would be worth: the move is valued as if it could be done.
func (p *Planner) wishes(root *node) []Ranked {
	var out []Ranked
	for c, why := range p.barredCheck {
		if why == "" || len(p.worlds.checks[c].results) == 0 {
			continue
		}
		if a := p.checkArc(root, c); a != nil {
			r := p.ranked(root, a)
			r.Blocked = why
			r.Behind = r.Total - root.upper.total
			out = append(out, r)
		}
	}
	cures := p.cures(root.b, make([]float64, len(p.buffer)))
	for r, why := range p.barredRepair {
		if why == "" {
			continue
		}
		if cures[r] > least {
			x := p.ranked(root, p.repairArc(root, r))
			x.Blocked, x.Cures, x.Behind = why, cures[r], x.Total-root.upper.total
			out = append(out, x)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Total < out[j].Total })
	return out
}

// stopAfter lists the repairs after which, if it still fails, going on no longer
// pays: the base policy's repairs up to where it stops.
func (p *Planner) stopAfter(root *node) []int {
	rounds := p.rounds(root.b, root.at)
	var out []int
	for _, r := range rounds[:p.worthwhile(rounds)] {
		out = append(out, r.repairs...)
	}
	return out
}
