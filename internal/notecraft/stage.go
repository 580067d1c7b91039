package notecraft

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// A stage is what all runs of one rehearsal share.
type stage struct {
	m     *note.Model
	e     *belief.Engine
	o     Options
	house house

	weights map[int]float64 // what a run counts for, by its mode

	mu    sync.Mutex
	known map[string]*answer // advice by history
}

// An answer is the advice for one history. Whoever asks first works it out; the
// others wait for it.
type answer struct {
	once   sync.Once
	err    error
	move   plan.Move
	cost   plan.Cost
	top    int             // likeliest suspect now, -1 if it is the unknown fault
	checks map[int]float64 // how far each check that was open was behind the best move
}

// An actor is one run under way.
type actor struct {
	*stage
	dice  *rand.Rand
	turn  int // which of the runs of its fault it is
	run   Run
	there []int // faults there now
	ev    belief.Evidence
	sit   plan.Situation
	trace strings.Builder // the history, as a key
	made  map[plan.Move]int
}

func (s *stage) run(ctx context.Context, mode, turn int) (Run, error) {
	a := &actor{stage: s, turn: turn, made: map[plan.Move]int{}}
	a.dice = rand.New(rand.NewPCG(s.o.Seed, uint64(mode)<<20|uint64(turn)))
	a.run = Run{Mode: mode, Named: -1, End: Lost}
	a.sit = plan.Situation{AtHand: map[int]bool{}, Known: map[int]bool{}, Done: map[int]bool{}}
	a.there = a.follow([]int{mode})
	a.run.There = slices.Clone(a.there)
	if !a.complain() {
		a.run.End = Silent
		return a.run, nil
	}
	for range s.o.Moves {
		if err := ctx.Err(); err != nil {
			return a.run, err
		}
		next, err := a.ask(ctx)
		if err != nil {
			return a.run, err
		}
		if a.run.Named < 0 && next.top == mode {
			a.run.Named = len(a.run.Moves)
		}
		if next.move.Kind == plan.Stop {
			a.run.End = Stopped
			break
		}
		if a.make(next) {
			break
		}
	}
	if a.run.End == Stopped || a.run.End == Lost { // put together again before it goes back
		a.run.Minutes += a.house.way(a.sit.Access, 0)
	}
	return a.run, nil
}

// ask returns the advice for the history so far.
func (a *actor) ask(ctx context.Context) (*answer, error) {
	key := a.trace.String()
	a.mu.Lock()
	x := a.known[key]
	if x == nil {
		x = &answer{}
		a.known[key] = x
	}
	a.mu.Unlock()
	x.once.Do(func() { x.err = a.workOut(ctx, x) })
	return x, x.err
}

// workOut asks a planner of its own: one that has advised before may number its
// worlds otherwise, and a tie could then fall to the other side.
func (a *actor) workOut(ctx context.Context, x *answer) error {
	b, err := a.e.Posterior(ctx, a.ev)
	if err != nil {
		return err
	}
	known, err := a.e.Stands(a.ev)
	if err != nil {
		return err
	}
	a.sit.Known = known
	p, err := plan.New(a.e, a.o.Bench)
	if err != nil {
		return err
	}
	advice, err := p.AdviseWith(ctx, b, a.sit, a.o.Effort)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if !a.o.Cheapest {
		advice, _ = advice.Careful(a.m, a.o.Bench, a.sit.Pending)
	}
	x.move, x.cost = advice.Best.Move, advice.Best.Cost
	if advice.Best.Blocked != "" {
		x.move = plan.Move{Kind: plan.Stop, Index: -1}
	}
	x.top = likeliest(b.Now)
	if b.Unknown > b.Now[x.top] {
		x.top = -1
	}
	x.checks = map[int]float64{}
	for _, r := range advice.Ranking {
		if r.Kind == plan.Check && r.Blocked == "" {
			x.checks[r.Index] = r.Behind
		}
	}
	return nil
}

// make does what was advised and reports whether that was the end.
func (a *actor) make(x *answer) (over bool) {
	a.dice = a.luck(x.move)
	a.run.Moves = append(a.run.Moves, x.move)
	a.run.Money += x.cost.Money
	a.run.Minutes += x.cost.Minutes + x.cost.Access
	a.run.Days += x.cost.Days
	a.sit.Spent += x.cost.Money
	switch x.move.Kind {
	case plan.Check:
		c := &a.m.Checks[x.move.Index]
		a.sit.Access = a.house.reach(a.sit.Access, c.Access, c.Live)
		fmt.Fprintf(&a.trace, "c%d:", x.move.Index)
		for _, f := range c.Findings {
			a.look(f)
		}
	case plan.Repair:
		r := &a.m.Repairs[x.move.Index]
		a.sit.Access = a.house.reach(a.sit.Access, r.Access, r.Live)
		fmt.Fprintf(&a.trace, "r%d;", x.move.Index)
		a.mend(x.move.Index)
	case plan.Test:
		a.sit.Access = a.house.trial(a.sit.Access, a.o.Bench.NoLive)
		return a.test()
	}
	return false
}

// luck decides how a move comes out. It depends on the run, the move and how often it was made
// before, so that whoever goes another way through the same run meets the same luck.
func (a *actor) luck(v plan.Move) *rand.Rand {
	again := a.made[v]
	a.made[v]++
	return rand.New(rand.NewPCG(a.o.Seed, uint64(a.run.Mode)<<48|uint64(a.turn)<<32|uint64(v.Kind+1)<<28|uint64(v.Index+1)<<8|uint64(again)))
}

// mend changes the world as the repair does and begins a new epoch.
func (a *actor) mend(r int) {
	rep := &a.m.Repairs[r]
	var left []int
	for _, i := range a.there {
		success := 0.0
		for _, c := range rep.Clears {
			if c.Mode == i {
				success = max(success, c.Success)
			}
		}
		if a.dice.Float64() >= success {
			left = append(left, i)
		}
	}
	if rep.Harms >= 0 && a.dice.Float64() < rep.Harm && !slices.Contains(left, rep.Harms) {
		left = append(left, rep.Harms)
	}
	a.there = a.bringBack(left, rep)
	a.ev.Acts = append(slices.Clone(a.ev.Acts), belief.Act{Repair: r})
	a.sit.Pending = true
	a.sit.Done[r] = true
}

// test tries the whole. If it works the run is over; if not, the symptoms are looked at again.
func (a *actor) test() (over bool) {
	passes := a.symptomFree(a.there)
	if a.dice.Float64() < passes {
		a.run.End = Cured
		if len(a.there) > 0 {
			a.run.End = Hidden
		}
		a.run.Minutes += a.house.way(a.sit.Access, 0)
		a.sit.Access = 0
		return true
	}
	a.sit.Pending = false
	a.trace.WriteString("t:")
	a.showAgain()
	return false
}
