package casework

import (
	"context"
	"errors"
	"math"

	"fettler/internal/note"
	"fettler/internal/soak"
)

func (d SoakPlanning) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	p := d.SoakPlanned
	if p.Still != nil && !(*p.Still >= 0 && *p.Still <= mostStill) {
		return "", nil, fail(BadInput, "give a chance from 0 to 0.9999; if it is certain, repair first", "the chance that the fault is still there cannot be %v", *p.Still)
	}
	for _, f := range []float64{p.EveryMin, p.InMin, p.AfterMin, p.Sure} {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return "", nil, fail(BadInput, "give a figure", "a figure is missing")
		}
	}
	still := assumedStill
	if p.Still != nil {
		still = *p.Still
	}
	if _, err := soak.Make(p.question(still)); err != nil {
		return "", nil, soakError(err)
	}
	return KindSoakPlanned, p, nil
}

// soakError says what package soak found wrong.
func soakError(err error) error {
	var f *soak.FieldError
	if errors.As(err, &f) {
		return &Error{Code: BadInput, Text: f.Field + ": " + f.Problem, Next: "give " + f.Allowed, Err: err}
	}
	return err
}

func (d Soaking) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	if err := oneOf(d.What, SoakWhats(), false, "event of a soak"); err != nil {
		return "", nil, err
	}
	k := c.soakNow()
	switch {
	case k == nil:
		return "", nil, fail(BadInput, "say first how the symptom showed before", "no soak has been planned since the last repair")
	case k.failed:
		return "", nil, fail(BadInput, "find and repair it first, then plan a new soak", "this soak ended when the symptom came back")
	}
	p := Soaked{What: d.What}
	switch on := k.on(); {
	case d.What == string(soak.Started):
		if on {
			return "", nil, fail(BadInput, "write down that it was switched off, or that it still runs clean", "it is running already")
		}
		if err := oneOf(d.Heat, []string{string(soak.HeatCold), string(soak.HeatWarm)}, true, "state of warmth"); err != nil {
			return "", nil, err
		}
		p.Heat = d.Heat
	case d.What != string(soak.Recurred) && !on:
		return "", nil, fail(BadInput, "write down that it was switched on first", "it is not running")
	}
	if len(d.Answers) > 0 {
		if d.What != string(soak.Recurred) {
			return "", nil, fail(BadInput, "say that it came back, or leave the symptom out", "a soak that runs clean shows no symptom")
		}
		if err := c.needNote(); err != nil {
			return "", nil, err
		}
		var err error
		if p.Values, err = c.readAnswers(d.Answers, d.Really, c.symptomOnly); err != nil {
			return "", nil, err
		}
	}
	if d.What == string(soak.Recurred) && c.Model != nil && !shows(p.Values) {
		return "", nil, fail(BadInput, "say which symptom came back: "+c.complaints(), "it is not said what it shows")
	}
	return KindSoaked, p, nil
}

// shows says whether one of the values is a sign that shows.
func shows(values []Value) bool {
	for _, v := range values {
		if v.Shows != nil && !v.denied() {
			return true
		}
	}
	return false
}

func (d GoingOver) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	list := s.c.testList()
	p := GoneOver{}
	for _, x := range d.Points {
		known := false
		for _, t := range list {
			known = known || t.ID == x.Point
		}
		if !known {
			return "", nil, fail(NotFound, "take one of those the test list has", "the test list has no point %q", clip(x.Point))
		}
		if err := oneOf(x.Result, PointResults(), true, "result"); err != nil {
			return "", nil, err
		}
		var err error
		if x.Words, err = oneLine(x.Words, "the remark"); err != nil {
			return "", nil, err
		}
		p.Points = append(p.Points, x)
	}
	if len(p.Points) == 0 {
		return "", nil, fail(BadInput, "choose a result for at least one", "no point was chosen")
	}
	return KindGoneOver, p, nil
}

// PlanSoak begins a soak.
func (b *Bench) PlanSoak(ctx context.Context, caseID string, in SoakPlanning) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// RecordSoak writes down what happened in a soak.
func (b *Bench) RecordSoak(ctx context.Context, caseID string, in Soaking) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// GoOver writes down points of the test list.
func (b *Bench) GoOver(ctx context.Context, caseID string, in GoingOver) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// showsSign says whether f is a sign seen from outside.
func showsSign(f *note.Finding) bool { return f.Check < 0 && f.Kind == note.Sign }
