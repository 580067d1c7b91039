package plan

import (
	"context"
	"fmt"
	"math"

	"fettler/internal/belief"
)

// A knob is a figure that two moves may be compared over: what it is called, what it
// is now, and the tariff with another value of it.
type knob struct {
	what  string
	now   float64
	top   float64 // where to stop looking
	turns func(v float64) *tariff
}

// What a Break can be about.
const (
	RepairMinutes = "minutes of the repair"
	RepairPrice   = "price of the part"
	DeviceWorth   = "worth of the device"
)

// minutesOf varies the minutes that repair r takes.
func (p *Planner) minutesOf(r int) knob {
	now := p.tariff.m.Repairs[r].Minutes
	return knob{RepairMinutes, now, 10*now + 240, func(v float64) *tariff {
		return p.tariff.repriced(r, func(c *Cost) { c.Minutes = v })
	}}
}

// priceOf varies the price of the parts of repair r.
func (p *Planner) priceOf(r int) knob {
	now := p.tariff.repair(r, 0).cost.Money
	return knob{RepairPrice, now, 10*now + 2*p.settings.Worth + 10, func(v float64) *tariff {
		return p.tariff.repriced(r, func(c *Cost) { c.Money = v })
	}}
}

// worth varies what the working device is worth.
func (p *Planner) worth() knob {
	return knob{DeviceWorth, p.settings.Worth, 10*p.settings.Worth + 1000, func(v float64) *tariff {
		s := p.settings
		s.Worth = v
		return newTariff(p.tariff.m, s, p.atHand)
	}}
}

// repriced is the tariff with another cost for repair r.
func (t *tariff) repriced(r int, change func(c *Cost)) *tariff {
	out := *t
	out.repairs = append([][]leg(nil), t.repairs...)
	out.repairs[r] = append([]leg(nil), t.repairs[r]...)
	for i := range out.repairs[r] {
		c := out.repairs[r][i].cost
		change(&c)
		out.repairs[r][i].cost = out.sum(c)
	}
	return &out
}

// valueOf is what a move from root costs in all under another tariff, looked one move ahead.
func (p *Planner) valueOf(root *node, m Move, t *tariff) float64 {
	defer p.under(t)()
	n := &node{b: root.b, at: root.at}
	switch m.Kind {
	case Check:
		return p.checkArc(n, m.Index).upper.total
	case Repair:
		return p.repairArc(n, m.Index).upper.total
	case Test:
		return p.testArc(n, p.worlds.passing(n.b)).upper.total
	default:
		return t.loss()
	}
}

// found is by how much m costs more than its rival as far as both have been thought out, and whether they have been.
func (p *Planner) found(root *node, m, rival Move) (float64, bool) {
	total := func(m Move) (float64, bool) {
		if m.Kind == Stop {
			return p.tariff.loss(), true
		}
		if a := root.arc(m); a != nil {
			return a.upper.total, true
		}
		return 0, false
	}
	x, ok := total(m)
	y, too := total(rival)
	return x - y, ok && too
}

// under has the planner reckon with another tariff until the function it returns is called.
func (p *Planner) under(t *tariff) (back func()) {
	tariff, known, met, bounding := p.tariff, p.known, p.met, p.bounding
	p.tariff, p.known, p.met, p.bounding = t, map[key]estimate{}, map[key]*node{}, false
	return func() { p.tariff, p.known, p.met, p.bounding = tariff, known, met, bounding }
}

// tie finds the value of the knob at which move m costs as much as its rival, by
// false position between 0, the present value and the top. Both are looked one move ahead;
// what thinking further has found about them at the present value is taken to hold
// for the others. It reports false if m is not better now, or stays better over the whole range.
func (p *Planner) tie(root *node, m, rival Move, k knob) (*Break, bool) {
	now, thought := p.found(root, m, rival)
	if thought && now > -1e-9 {
		return nil, false
	}
	raw := func(v float64) float64 {
		t := k.turns(v)
		return p.valueOf(root, m, t) - p.valueOf(root, rival, t)
	}
	further := 0.0
	if ahead := raw(k.now); thought {
		further = now - ahead
	} else if now = ahead; now > -1e-9 {
		return nil, false
	}
	behind := func(v float64) float64 { return raw(v) + further }
	for _, far := range []float64{0, k.top} {
		end := behind(far)
		if end <= 0 || far == k.now {
			continue
		}
		at := falsePosition(behind, k.now, now, far, end)
		return &Break{What: k.what, At: at, Over: far < k.now, Now: k.now, Rival: rival}, true
	}
	return nil, false
}

// falsePosition finds a zero of f between a and b, where it has values fa and fb
// of opposite sign (the Illinois variant, which also closes in on kinks).
func falsePosition(f func(float64) float64, a, fa, b, fb float64) float64 {
	x := a
	for range 40 {
		x = (a*fb - b*fa) / (fb - fa)
		fx := f(x)
		if math.Abs(fx) < 5e-4 || math.Abs(b-a) < 5e-4 {
			break
		}
		if (fx > 0) == (fb > 0) {
			b, fb = x, fx
			fa /= 2
		} else {
			a, fa = b, fb
			b, fb = x, fx
		}
	}
	return x
}

// pays finds the break-even that decided between the best move and its nearest
// rival of the other sort: to test first or to replace untested; to mend a part
// or to swap the block; to go on or to stop.
func (p *Planner) pays(root *node, ranking []Ranked) *Break {
	best := ranking[0]
	for _, x := range ranking[1:] {
		if x.Blocked != "" || best.Kind == Stop || x.Kind == best.Kind && best.Kind != Repair {
			continue
		}
		for _, k := range p.knobs(best.Move, x.Move) {
			if b, ok := p.tie(root, best.Move, x.Move, k); ok {
				return b
			}
		}
		return nil
	}
	return nil
}

// knobs are the figures over which two moves are worth comparing.
func (p *Planner) knobs(best, rival Move) []knob {
	r := best.Index
	switch {
	case rival.Kind == Stop:
		return []knob{p.worth()}
	case rival.Kind == Repair && best.Kind != Repair:
		r = rival.Index
	case best.Kind != Repair:
		return nil
	}
	if p.settings.Rate > 0 {
		return []knob{p.minutesOf(r), p.priceOf(r)}
	}
	return []knob{p.priceOf(r)}
}

// BreakEven says at which value of what (RepairMinutes or RepairPrice of a repair that is one of
// the two moves, or DeviceWorth) move m would cost as much as its rival. It is nil if m is not the better one now, or stays so whatever the value.
func (p *Planner) BreakEven(ctx context.Context, b *belief.Belief, sit Situation, m, rival Move, what string) (*Break, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.bounding = false
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	for _, x := range []Move{m, rival} {
		if err := p.legal(x); err != nil {
			return nil, err
		}
	}
	p.think(root)
	k := p.worth()
	if what != DeviceWorth {
		r := m
		if r.Kind != Repair {
			r = rival
		}
		if r.Kind != Repair {
			return nil, fmt.Errorf("neither of the two moves is a repair, so there is no %s to compare them over", what)
		}
		switch what {
		case RepairMinutes:
			k = p.minutesOf(r.Index)
		case RepairPrice:
			k = p.priceOf(r.Index)
		default:
			return nil, fmt.Errorf("there is no break-even over %q; ask for %q, %q or %q", what, RepairMinutes, RepairPrice, DeviceWorth)
		}
	}
	out, _ := p.tie(root, m, rival, k)
	return out, nil
}

// legal says if a move names something the model does not have.
func (p *Planner) legal(m Move) error {
	n := map[Kind]int{Check: len(p.tariff.m.Checks), Repair: len(p.tariff.m.Repairs)}[m.Kind]
	if (m.Kind == Check || m.Kind == Repair) && (m.Index < 0 || m.Index >= n) {
		return fmt.Errorf("there is no %v %d; the note of %s has %d", m.Kind, m.Index, p.tariff.m.ID, n)
	}
	if m.Kind == Check && len(p.worlds.checks[m.Index].results) == 0 {
		return fmt.Errorf("check %q tells nothing new any more", p.tariff.m.Checks[m.Index].Title)
	}
	return nil
}
