package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/plan"
)

func (d Noticing) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	if err := s.c.needNote(); err != nil {
		return "", nil, err
	}
	if len(d.Answers) == 0 {
		return "", nil, fail(BadInput, "name a symptom and say yes or no", "nothing was noticed")
	}
	if err := s.c.repairEvent(d.Before); err != nil {
		return "", nil, err
	}
	values, err := s.c.readAnswers(d.Answers, d.Really, s.c.symptomOnly)
	return KindNoticed, Noticed{Values: values, Before: d.Before}, err
}

// symptomOnly refuses findings that take a check to see.
func (c *Case) symptomOnly(f int) error {
	x := &c.Model.Findings[f]
	if x.Check < 0 {
		return nil
	}
	k := &c.Model.Checks[x.Check]
	return fail(BadInput, fmt.Sprintf("record the check %s (%s) with it", k.ID, k.Title), "%q is not seen from outside", x.Title)
}

func (d Checking) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	if err := c.needNote(); err != nil {
		return "", nil, err
	}
	k, ok := c.names.checks[d.Check]
	if !ok {
		return "", nil, fail(NotFound, "take one of those the case lists", "this device's note has no check %q", clip(d.Check))
	}
	x := &c.Model.Checks[k]
	if err := c.repairEvent(d.Before); err != nil {
		return "", nil, err
	}
	if len(d.Answers) == 0 {
		return "", nil, fail(BadInput, "say what it showed: "+c.questions(x.Findings), "nothing was written down for %q", x.Title)
	}
	values, err := c.readAnswers(d.Answers, d.Really, func(f int) error {
		if !slices.Contains(x.Findings, f) {
			return fail(BadInput, "it tells: "+c.asks(x.Findings), "the check %q does not tell %q", x.Title, c.Model.Findings[f].Title)
		}
		return nil
	})
	if err != nil {
		return "", nil, err
	}
	minutes, err := figure(d.Minutes, x.Minutes, "the minutes", maxMinutes)
	return KindChecked, Checked{Check: x.ID, Values: values, Minutes: minutes, Before: d.Before}, err
}

// questions lists what a check asks, with IDs.
func (c *Case) questions(findings []int) string {
	out := make([]string, len(findings))
	for i, f := range findings {
		out[i] = fmt.Sprintf("%s (%s)", c.Model.Findings[f].Ask, c.Model.Findings[f].ID)
	}
	return strings.Join(out, " ")
}

// asks lists findings with their IDs, for a hint.
func (c *Case) asks(findings []int) string {
	out := make([]string, len(findings))
	for i, f := range findings {
		out[i] = fmt.Sprintf("%s (%s)", c.Model.Findings[f].ID, c.Model.Findings[f].Title)
	}
	return strings.Join(out, ", ")
}

func (d Testing) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	var values []Value
	if len(d.Answers) > 0 {
		if err := c.needNote(); err != nil {
			return "", nil, err
		}
		var err error
		if values, err = c.readAnswers(d.Answers, d.Really, c.symptomOnly); err != nil {
			return "", nil, err
		}
	}
	for _, v := range values {
		if d.Works && v.Shows != nil && !v.denied() {
			f := &c.Model.Findings[c.names.findings[v.Finding]]
			return "", nil, fail(BadInput, "say that it does not work, or leave the symptom out", "it cannot work and still show %q", f.Title)
		}
	}
	if !d.Works && len(values) == 0 && c.Model != nil {
		return "", nil, fail(BadInput, "say for each symptom whether it is still there: "+c.complaints(), "the test did not say what is still wrong")
	}
	minutes, err := figure(d.Minutes, c.tryMinutes(), "the minutes", maxMinutes)
	return KindTested, Tested{Works: d.Works, Values: values, Minutes: minutes, Open: d.Open}, err
}

// tryMinutes is what trying the whole takes, if not stated.
func (c *Case) tryMinutes() float64 {
	if c.Model != nil && c.Model.TryMinutes > 0 {
		return c.Model.TryMinutes
	}
	return plan.TestMinutes
}

// complaints lists the symptoms it has shown.
func (c *Case) complaints() string {
	var out []int
	showed := c.showed()
	for i := range c.Model.Findings {
		if showed[i] && c.Model.Findings[i].Check < 0 {
			out = append(out, i)
		}
	}
	if len(out) == 0 {
		return "none has been recorded yet"
	}
	return c.asks(out)
}

// Notice records symptoms.
func (b *Bench) Notice(ctx context.Context, caseID string, in Noticing) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// RecordCheck records a check done.
func (b *Bench) RecordCheck(ctx context.Context, caseID string, in Checking) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// RecordTest records a trial of the whole device.
func (b *Bench) RecordTest(ctx context.Context, caseID string, in Testing) (Receipt, error) {
	return b.record(ctx, caseID, in)
}
