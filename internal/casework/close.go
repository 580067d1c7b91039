package casework

import (
	"context"
	"slices"

	"fettler/internal/openrepair"
)

// shares bounds the attribution kept with a closed case.
const (
	sharesKept = 12
	shareLeast = 0.005
)

func (d Closing) draft(ctx context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	if !slices.Contains(Verdicts(), d.Verdict) {
		return "", nil, fail(BadInput, "say fixed, not worth it, passed on or kept for parts", "%q is no way to end a case", clip(string(d.Verdict)))
	}
	if d.Verdict == Fixed && c.Pending && !d.Really {
		return "", nil, fail(Doubtful, "try the whole device and record the test, then close; or close it all the same, and it is kept as not tested", "a repair was done and nothing has been tried since, so nothing shows that it holds")
	}
	p := ClosedCase{Verdict: d.Verdict}
	if d.Verdict != Fixed && d.Barrier != "" {
		if err := oneOf(d.Barrier, openrepair.Barriers(), false, "barrier"); err != nil {
			return "", nil, err
		}
		p.Barrier = d.Barrier
	}
	mass := 0.0
	if c.Model != nil {
		p.Note = c.Model.ID
		if d.Verdict == Fixed {
			mass = c.Model.MassKg
		}
	}
	var err error
	if p.Kg, err = figure(d.Kg, mass, "the mass", 10_000); err != nil {
		return "", nil, err
	}
	if p.Remark, err = text(d.Remark, maxText, "the remark"); err != nil {
		return "", nil, err
	}
	if len(d.Was) > 0 {
		err = c.stated(d.Was, &p)
	} else {
		err = s.attribute(ctx, &p)
	}
	if err == nil {
		err = s.learn(ctx, &p)
	}
	return KindClosed, p, err
}

// stated takes the repairer's word for which faults it was.
func (c *Case) stated(was []string, p *ClosedCase) error {
	if err := c.needNote(); err != nil {
		return err
	}
	p.Stated = true
	for _, id := range was {
		if _, ok := c.names.modes[id]; !ok {
			return fail(NotFound, "take one of the suspects", "this device's note knows no fault %q", clip(id))
		}
		if !slices.ContainsFunc(p.Because, func(s Share) bool { return s.Mode == id }) {
			p.Because = append(p.Because, Share{Mode: id, P: 1})
		}
	}
	return nil
}

// attribute computes which fault it was: the chance of each to have been there
// when the device came, given everything seen in all epochs.
func (s scene) attribute(ctx context.Context, p *ClosedCase) error {
	k := s.b.knowledge(s.c.Opened.Device)
	if k == nil {
		return nil
	}
	e, err := k.engine()
	if err != nil {
		return nil // the note's figures are out of range; View says so
	}
	bl, err := e.Posterior(ctx, s.c.Evidence)
	if err != nil {
		return err
	}
	p.Unknown = bl.Unknown
	for i, first := range bl.First {
		if first >= shareLeast {
			p.Because = append(p.Because, Share{Mode: k.m.Modes[i].ID, P: first})
		}
	}
	slices.SortStableFunc(p.Because, func(a, b Share) int { return cmpDown(a.P, b.P) })
	p.Because = p.Because[:min(len(p.Because), sharesKept)]
	return nil
}

// untested says that a case was closed as fixed though nothing written down shows
// that it works; "" if something does, or it ended otherwise.
func (c *Case) untested() string {
	switch {
	case c.Closed == nil || c.Closed.Verdict != Fixed || c.Works:
		return ""
	case len(c.trials) > 0 && c.trials[len(c.trials)-1].epoch == len(c.Acts):
		return "the last test was not the end of it: nothing written down since shows that it works"
	case len(c.Acts) > 0:
		return "not tested after the repair: nothing written down shows that it holds"
	}
	return "not tested: nothing written down shows that it works"
}

// Close ends a case.
func (b *Bench) Close(ctx context.Context, caseID string, in Closing) (Receipt, error) {
	return b.record(ctx, caseID, in)
}
