package plan

// An estimate is what following some policy from a node is expected to take.
type estimate struct {
	total   float64 // all costs in money, the loss of a device not repaired included
	money   float64
	minutes float64
	success float64
	first   Move // what the policy does first
}

// A round of the base policy: a batch of repairs, then the test of the whole;
// or a look first, and the repair and the test only if it speaks for it.
type round struct {
	look    *glimpse // nil: the repairs are made untested
	repairs []int
	see     Cost    // of the look
	work    Cost    // of the repairs and the test
	shut    float64 // minutes to close it up when it works
	goes    float64 // chance that the repairs are made at all
	passes  float64 // chance that they are and the test passes
	next    float64 // chance of going on to the next round
	side    []round // what follows when the look spoke for the repair and it did not help
}

// value adds up rounds from the last to the first, stopping where that is
// better. It returns what the first is worth and how many of them are worth going into.
func (p *Planner) value(rounds []round) (estimate, int) {
	best, n := p.stop(), len(rounds)
	for k := len(rounds) - 1; k >= 0; k-- {
		r := &rounds[k]
		e := estimate{success: r.passes, first: r.first()}
		e.pay(1, r.see)
		e.pay(r.goes, r.work)
		e.total += r.passes * p.tariff.time(r.shut)
		e.minutes += r.passes * r.shut
		e.plus(r.next, best)
		if r.look != nil {
			s, _ := p.value(r.side)
			e.plus(r.goes-r.passes, s)
		}
		if s := p.stop(); s.total <= e.total+1e-9 {
			e, n = s, k
		}
		best = e
	}
	return best, n
}

func (e *estimate) pay(p float64, c Cost) {
	e.total += p * c.Total
	e.money += p * c.Money
	e.minutes += p * (c.Minutes + c.Access)
}

func (e *estimate) plus(p float64, x estimate) {
	e.total += p * x.total
	e.money += p * x.money
	e.minutes += p * x.minutes
	e.success += p * x.success
}

func (r *round) first() Move {
	switch {
	case r.look != nil:
		return Move{Check, r.look.check}
	case len(r.repairs) > 0:
		return Move{Repair, r.repairs[0]}
	default:
		return Move{Test, -1}
	}
}

// mostRounds, mostBatch and mostPrefix bound the base policy. After ten rounds of repairs
// what is left of the belief is the unknown fault.
const (
	mostRounds = 10
	mostBatch  = 5
	mostPrefix = 12
	mostSide   = 2 // rounds after a look that misled
)

// place is where a policy stands, apart from its belief.
type place struct {
	access int
	spent  float64
	done   bits // repairs made on the way here
	asked  bits // checks made on the way here
}

// base evaluates the base policy V₀ from a node: rounds of repairs by falling
// probability per cost, each followed by the test of the whole, no checks, and
// stopping wherever going on costs more than the loss.
//
// A round starts with the repair at the head of the most efficient prefix over
// all access levels (an unopened cover competes by its best prefix, as in
// Ottosen & Jensen's bottom-up P-over-C), and takes in further repairs before
// the test as long as doing them now costs less than testing first and coming
// back for them when the test fails (the postponed system test).
func (p *Planner) base(b lot, at place) estimate {
	k := p.same(b, at)
	if e, ok := p.known[k]; ok {
		return e
	}
	e := p.follow(b, at)
	if len(p.known) >= mostKnown {
		clear(p.known)
	}
	p.known[k] = e
	return e
}

// mostKnown bounds what is remembered of the base policy.
const mostKnown = 200_000

func (p *Planner) follow(b lot, at place) estimate {
	defer p.worlds.lend()()
	e, _ := p.value(p.rounds(b, at))
	return e
}

func (p *Planner) stop() estimate {
	return estimate{total: p.tariff.loss(), first: Move{Stop, -1}}
}

// rounds lays out the base policy's sequence along the path on which nothing helps.
func (p *Planner) rounds(b lot, at place) []round { return p.layRounds(b, at, true) }

func (p *Planner) layRounds(b lot, at place, looks bool) []round {
	var out []round
	at.done, at.asked = at.done.clone(), at.asked.clone()
	reach := 1.0
	for len(out) < mostRounds && reach > leastReach && (looks || len(out) < mostSide) {
		r, ok := p.round(&b, &at, looks)
		if !ok {
			break
		}
		out = append(out, r)
		reach *= r.next
	}
	return out
}

// round chooses one batch and its test, or a look first, and leaves b and at as
// they are when it did not help. It reports false when nothing helps any more.
func (p *Planner) round(b *lot, at *place, looks bool) (round, bool) {
	r := round{goes: 1}
	if p.worlds.passing(*b) < least {
		rep, ratio := p.head(*b, at.access, at.spent, at.done)
		if looks {
			if g, ok := p.keenest(*b, *at, ratio); ok && g.ratio*p.tariff.loss() > hopeless {
				return p.lookRound(b, at, g), true
			}
		}
		if rep < 0 || ratio*p.tariff.loss() <= hopeless {
			return r, false
		}
		p.take(&r, rep, b, at)
	}
	for len(r.repairs) < mostBatch {
		rep, found := p.also(*b, *at, looks)
		if !found {
			break
		}
		p.take(&r, rep, b, at)
	}
	r.passes = p.try(&r, *b, at)
	r.next = 1 - r.passes
	if r.next > 1e-9 {
		*b = p.worlds.failed(*b)
	}
	return r, true
}

// take makes repair rep part of the round.
func (p *Planner) take(r *round, rep int, b *lot, at *place) {
	l := p.tariff.repair(rep, at.access)
	r.work.add(l.cost)
	r.repairs = append(r.repairs, rep)
	at.access = l.to
	at.spent += l.cost.Money
	at.done.set(rep)
	*b = p.worlds.repair(*b, rep)
}

// try adds the test of the whole to the round and returns the chance that it passes.
func (p *Planner) try(r *round, b lot, at *place) float64 {
	l := p.tariff.test(at.access)
	r.work.add(l.cost)
	r.shut = p.tariff.closing(l.to)
	at.access = l.to
	return p.worlds.passing(b)
}

// lookRound is the round that begins with look g.
func (p *Planner) lookRound(b *lot, at *place, g glimpse) round {
	see := p.tariff.check(g.check, at.access)
	r := round{look: &g, see: see.cost, goes: g.pYes, next: 1 - g.pYes}
	at.access = see.to
	at.asked.set(g.check)
	mend := p.tariff.repair(g.rep, see.to)
	test := p.tariff.test(mend.to)
	r.work, r.repairs = mend.cost, []int{g.rep}
	r.work.add(test.cost)
	r.shut = p.tariff.closing(test.to)
	r.passes = g.cures
	if r.goes-r.passes > leastSide {
		r.side = p.misled(*b, *at, g, mend.cost.Money, test.to)
	}
	if r.next > 1e-9 {
		*b = p.worlds.seen(*b, g.check, g.yes, false)
	}
	return r
}

// leastReach is the chance of getting there below which rounds are not laid out further.
const leastReach = 1e-3

// misled lays out what follows when the look spoke for the repair and it did not help.
func (p *Planner) misled(b lot, at place, g glimpse, paid float64, access int) []round {
	b = p.worlds.repair(p.worlds.thin(p.worlds.seen(b, g.check, g.yes, true)), g.rep)
	if p.worlds.passing(b) > 1-1e-9 {
		return nil
	}
	at.access, at.done = access, at.done.with(g.rep)
	at.spent += paid
	return p.layRounds(p.worlds.failed(b), at, false)
}

// leastSide is the chance below which the base policy gives up when a look misled it.
const leastSide = 0.03

// least is the chance of a cure below which a repair is not worth a thought.
const least = 1e-4
