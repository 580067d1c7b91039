package casework

import (
	"context"
	"math"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/ledger"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/school"
)

// A trial of the whole device.
type trial struct {
	event int
	epoch int
	works bool
}

// What a lesson keeps at most: of a case that was decided this is all but a hundredth.
const (
	setLeast  = 0.003
	setsMost  = 24
	sayLeast  = 0.01 // a chance below that is not counted as stated
	saysMost  = 30
	decided   = 0.9 // from here on, or below its opposite, it counts as known what it was
	planNodes = 40
)

// About what a chance was stated.
const (
	AboutFault = "it was this fault"
	AboutWorks = "it will work"
)

// learn adds to a closing what the case teaches.
func (s scene) learn(ctx context.Context, p *ClosedCase) error {
	c := s.c
	if c.Opened.Demo || c.Opened.Record != nil || c.Model == nil {
		return nil
	}
	k := s.b.plain(c.Opened.Device)
	if k == nil {
		return nil
	}
	e, err := k.engine()
	if err != nil {
		return nil // the note's figures are out of range; View says so
	}
	last, err := e.Posterior(ctx, c.Evidence)
	if err != nil {
		return err
	}
	l := &school.Lesson{}
	if l.Sheet, l.Note = s.b.school.Sheet(k.source); l.Sheet == "" {
		return nil
	}
	if p.Stated {
		l.Sets = []school.Set{c.statedSet(p.Because)}
	} else {
		l.Unknown = round5(last.Unknown)
		l.Sets = setsOf(last)
		l.Tries = c.tries(e, last)
	}
	l.Looks = c.firstLooks()
	if l.Said, err = c.sayings(ctx, e, l, p.Verdict, last); err != nil {
		return err
	}
	if l.Cost, err = s.b.foretold(ctx, k, c); err != nil {
		return err
	}
	l.Cost.Currency, l.Cost.Money, l.Cost.Minutes = c.Settings.Currency, c.Money, c.Minutes
	switch p.Verdict {
	case Fixed:
		l.Cost.Minutes += travel(c.Model, c.Access, 0)
		l.Gain = ledger.Gain{Worth: c.Settings.Worth, Kg: p.Kg}
	case KeptForParts:
		l.Gain = ledger.Gain{Scrap: c.Settings.Scrap, Kg: p.Kg}
	default:
		l.Gain = ledger.Gain{Kg: p.Kg}
	}
	p.Lesson = l
	return nil
}

func round5(v float64) float64 { return math.Round(v*1e5) / 1e5 }

func (c *Case) statedSet(because []Share) school.Set {
	set := school.Set{P: 1}
	for _, b := range because {
		set.Modes = append(set.Modes, c.names.modes[b.Mode])
	}
	slices.Sort(set.Modes)
	return set
}

func setsOf(bl *belief.Belief) []school.Set {
	var out []school.Set
	for _, x := range bl.Candidates {
		if x.Unknown || len(x.First) == 0 || x.P < setLeast {
			continue
		}
		if out = append(out, school.Set{Modes: slices.Clone(x.First), P: round5(x.P)}); len(out) == setsMost {
			break
		}
	}
	return out
}

// firstLooks counts the signs looked for before the first repair, and those that
// tests of parts taken out have told of that time. The ledger puts signs down to the
// faults the device came with. What was seen later speaks of those that were left,
// and which these were is itself only reckoned from the success the note gives the
// repair: to count it would let the note confirm itself. Leaving it out bends
// nothing, since whether one looks again does not depend on how often the sign
// shows, only on whether the repair failed, which Tries hold.
func (c *Case) firstLooks() []ledger.Look {
	var out []ledger.Look
	for _, i := range c.standing() {
		o := c.Evidence.Seen[i]
		if f := &c.Model.Findings[o.Finding]; o.Epoch == 0 && f.Kind == note.Sign {
			out = append(out, ledger.Look{Finding: f.ID, Shown: o.Value, Of: o.Of})
		}
	}
	return out
}

// tries tells how far each repair cleared what it was for. A fault that two of the
// repairs done would clear is left out: which of them did is not known. So is one
// that would not have shown in what was seen since: of that nobody knows more than
// the note.
func (c *Case) tries(e *belief.Engine, bl *belief.Belief) []ledger.Try {
	if len(c.trials) == 0 || c.trials[len(c.trials)-1].epoch != len(c.Evidence.Acts) {
		return nil // nothing was tried since
	}
	times := map[int]int{}
	for _, a := range c.Evidence.Acts {
		if a.Repair >= 0 {
			for _, x := range c.Model.Repairs[a.Repair].Clears {
				times[x.Mode]++
			}
		}
	}
	var seen []int // findings, since the last repair
	for _, i := range c.standing() {
		if o := c.Evidence.Seen[i]; o.Epoch == len(c.Evidence.Acts) {
			seen = append(seen, o.Finding)
		}
	}
	sound := e.World(nil)
	shows := func(mode int) bool {
		w := e.World([]int{mode})
		return slices.ContainsFunc(seen, func(f int) bool { return difference(e.Chances(w, f), e.Chances(sound, f)) > 0.05 })
	}
	var out []ledger.Try
	for _, a := range c.Evidence.Acts {
		if a.Repair < 0 {
			continue
		}
		r := &c.Model.Repairs[a.Repair]
		for _, x := range r.Clears {
			if there := bl.First[x.Mode]; times[x.Mode] == 1 && there >= 0.01 && shows(x.Mode) {
				cleared := min(max((there-bl.Now[x.Mode])/there, 0), 1)
				out = append(out, ledger.Try{Repair: r.ID, Mode: c.Model.Modes[x.Mode].ID, There: round5(there), Cleared: round5(cleared)})
			}
		}
	}
	return out
}

// until is the evidence there was before an event. What was found out later about
// a part taken out earlier was not known then.
func (c *Case) until(event int) belief.Evidence {
	var ev belief.Evidence
	for i, l := range c.Looks {
		if l.Event < event {
			ev.Seen = append(ev.Seen, c.Evidence.Seen[i])
		}
	}
	for i, a := range c.Acts {
		if a < event {
			ev.Acts = append(ev.Acts, c.Evidence.Acts[i])
		}
	}
	return ev
}

// sayings gathers the chances the bench would have stated, by the note alone, and
// what came of them: of each trial whether it would work, and of a repaired
// device whose fault is known, which fault it was, before the first repair.
func (c *Case) sayings(ctx context.Context, e *belief.Engine, l *school.Lesson, v Verdict, last *belief.Belief) ([]ledger.Saying, error) {
	var out []ledger.Saying
	for _, t := range c.trials {
		if t.epoch == 0 {
			continue
		}
		bl, err := e.Posterior(ctx, c.until(t.event))
		if err != nil {
			return nil, err
		}
		out = append(out, ledger.Saying{About: AboutWorks, P: round5(sound(bl)), Came: t.works})
	}
	if v != Fixed || len(c.Acts) == 0 {
		return out, nil
	}
	was := last.First
	if len(l.Sets) == 1 && l.Sets[0].P == 1 { // the repairer's word
		was = make([]float64, len(last.First))
		for _, m := range l.Sets[0].Modes {
			was[m] = 1
		}
	}
	for _, p := range was {
		if p > 1-decided && p < decided {
			return out, nil // it is not known what it was
		}
	}
	before, err := e.Posterior(ctx, c.until(c.Acts[0]))
	if err != nil {
		return nil, err
	}
	n := 0
	for i, p := range before.First {
		if p >= sayLeast && n < saysMost {
			out = append(out, ledger.Saying{About: AboutFault, P: round5(p), Came: was[i] >= decided})
			n++
		}
	}
	return out, nil
}

// sound is the chance that nothing is wrong now.
func sound(bl *belief.Belief) float64 {
	ok, all := 0.0, 0.0
	for _, x := range bl.Candidates {
		all += x.P
		if !x.Unknown && len(x.Now) == 0 {
			ok += x.P
		}
	}
	if !(all > 0) {
		return 0
	}
	return min(1, ok/all)
}

// foretold is what the case was expected to cost when only its symptoms were known.
func (b *Bench) foretold(ctx context.Context, k *knowledge, c *Case) (ledger.Cost, error) {
	e, err := k.engine()
	if err != nil {
		return ledger.Cost{}, nil
	}
	s := &sheet{ctx: ctx, b: b, k: k, c: c, e: e, thought: &thought{set: c.Settings.plan()}}
	a, err := s.adviser()
	r, able := a.(rehearser)
	if err != nil || !able {
		return ledger.Cost{}, nil // with such settings nothing was foretold
	}
	var ev belief.Evidence
	known := map[int]bool{}
	for i, l := range c.Looks {
		if l.From != "said" && l.From != "noticed" || c.Evidence.Seen[i].Epoch > 0 {
			break
		}
		ev.Seen = append(ev.Seen, c.Evidence.Seen[i])
		known[c.Evidence.Seen[i].Finding] = true
	}
	bl, err := e.Posterior(ctx, ev)
	if err != nil {
		return ledger.Cost{}, err
	}
	x, err := r.Rehearse(ctx, bl, plan.Situation{AtHand: map[int]bool{}, Known: known, Done: map[int]bool{}}, planNodes)
	if err != nil || len(x.Leaves) == 0 {
		return ledger.Cost{}, ctx.Err()
	}
	money := func(l plan.Leaf) float64 { return l.Money }
	minutes := func(l plan.Leaf) float64 { return l.Minutes }
	cents := func(v float64) float64 { return math.Round(v*100) / 100 }
	return ledger.Cost{Foretold: true,
		MoneyMean: cents(x.Mean(money)), MoneyLow: cents(x.Quantile(0.05, money)), MoneyHigh: cents(x.Quantile(0.95, money)),
		MinMean: cents(x.Mean(minutes)), MinLow: cents(x.Quantile(0.05, minutes)), MinHigh: cents(x.Quantile(0.95, minutes))}, nil
}
