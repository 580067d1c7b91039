package casework

import (
	"context"
	"errors"
	"fmt"
	"reflect"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// A kept view is shown again until the journal, the bench's settings or the note change.
type kept struct {
	seq, bench int
	m          *note.Model
	view       *View
	thought    *thought
	s          *sheet
	quick      *Outlook // the first reckoning, where view has that of the plan laid out
	mulled     mulled   // what was worked out beyond the view; under Bench.mu
}

// A thought is what took long to work out for a view. It holds as long as the
// evidence, the situation and the settings are the same: a remark or a picture
// does not change it.
type thought struct {
	m        *note.Model
	ev       belief.Evidence
	sit      plan.Situation
	set      plan.Settings
	now      *belief.Belief
	why      [][]belief.Weight
	advice   *plan.Advice
	rathered *preferred // what was put before the planner's first; nil if nothing
	noAdvice string
	further  bool        // advice looked further ahead than one move
	foretold []plan.Move // what will be advised after each result of the advised check, as far as worked out
}

// mostKept bounds the views kept.
const mostKept = 64

// View returns all there is to show of a case. It may be shared: do not alter it.
func (b *Bench) View(ctx context.Context, caseID string) (*View, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	return k.view, nil
}

// look returns what is kept of a case, made anew if need be.
func (b *Bench) look(ctx context.Context, caseID string) (*kept, error) {
	bench, events, err := b.read(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if caseID == BenchCase {
		return nil, fail(NotFound, "name a case", "the bench itself is no case")
	}
	id, err := DeviceOf(events)
	if err != nil {
		return nil, err
	}
	k := b.knowledge(id)
	mark := kept{seq: len(events), bench: len(bench)}
	if k != nil {
		mark.m = k.m
	}
	b.mu.Lock()
	old := b.views[caseID]
	b.mu.Unlock()
	if old != nil && old.seq == mark.seq && old.bench == mark.bench && old.m == mark.m {
		return old, nil
	}
	var last *thought
	if old != nil {
		last = old.thought
	}
	s, err := b.newSheet(ctx, k, last, bench, events)
	if err != nil {
		return nil, err
	}
	if mark.view, err = s.view(); err != nil {
		return nil, err
	}
	mark.thought, mark.s = s.thought, s
	b.keep(caseID, &mark)
	return &mark, nil
}

func (b *Bench) keep(caseID string, k *kept) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if old := b.views[caseID]; old != nil && old.mulled.stop != nil {
		old.mulled.stop() // nobody will ask for it
	}
	if len(b.views) >= mostKept {
		for other := range b.views {
			delete(b.views, other)
			break
		}
	}
	b.views[caseID] = k
}

// A sheet is a view in the making.
type sheet struct {
	ctx context.Context
	b   *Bench
	k   *knowledge // nil without a note
	c   *Case

	e       *belief.Engine
	before  *belief.Belief // before the latest event that changed the evidence
	prior   *belief.Belief
	changed *Change
	weighed *weighed // made by worlds
	*thought
}

func (b *Bench) newSheet(ctx context.Context, k *knowledge, last *thought, bench, events []Event) (*sheet, error) {
	s := &sheet{ctx: ctx, b: b, k: k, thought: &thought{}}
	var err error
	if k == nil {
		s.c, err = project(nil, namesOf(nil), bench, events)
		s.noAdvice = "without a bench note nothing can be advised"
		return s, err
	}
	if s.c, err = project(k.m, k.names, bench, events); err != nil {
		return nil, err
	}
	if err := b.shelve(s.c, bench); err != nil {
		return nil, err
	}
	if s.e, err = k.engine(); err != nil {
		return nil, &Error{Code: NoNote, Text: "the figures of the bench note cannot be reckoned with", Next: "mend the note: " + err.Error(), Err: err}
	}
	if s.prior, err = k.prior(); err != nil {
		return nil, err
	}
	if last != nil && last.m != k.m {
		last = nil
	}
	if err := s.think(last); err != nil {
		return nil, err
	}
	return s, s.lookBack(last, bench, events)
}

// think takes over the last thought if it still holds, and else works it out.
func (s *sheet) think(last *thought) error {
	t := &thought{m: s.k.m, ev: s.c.Evidence, sit: s.c.situation(), set: s.c.Settings.plan()}
	stands, err := s.e.Stands(t.ev)
	if err != nil {
		return fmt.Errorf("case %s: %w", s.c.ID, err)
	}
	for f := range stands { // a repair elsewhere does not make it worth another look
		t.sit.Known[f] = true
	}
	s.thought = t
	if last != nil && sameEvidence(last.ev, t.ev) {
		t.now, t.why = last.now, last.why
		if last.advice != nil && s.c.Closed == nil && reflect.DeepEqual(last.sit, t.sit) && reflect.DeepEqual(last.set, t.set) {
			t.advice, t.rathered, t.further, t.foretold = last.advice, last.rathered, last.further, last.foretold
			return nil
		}
		return s.advise()
	}
	reasons := make(chan error, 1)
	go func() { // meanwhile, on another processor
		var err error
		t.why, err = s.reckonWhy()
		reasons <- err
	}()
	err = s.believe()
	return errors.Join(err, <-reasons)
}

func (s *sheet) believe() error {
	var err error
	if s.now, err = s.e.Posterior(s.ctx, s.ev); err != nil {
		return fmt.Errorf("case %s: %w", s.c.ID, err)
	}
	return s.advise()
}

// reckonWhy asks what each observation that stands did to each suspect.
func (s *sheet) reckonWhy() ([][]belief.Weight, error) {
	rough, err := s.k.rough()
	if err != nil {
		return nil, err
	}
	stands := s.c.standing()
	ev := belief.Evidence{Acts: s.c.Evidence.Acts}
	for _, i := range stands {
		ev.Seen = append(ev.Seen, s.c.Evidence.Seen[i])
	}
	why, err := rough.WhyAll(s.ctx, ev, true)
	for _, w := range why {
		for k := range w {
			w[k].Seen = stands[w[k].Seen]
		}
	}
	return why, err
}

// looksBack bounds how many events that could have changed the evidence, and did not, are passed over.
const looksBack = 40

// lookBack finds the latest event that changed the evidence, and the belief before it.
func (s *sheet) lookBack(last *thought, bench, events []Event) error {
	s.before = s.now
	for n, tries := len(events)-1, 0; n > 0 && tries < looksBack; n-- {
		if !moves(events[n].Kind) {
			continue
		}
		tries++
		then, err := project(s.k.m, s.k.names, bench, events[:n])
		if err != nil {
			return err
		}
		if sameEvidence(then.Evidence, s.c.Evidence) {
			continue
		}
		s.changed = &Change{Event: n + 1, Words: s.c.Timeline[n].Words}
		if last != nil && sameEvidence(then.Evidence, last.ev) {
			s.before = last.now
			return nil
		}
		s.before, err = s.e.Posterior(s.ctx, then.Evidence)
		return err
	}
	return nil
}

// moves tells the kinds of event that can change the evidence.
func moves(k Kind) bool {
	switch k {
	case KindSaid, KindNoticed, KindChecked, KindRepaired, KindTested, KindSoaked, KindCorrected, KindUndone:
		return true
	}
	return false
}

func sameEvidence(a, b belief.Evidence) bool {
	if len(a.Seen) != len(b.Seen) || len(a.Acts) != len(b.Acts) {
		return false
	}
	for i := range a.Seen {
		if a.Seen[i] != b.Seen[i] {
			return false
		}
	}
	for i := range a.Acts {
		if a.Acts[i] != b.Acts[i] {
			return false
		}
	}
	return true
}

// advise asks the planner. What it refuses is said in the view; the rest is shown all the same.
func (s *sheet) advise() error {
	if s.c.Closed != nil {
		s.noAdvice = "the case is closed"
		return nil
	}
	if s.c.Works {
		s.noAdvice = "it works: let it run until you trust it, put it together, then close the case as fixed"
		return nil
	}
	a, err := s.adviser()
	if err == nil {
		s.advice, err = a.Advise(s.ctx, s.now, s.sit)
		s.advice, s.rathered = s.prefer(s.advice)
	}
	if err == nil {
		s.foretold, err = s.foretell(s.ctx, a)
	}
	if s.ctx.Err() != nil {
		return s.ctx.Err()
	}
	if err != nil {
		s.noAdvice = err.Error()
	}
	return nil
}

func (s *sheet) adviser() (Adviser, error) {
	if s.b.o.Advisers != nil {
		return s.b.o.Advisers(s.e, s.set)
	}
	return plan.New(s.e, s.set)
}

// situation is where the case stands, as the planner takes it.
func (c *Case) situation() plan.Situation {
	sit := plan.Situation{Access: c.Access, Spent: c.Money, AtHand: c.allAtHand(), Known: map[int]bool{}, Pending: c.Pending, Done: map[int]bool{}}
	made := map[int]bool{} // checks: what was left out of one would be left out again
	for _, o := range c.Evidence.Seen {
		if o.Epoch == len(c.Evidence.Acts) {
			sit.Known[o.Finding] = true
			made[c.Model.Findings[o.Finding].Check] = true
		}
	}
	for f := range c.Model.Findings {
		if k := c.Model.Findings[f].Check; k >= 0 && made[k] {
			sit.Known[f] = true
		}
	}
	for r := range c.Repairs {
		sit.Done[r] = true
	}
	return sit
}

func (s *sheet) view() (*View, error) {
	v := &View{
		Header: s.header(), Known: s.known(), Ask: []Question{}, Suspects: []Suspect{}, Stories: []Story{}, Ranking: []Card{}, Warnings: []Warning{},
		Source: s.source(), Timeline: s.c.Timeline, Symptoms: []Field{}, Checks: []Step{}, Repairs: []Step{}, Levels: []Level{},
		Orders: s.orders(), Settings: s.c.Settings, Limits: s.limits(), Outcome: s.outcome(), NoNext: s.noAdvice, Works: s.c.Works,
		Out: append([]OutItem{}, s.c.rework.out...), Turned: s.c.turned(),
	}
	if s.k == nil {
		return v, nil
	}
	var err error
	v.Suspects, v.Rest = s.suspects()
	v.Unknown = Chance{Title: unknownTitle, Now: s.now.Unknown, Before: s.before.Unknown}
	v.Stories, v.Changed = s.stories(), s.changed
	if v.Ask, err = s.questions(); err != nil {
		return nil, err
	}
	if v.Strain, err = s.strain(v.Known); err != nil {
		return nil, err
	}
	v.Warnings = s.warnings()
	v.Symptoms, v.Levels = s.symptoms(), s.levels()
	for i := range s.k.m.Checks {
		v.Checks = append(v.Checks, s.check(i))
	}
	for i := range s.k.m.Repairs {
		v.Repairs = append(v.Repairs, s.repair(i))
	}
	s.moves(v)
	return v, nil
}

const unknownTitle = "a fault this note does not know"
