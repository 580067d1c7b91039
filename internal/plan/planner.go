package plan

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A Planner advises on one device for one bench. It is safe for concurrent use;
// calls take turns.
type Planner struct {
	mu       sync.Mutex
	e        *belief.Engine
	settings Settings

	worlds   *worlds
	tariff   *tariff
	known    map[key]estimate   // the base policy, where it has been worked out
	least    map[plight]float64 // what a known world costs at least
	atHand   map[int]bool       // for which known and least hold
	met      map[key]*node      // the nodes of the search under way
	bounding bool               // lower bounds are wanted

	useful       []int   // repairs that this bench can do
	byAccess     [][]int // useful repairs per access
	barredCheck  []string
	barredRepair []string
	buffer       []float64 // per repair, scratch
	glance       glance    // scratch of keenest
	rivals       [mostRivals]int
	saving       []int // scratch of also
	run          [mostPrefix]int
	ratios       [mostPrefix]float64
	carry        int // how many worlds a belief is carried with
}

// Effort bounds how long a planner thinks.
type Effort struct {
	// Expansions is how many situations are looked into beyond the answer at once; 0 gives
	// that answer, less than 0 goes on until the bounds meet or the context ends.
	Expansions int
	// Gap, in money, is how close the bounds need to come: the search ends when
	// the advice is proven to be within Gap of the best there is.
	Gap float64
}

// New returns a planner for the engine's device under the given settings.
func New(e *belief.Engine, s Settings) (*Planner, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := sense(e.Model()); err != nil {
		return nil, err
	}
	return &Planner{e: e, settings: s, carry: most}, nil
}

// Advise says what to do next at once: one move looked ahead over the best
// sequence of repairs, and two where the first alone would mislead.
func (p *Planner) Advise(ctx context.Context, b *belief.Belief, sit Situation) (*Advice, error) {
	return p.AdviseWith(ctx, b, sit, Effort{})
}

// AdviseWith is Advise with more thought. It is deterministic for a given model,
// belief, situation and effort unless ctx ends first, when it returns the best so far.
func (p *Planner) AdviseWith(ctx context.Context, b *belief.Belief, sit Situation, effort Effort) (*Advice, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if effort.Gap < 0 || math.IsNaN(effort.Gap) {
		return nil, fmt.Errorf("the gap asked for is %v; it must be 0 or more", effort.Gap)
	}
	p.bounding = effort.Expansions != 0
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	p.think(root)
	p.foresee(root)
	p.refine(ctx, root, effort)
	out := p.advice(root)
	p.met = nil // a deep search is large
	return out, nil
}

// start sets the planner up for a situation and returns the root of the search.
func (p *Planner) start(ctx context.Context, b *belief.Belief, sit Situation) (*node, error) {
	if err := p.check(ctx, b, sit); err != nil {
		return nil, err
	}
	m := p.e.Model()
	p.prepare(sit.AtHand)
	p.repeat(sit.Done)
	first := p.lot(b, sit.Pending)
	if err := p.worlds.layChecks(ctx, first, sit.Known); err != nil {
		return nil, fmt.Errorf("working out what the checks of %s tell: %w", m.ID, err)
	}
	p.worlds.layLooks(first, p.barredCheck)
	if p.worlds.relaid { // what the base policy looks at depends on the belief one starts from
		clear(p.known)
	}
	p.met = map[key]*node{}
	at := place{access: sit.Access, spent: sit.Spent, done: p.waiting(first, sit), asked: newBits(len(m.Checks))}
	return p.node(first, at, 0), nil
}

// check says what is wrong with a question before any of it is answered.
func (p *Planner) check(ctx context.Context, b *belief.Belief, sit Situation) error {
	m := p.e.Model()
	switch {
	case ctx.Err() != nil:
		return fmt.Errorf("there was no time to think about %s: %w; allow a moment more, or ask again", m.ID, ctx.Err())
	case b == nil || len(b.Candidates) == 0:
		return fmt.Errorf("there is no belief about %s to plan on: ask the belief engine first", m.ID)
	case sit.Access < 0 || sit.Access >= len(m.Access):
		return fmt.Errorf("the situation names access %d, but the note of %s has %d", sit.Access, m.ID, len(m.Access))
	case !(sit.Spent >= 0 && sit.Spent <= 1e9):
		return fmt.Errorf("the money spent so far is %v; it must be a figure from 0 to a thousand million", sit.Spent)
	}
	for r := range sit.Done {
		if r < 0 || r >= len(m.Repairs) {
			return fmt.Errorf("repair %d is said to be done, but the note of %s has %d repairs", r, m.ID, len(m.Repairs))
		}
	}
	for r := range sit.AtHand {
		if r < 0 || r >= len(m.Repairs) {
			return fmt.Errorf("parts are said to be at hand for repair %d, but the note of %s has %d repairs", r, m.ID, len(m.Repairs))
		}
	}
	for _, c := range b.Candidates {
		if !(c.P >= 0 && c.P <= 1+1e-9) {
			return fmt.Errorf("the belief about %s gives a candidate the chance %v; it must be from 0 to 1", m.ID, c.P)
		}
	}
	return nil
}

// mostWorlds bounds how many worlds are kept from one advice to the next.
const mostWorlds = 20_000

// prepare makes ready what depends on the bench and the shelf, keeping what still holds.
func (p *Planner) prepare(atHand map[int]bool) {
	if p.tariff != nil && maps.Equal(p.atHand, atHand) && len(p.worlds.list) < mostWorlds {
		return
	}
	if p.worlds == nil || len(p.worlds.list) >= mostWorlds {
		p.worlds = newWorlds(p.e)
	}
	p.atHand = maps.Clone(atHand)
	p.tariff = newTariff(p.e.Model(), p.settings, p.atHand)
	p.known, p.least = map[key]estimate{}, map[plight]float64{}
	p.worlds.forgetLeast()
	p.bar()
}

// repeat takes into account which repairs have been made already.
func (p *Planner) repeat(done map[int]bool) {
	set := newBits(len(p.e.Model().Repairs))
	for r, d := range done {
		if d {
			set.set(r)
		}
	}
	if p.worlds.repeats(set) {
		clear(p.known)
		clear(p.least)
	}
}

// waiting are the repairs that are not made again before the whole has been tried: those
// made since it last was, as long as what they are for is likelier gone than not.
func (p *Planner) waiting(b lot, sit Situation) bits {
	out := newBits(len(p.e.Model().Repairs))
	if !sit.Pending {
		return out
	}
	for r, done := range sit.Done {
		there := 0.0
		for k, id := range b.ids {
			if slices.ContainsFunc(p.e.Model().Repairs[r].Clears, func(c note.Clear) bool { return slices.Contains(p.worlds.list[id].modes, c.Mode) }) {
				there += b.w[k]
			}
		}
		if done && there < 0.5 {
			out.set(r)
		}
	}
	return out
}

// most is how many worlds a belief is carried with; what the lightest of more
// amount to goes to the unknown fault.
const most = 120

// lot turns a belief into weighted worlds. A device that waits for nothing is
// known to fail; one with a repair not tried yet fails as often as what is left of its faults shows.
func (p *Planner) lot(b *belief.Belief, pending bool) lot {
	ws := p.worlds
	var out lot
	seat := map[int]int{}
	add := func(id int, w float64) {
		if w <= 0 {
			return
		}
		k, ok := seat[id]
		if !ok {
			k = len(out.ids)
			seat[id] = k
			out.ids, out.w = append(out.ids, id), append(out.w, 0)
		}
		out.w[k] += w
	}
	left := 1.0
	for k, c := range b.Candidates {
		if k >= p.carry && !c.Unknown {
			continue
		}
		left -= c.P
		switch {
		case c.Unknown:
			add(unknownWorld, c.P)
		case pending:
			f := ws.fails(c.First, c.Now)
			add(ws.id(c.Now, true), f*c.P)
			add(ws.id(c.Now, false), (1-f)*c.P)
		case len(c.Now) == 0: // it has failed its test, so all is not well
		case ws.hides(c.Now) < 1-1e-9: // faults that never show do not make it fail
			add(ws.id(c.Now, true), c.P)
		}
	}
	add(unknownWorld, left)
	if len(out.ids) == 0 {
		add(unknownWorld, 1)
	}
	return p.worlds.scaled(out, func(int) float64 { return 1 })
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
