package casework

import (
	"context"
	"time"

	"fettler/internal/belief"
	"fettler/internal/plan"
)

// further is how many situations are looked into beyond the first when there
// is time for it: about half a second on the loudspeaker of the shipped notes. By
// then most of what one move of looking ahead gives away is won back (docs/decision.md).
const further = 30

// pause is how long a case rests before its plan is laid out in the background. It has no
// part in what comes out.
const pause = 2 * time.Second

// mulled is what has been worked out about a view beyond it.
type mulled struct {
	begun bool               // Ponder has been asked for it
	stop  context.CancelFunc // ends what is under way
	ahead *Rehearsed
	minds *Minds
}

// thinker is an adviser that can think longer; *plan.Planner is one.
type thinker interface {
	AdviseWith(ctx context.Context, b *belief.Belief, sit plan.Situation, effort plan.Effort) (*plan.Advice, error)
}

// Ponder begins to think about a case in the background: further ahead for the
// advice, then through all the ways it can go. View, and Ahead, give the result once it is
// there. It does nothing for a case that has not been viewed, and what it works out
// for a case that moves on meanwhile is dropped.
func (b *Bench) Ponder(caseID string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	k := b.views[caseID]
	if k == nil || k.mulled.begun || k.thought == nil || k.thought.advice == nil {
		return
	}
	ctx, stop := context.WithCancel(context.Background())
	k.mulled.begun, k.mulled.stop = true, stop
	go func() {
		defer stop()
		k, err := b.lookFurther(ctx, caseID, k)
		if err != nil {
			return // only a later page misses it
		}
		select { // whoever goes on at once needs the machine for something else
		case <-time.After(pause):
			_, _ = b.rehearse(ctx, caseID, k)
		case <-ctx.Done():
		}
	}()
}

// Further returns the view of a case with advice that has looked further ahead,
// waiting for it if need be. The same journal gives the same advice.
func (b *Bench) Further(ctx context.Context, caseID string) (*View, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if k, err = b.lookFurther(ctx, caseID, k); err != nil {
		return nil, err
	}
	return k.view, nil
}

// turn waits for its turn to think at length.
func (b *Bench) turn(ctx context.Context) (done func(), err error) {
	select {
	case b.mull <- struct{}{}:
		return func() { <-b.mull }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// lookFurther puts a deeper advice in the place of the one kept.
func (b *Bench) lookFurther(ctx context.Context, caseID string, k *kept) (*kept, error) {
	done, err := b.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	b.mu.Lock()
	if now := b.views[caseID]; now != nil && now.seq == k.seq && now.bench == k.bench && now.m == k.m {
		k = now // somebody else has done it meanwhile
	}
	b.mu.Unlock()
	out, err := k.further(ctx)
	if err == nil && out != k {
		b.replace(caseID, k, out)
	}
	return out, err
}

// further is what is kept with advice that looked further ahead; itself if there is none to be had.
func (k *kept) further(ctx context.Context) (*kept, error) {
	if k.thought == nil || k.thought.advice == nil || k.thought.further {
		return k, nil
	}
	a, err := k.s.adviser()
	if err != nil {
		return nil, err
	}
	t, able := a.(thinker)
	if !able {
		return k, nil
	}
	advice, err := t.AdviseWith(ctx, k.thought.now, k.thought.sit, plan.Effort{Expansions: further})
	if err == nil {
		err = ctx.Err() // cut short, it would depend on the clock
	}
	if err != nil {
		return nil, err
	}
	return k.with(advice), nil
}

// with is what is kept with another advice.
func (k *kept) with(a *plan.Advice) *kept {
	t := *k.thought
	s := *k.s
	s.ctx, s.thought = context.Background(), &t
	t.advice, t.rathered = s.prefer(a)
	if t.advice != nil && s.steady(t.advice, k.thought.advice.Best.Move) {
		t.advice, t.rathered = t.advice.First(k.thought.advice.Best.Move), k.thought.rathered
	}
	if t.further = true; t.advice != nil && t.advice.Best.Move != k.thought.advice.Best.Move {
		t.foretold = nil
	}
	v := *k.view
	v.Next, v.RunnerUp, v.Ranking, v.Outlook, v.NoNext = nil, nil, []Card{}, nil, ""
	s.moves(&v)
	return &kept{seq: k.seq, bench: k.bench, m: k.m, view: &v, thought: &t, s: &s}
}

// replace puts new in the place of old, if that is still what is kept.
func (b *Bench) replace(caseID string, old, new *kept) {
	b.mu.Lock()
	defer b.mu.Unlock()
	new.mulled = old.mulled
	new.mulled.begun = true
	if b.views[caseID] == old {
		b.views[caseID] = new
	}
}
