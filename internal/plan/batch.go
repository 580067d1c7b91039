package plan

// A Batch is the reason for making repairs together before the whole is tried:
// "while it is open, do all three: they cost 9 minutes, another round trip costs 25".
type Batch struct {
	Repairs []int   // all of them in order, the recommended repair first
	Extra   Cost    // of the repairs beyond the first, made now
	Round   Cost    // of another round trip: the test, and the way back to the first of them
	Fails   float64 // how likely the round trip would be needed: the chance that the first repair alone does not do it
	Saves   float64 // expected saving in money of batching over testing after the first
}

// batch says which repairs to make together with the recommended one before the
// test, nil if the test comes next.
func (p *Planner) batch(root *node, best Move) *Batch {
	if best.Kind != Repair {
		return nil
	}
	l := p.tariff.repair(best.Index, root.at.access)
	b := p.worlds.repair(root.b, best.Index)
	at := place{access: l.to, spent: root.at.spent + l.cost.Money, done: root.at.done.with(best.Index), asked: root.at.asked}
	rounds := p.rounds(b, at)
	if len(rounds) == 0 || len(rounds[0].repairs) == 0 || rounds[0].look != nil {
		return nil
	}
	more := rounds[0].repairs
	out := &Batch{Repairs: append([]int{best.Index}, more...), Fails: 1 - p.worlds.passing(b)}
	for _, r := range more {
		x := p.tariff.repair(r, at.access)
		out.Extra.add(x.cost)
		at.access = x.to
	}
	test := p.tariff.test(l.to)
	out.Round.add(test.cost)
	back := p.tariff.repair(more[0], test.to).cost
	out.Round.add(p.tariff.sum(Cost{Access: back.Access}))
	out.Saves = p.apart(b, l.to, more) - p.together(l.to, more)
	return out
}

// together is the cost of the repairs and one test.
func (p *Planner) together(from int, rs []int) float64 {
	sum := 0.0
	for _, r := range rs {
		l := p.tariff.repair(r, from)
		sum += l.cost.Total
		from = l.to
	}
	return sum + p.tariff.test(from).cost.Total
}

// apart is the expected cost of testing before each of the repairs and once more at the end.
func (p *Planner) apart(b lot, from int, rs []int) float64 {
	sum, reach := 0.0, 1.0
	for _, r := range rs {
		test := p.tariff.test(from)
		sum += reach * test.cost.Total
		fails := 1 - p.worlds.passing(b)
		if reach *= fails; reach < 1e-9 {
			return sum
		}
		l := p.tariff.repair(r, test.to)
		sum += reach * l.cost.Total
		b = p.worlds.repair(p.worlds.failed(b), r)
		from = l.to
	}
	return sum + reach*p.tariff.test(from).cost.Total
}
