package plan

import (
	"slices"

	"fettler/internal/note"
)

// The planner's figures are good to a few minutes of work. Among moves that come
// to nearly the same the house takes the one a careful repairer would take: the
// trial after a repair, what follows a look anyway instead of the look, what eyes, nose,
// ears and hands find out unplugged before anything is powered, opened or measured, and the look that
// tells whether a part needs replacing before the part.
const (
	nearMinutes = 5    // own time that is nearly nothing
	trialWorth  = 0.02 // share of the device's worth that a trial may come dearer, if that is more
	sameNext    = 0.98 // chance of going on with one and the same move that makes a look idle
	likelyWorks = 0.5  // chance that a repair has done it from which trying comes first
	tryMinutes  = 3    // what a trial that needs no closing may cost more and still come first
	senseCheap  = 3    // minutes up to which a look is a small thing
	senseTells  = 0.35 // share of its own cost that a look may come dearer: beyond that it hardly tells a thing
	senseSpares = 0.5  // chance of powering it all the same, up to which a look comes before that,
	senseDearer = 2    // as long as it comes dearer by no more than so many times its own cost
	senseFinds  = 0.04 // chance of any but its likeliest result, below which a look is not put first
	asGood      = 0.7  // chance of a cure from which no look goes before a repair that is cheaper
	untested    = 0.25 // chance of a cure below which a part is not replaced before it has been looked at
)

// A Preference is why a move goes before one that would cost a little less.
type Preference int

const (
	AsRanked   Preference = iota // the cheapest comes first
	HasCured                     // what was done is more likely than not to have cured it
	TryFirst                     // what was done is not known to help before it is tried
	FollowsAny                   // it would come next whatever the other shows
	SensesOnly                   // it needs no power, no instrument and no opening
	TellsFirst                   // it tells whether the repair is needed at all
	OnTrail                      // it bears on what is suspected, and the other does not
)

// Near is how much dearer a move may be and still be nearly as good.
func (s Settings) Near() float64 { return nearMinutes * s.Minute() }

// Minute is what a minute of own time counts as, at least a few hundredths.
func (s Settings) Minute() float64 { return max(s.Rate/60, 0.05) }

// Prefer says which of the ranked moves a careful repairer would make: its place in the
// ranking, and why if that is not the first. Pending says that a repair has not been tried yet.
func Prefer(m *note.Model, s Settings, ranking []Ranked, pending bool) (int, Preference) {
	if len(ranking) == 0 {
		return 0, AsRanked
	}
	c := care{m, s, ranking, pending}
	at, why := 0, AsRanked
	for tried := map[int]bool{}; !tried[at]; {
		tried[at] = true
		if next, reason := c.rather(at); next >= 0 {
			at, why = next, reason
		}
	}
	return at, why
}

// Careful is advice as it is shown: what Prefer chooses is at its head, and how far the others are
// behind is told from there. Whoever follows advice, shows it or measures it takes it from here.
func (a *Advice) Careful(m *note.Model, s Settings, pending bool) (*Advice, Preference) {
	if a == nil || len(a.Ranking) == 0 {
		return a, AsRanked
	}
	at, why := Prefer(m, s, a.Ranking, pending)
	if at == 0 {
		return a, AsRanked
	}
	return a.First(a.Ranking[at].Move), why
}

// First is the advice with a move at its head, if that is among the ranked.
func (a *Advice) First(move Move) *Advice {
	at := slices.IndexFunc(a.Ranking, func(x Ranked) bool { return x.Move == move })
	if at <= 0 {
		return a
	}
	out := *a
	head := a.Ranking[at]
	out.Ranking = slices.Insert(slices.Delete(slices.Clone(a.Ranking), at, at+1), 0, head)
	for i := range out.Ranking {
		if out.Ranking[i].Blocked == "" {
			out.Ranking[i].Behind = max(0, out.Ranking[i].Behind-head.Behind)
		}
	}
	out.Best = out.Ranking[0]
	return &out
}

// liked is the arc that a careful repairer takes from a node, nil to stop.
func (p *Planner) liked(n *node) *arc {
	best := p.chosen(n)
	if best == nil {
		return nil
	}
	list := p.outline(n)
	at, _ := Prefer(p.e.Model(), p.settings, list, p.worlds.passing(n.b) > least)
	return n.arc(list[at].Move)
}

// next is what would be advised at a node, as far as it has been thought about.
func (p *Planner) next(n *node) Move {
	if !n.open || n.end || n.peeked {
		return n.upper.first
	}
	if a := p.liked(n); a != nil {
		return a.move
	}
	return Move{Stop, -1}
}

// outline ranks the moves from a node with as much as Prefer has to know.
func (p *Planner) outline(n *node) []Ranked {
	loss := p.tariff.loss()
	out := make([]Ranked, 0, len(n.arcs)+1)
	cures, bears := p.cures(n.b, p.buffer), p.bearing(n.b)
	for _, a := range n.arcs {
		if a.rough {
			continue
		}
		r := Ranked{Move: a.move, Cost: a.cost, Total: a.upper.total}
		if a.move.Kind == Repair {
			r.Cures = cures[a.move.Index]
		}
		if a.move.Kind == Check {
			r.Bears = bears(a.move.Index)
		}
		for _, x := range a.next {
			r.Results = append(r.Results, Result{P: x.p, Next: x.n.upper.first, Works: a.move.Kind == Test && x.result == 1})
		}
		out = append(out, r)
	}
	out = append(out, Ranked{Move: Move{Stop, -1}, Total: loss})
	slices.SortStableFunc(out, func(a, b Ranked) int {
		switch {
		case before(a, b):
			return -1
		case before(b, a):
			return 1
		}
		return 0
	})
	for i := range out {
		out[i].Behind = out[i].Total - out[0].Total
	}
	return out
}

// care is the choice among one ranking.
type care struct {
	m       *note.Model
	s       Settings
	ranking []Ranked
	pending bool
}

// rather finds the move to make instead of the one at index at, -1 if there is none.
func (c care) rather(at int) (int, Preference) {
	is := c.ranking[at]
	if is.Kind == Stop || is.Blocked != "" {
		return -1, AsRanked
	}
	if i, why := c.trial(at); i >= 0 {
		return i, why
	}
	if i := c.idle(at); i >= 0 {
		return i, FollowsAny
	}
	if i := c.tells(at); i >= 0 {
		return i, TellsFirst
	}
	if i := c.trail(at); i >= 0 {
		return i, OnTrail
	}
	if i := c.senses(at); i >= 0 {
		return i, SensesOnly
	}
	return -1, AsRanked
}

// can says that the move at i may go before that at index at, however it is ranked.
func (c care) can(i, at int) bool { return i != at && c.ranking[i].Blocked == "" }

// near says that it comes to nearly the same as the cheapest as well.
func (c care) near(i, at int) bool { return c.within(i, at, c.s.Near()) }

func (c care) within(i, at int, dearer float64) bool {
	return c.can(i, at) && c.ranking[i].Behind <= dearer
}

// trial is the trial of what was done, where it should come first.
func (c care) trial(at int) (int, Preference) {
	i := slices.IndexFunc(c.ranking, func(x Ranked) bool { return x.Kind == Test })
	if i < 0 || !c.pending || !c.can(i, at) {
		return -1, AsRanked
	}
	x, is := c.ranking[i], c.ranking[at]
	dearer := x.Behind - is.Behind
	if is.Kind == Check && x.Cost.Total > 0 && x.Cost.Access == 0 && is.Cost.Access == 0 {
		dearer = min(dearer, c.swapped(is, x))
	}
	switch {
	case works(x) >= likelyWorks && c.within(i, at, max(c.s.Near(), trialWorth*c.s.Worth)):
		return i, HasCured
	case dearer <= c.s.Minute(), x.Cost.Access == 0 && is.Kind == Check && dearer <= tryMinutes*c.s.Minute():
		return i, TryFirst
	}
	return -1, AsRanked
}

// swapped is how much more trying first can cost than making the look first: whoever tries first,
// looks only if it fails, and then goes on as after the look, pays the trial also where the look would have
// led elsewhere, and saves the look where it works.
func (c care) swapped(look, trial Ranked) float64 {
	return (1-shares(look)[trial.Move])*trial.Cost.Total - works(trial)*look.Cost.Total
}

// idle is the move that follows the one at index at however it comes out.
func (c care) idle(at int) int {
	next, ok := c.ranking[at].Follows()
	if !ok {
		return -1
	}
	i := slices.IndexFunc(c.ranking, func(x Ranked) bool { return x.Move == next })
	// where neither opens or closes anything, the look cannot be worth its time
	if i >= 0 && (c.near(i, at) || c.can(i, at) && c.ranking[i].Cost.Access == c.ranking[at].Cost.Access) {
		return i
	}
	return -1
}

// senses is a small look, smell or touch with the plug out and nothing opened for it, before
// anything that takes power, an instrument, opening or a part, but not before the repair of what has been
// found; it has to tell something itself, or to make powering it needless more often than not.
func (c care) senses(at int) int {
	is := c.ranking[at]
	if is.Kind == Test || is.Kind == Check && c.bare(is) || is.Kind == Repair && is.Cures >= asGood {
		return -1
	}
	live := is.Kind == Check && c.m.Checks[is.Index].Live
	for i, x := range c.ranking {
		if !c.near(i, at) || x.Kind != Check || !c.bare(x) || x.Cost.Minutes > senseCheap || finds(x) < senseFinds || x.Bears < astray && is.Bears >= onTrail {
			continue
		}
		dearer := x.Behind - is.Behind
		small := dearer <= max(senseTells*x.Cost.Total, c.s.Minute()/2)
		spares := live && dearer <= senseDearer*x.Cost.Total && c.powers(x) <= senseSpares
		if _, idle := x.Follows(); !idle && (small || spares) {
			return i
		}
	}
	return -1
}

// finds is how likely a look comes out otherwise than is likeliest.
func finds(x Ranked) float64 {
	most := 0.0
	for _, r := range x.Results {
		most = max(most, r.P)
	}
	return 1 - most
}

// powers is how likely a look is followed by something done with the power on all the same.
func (c care) powers(x Ranked) float64 {
	sum := 0.0
	for _, r := range x.Results {
		if r.Next.Kind == Test || r.Next.Kind == Check && c.m.Checks[r.Next.Index].Live {
			sum += r.P
		}
	}
	return sum
}

// bare says that a check takes eyes, nose, ears and hands alone, unplugged, with the device as it is.
func (c care) bare(x Ranked) bool { return x.Cost.Access == 0 && bare(c.m, x.Index) }

func bare(m *note.Model, check int) bool {
	x := &m.Checks[check]
	return !x.Live && !slices.ContainsFunc(x.With, func(w string) bool { return !Sense(w) })
}

// Sense says that what a step is done with is what everybody has along.
func Sense(with string) bool {
	switch with {
	case "eyes", "nose", "ears", "hands":
		return true
	}
	return false
}

// tells is a look that tells whether the unlikely repair at index at is needed, for less than it takes.
func (c care) tells(at int) int {
	is := c.ranking[at]
	if is.Kind != Repair || is.Cures >= untested {
		return -1
	}
	for i, x := range c.ranking {
		if yes := shares(x)[is.Move]; x.Kind == Check && c.near(i, at) && yes > 0 && x.Cost.Total < (1-yes)*is.Cost.Total {
			return i
		}
	}
	return -1
}

// Follows is the move that a look, or a trial, is followed by however it comes out.
func (x Ranked) Follows() (Move, bool) {
	if x.Kind != Check && x.Kind != Test || len(x.Results) == 0 {
		return Move{}, false
	}
	for m, p := range shares(x) {
		if p >= sameNext && m != x.Move && m.Kind != Stop {
			return m, true
		}
	}
	return Move{}, false
}

// shares is how likely each move is to follow, where it does not work yet.
func shares(x Ranked) map[Move]float64 {
	out := map[Move]float64{}
	for _, r := range x.Results {
		if !r.Works {
			out[r.Next] += r.P
		}
	}
	return out
}

// works is the chance that a trial goes well.
func works(x Ranked) float64 {
	p := 0.0
	for _, r := range x.Results {
		if r.Works {
			p += r.P
		}
	}
	return p
}
