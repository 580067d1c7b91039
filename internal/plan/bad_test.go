package plan_test

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// Bad settings and situations get a sentence.
func TestBadInput(t *testing.T) {
	s := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}
	e, err := belief.New(s.model(), belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []plan.Settings{{Rate: -1}, {Rate: math.NaN()}, {Worth: math.Inf(1)}, {DayRate: 1e12}, {Budget: -5}, {Premium: -1}, {Scrap: math.NaN()}} {
		if _, err := plan.New(e, x); err == nil || !strings.Contains(err.Error(), "must be") {
			t.Errorf("%+v: %v", x, err)
		}
	}
	p, err := plan.New(e, plan.Settings{Worth: 100})
	if err != nil {
		t.Fatal(err)
	}
	past, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	good := exactly(s.p)
	for name, x := range map[string]struct {
		ctx    context.Context
		b      *belief.Belief
		sit    plan.Situation
		effort plan.Effort
		says   string
	}{
		"deadline in the past": {past, good, plan.Situation{}, plan.Effort{}, "no time"},
		"no belief":            {context.Background(), nil, plan.Situation{}, plan.Effort{}, "no belief"},
		"empty belief":         {context.Background(), &belief.Belief{}, plan.Situation{}, plan.Effort{}, "no belief"},
		"no such access":       {context.Background(), good, plan.Situation{Access: 9}, plan.Effort{}, "access 9"},
		"spent less than 0":    {context.Background(), good, plan.Situation{Spent: -1}, plan.Effort{}, "spent"},
		"spent not a number":   {context.Background(), good, plan.Situation{Spent: math.NaN()}, plan.Effort{}, "spent"},
		"no such repair":       {context.Background(), good, plan.Situation{AtHand: map[int]bool{7: true}}, plan.Effort{}, "repair 7"},
		"gap below 0":          {context.Background(), good, plan.Situation{}, plan.Effort{Gap: -1}, "gap"},
		"chance of 2":          {context.Background(), exactly([]float64{2}), plan.Situation{}, plan.Effort{}, "chance"},
	} {
		if _, err := p.AdviseWith(x.ctx, x.b, x.sit, x.effort); err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Poor but possible questions get an answer without a NaN in it.
func TestPoorInput(t *testing.T) {
	s := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}
	for name, x := range map[string]struct {
		change func(m *note.Model, s *plan.Settings, sit *plan.Situation)
		want   plan.Kind
	}{
		"no repairs":        {func(m *note.Model, _ *plan.Settings, _ *plan.Situation) { m.Repairs = nil }, plan.Stop},
		"no checks":         {func(*note.Model, *plan.Settings, *plan.Situation) {}, plan.Repair},
		"worth nothing":     {func(_ *note.Model, s *plan.Settings, _ *plan.Situation) { s.Worth = 0 }, plan.Stop},
		"scrap above worth": {func(_ *note.Model, s *plan.Settings, _ *plan.Situation) { s.Scrap = 500 }, plan.Stop},
		"budget spent":      {func(_ *note.Model, s *plan.Settings, sit *plan.Situation) { s.Budget, sit.Spent = 40, 40 }, plan.Stop},
		"everything is free": {func(m *note.Model, _ *plan.Settings, _ *plan.Situation) {
			m.Repairs[0].Price, m.Repairs[1].Price = 0, 0
		}, plan.Repair},
		"all parts at hand": {func(_ *note.Model, _ *plan.Settings, sit *plan.Situation) {
			sit.AtHand = map[int]bool{0: true, 1: true}
		}, plan.Repair},
		"repairs never help": {func(m *note.Model, _ *plan.Settings, _ *plan.Situation) {
			m.Repairs[0].Clears, m.Repairs[1].Clears = nil, nil
		}, plan.Stop},
		"symptoms not in it": {func(m *note.Model, _ *plan.Settings, _ *plan.Situation) { m.Findings = nil }, plan.Repair},
		"a repair takes ages": {func(m *note.Model, s *plan.Settings, _ *plan.Situation) {
			s.Rate = 60
			m.Repairs[0].Minutes, m.Repairs[1].Minutes = 1e6, 1e6
		}, plan.Stop},
	} {
		m := s.model()
		set, sit := plan.Settings{Worth: 100}, plan.Situation{}
		x.change(m, &set, &sit)
		e, err := belief.New(m, belief.Options{Unknown: -1})
		if err != nil {
			t.Fatal(err)
		}
		a := ask(t, e, exactly(s.p), set, sit, plan.Effort{Expansions: 20})
		if a.Best.Kind != x.want {
			t.Errorf("%s: best is %v, want %v", name, a.Best.Kind, x.want)
		}
		for _, v := range []float64{a.Gain, a.Best.Total, a.Lower, a.Success, a.Money, a.Minutes} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: a figure is %v in %+v", name, v, a)
			}
		}
	}
}

// Costs and chances in the model that make no sense get a sentence, whoever put it together.
func TestSenselessModel(t *testing.T) {
	for name, change := range map[string]func(m *note.Model){
		"the price":                        func(m *note.Model) { m.Repairs[0].Price = -3 },
		"the time of the repair":           func(m *note.Model) { m.Repairs[1].Minutes = math.NaN() },
		"the waiting for the parts":        func(m *note.Model) { m.Repairs[1].Days = math.Inf(1) },
		"the chance of harm of the repair": func(m *note.Model) { m.Repairs[1].Harm = 1.5 },
		"the success":                      func(m *note.Model) { m.Repairs[0].Clears[0].Success = -0.1 },
		"the time of the check":            func(m *note.Model) { m.Checks = []note.Check{{ID: "look", Minutes: -1}} },
		"the chance of harm of the check":  func(m *note.Model) { m.Checks = []note.Check{{ID: "look", Harm: math.NaN()}} },
		"the time to open":                 func(m *note.Model) { m.Access[0].OpenMinutes = 1e12 },
		"the time to close":                func(m *note.Model) { m.Access[0].CloseMinutes = -1 },
		"the time to try the whole":        func(m *note.Model) { m.TryMinutes = math.Inf(1) },
		"lies behind one that comes after": func(m *note.Model) { m.Access[0].Behind = 0 },
		"needs at least the closed device": func(m *note.Model) { m.Access = nil },
	} {
		m := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}.model()
		change(m)
		e, err := belief.New(m, belief.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := plan.New(e, plan.Settings{Worth: 100}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// With the settings at zero (no rate, no worth, no limit) and with checks that tell nothing, all that is asked for
// comes out in figures: an advice, a rehearsal, the map, what would change one's mind.
func TestNoFigureIsNotANumber(t *testing.T) {
	s := shop{p: []float64{0.6, 0.4}, price: []float64{30, 50}}
	m := s.model()
	m.Findings = append(m.Findings, note.Finding{ID: "idle", Check: 0, Leak: 0.5})
	m.Checks = []note.Check{{ID: "idle", Minutes: 2, Findings: []int{len(m.Findings) - 1}}}
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range []plan.Settings{{}, {Worth: 100}, {Worth: 100, Budget: 1e-9}, {Rate: 1e9, Worth: 1e9}} {
		p, err := plan.New(e, set)
		if err != nil {
			t.Fatal(err)
		}
		for _, sit := range []plan.Situation{{}, {Pending: true}, {Spent: 1e9}, {Done: map[int]bool{0: true, 1: true}}} {
			a, err := p.Advise(context.Background(), exactly(s.p), sit)
			if err != nil {
				t.Fatal(err)
			}
			r, err := p.Rehearse(context.Background(), exactly(s.p), sit, 20)
			if err != nil {
				t.Fatal(err)
			}
			o := r.Outlook()
			figures := []float64{a.Gain, a.Success, a.Money, a.Minutes, a.Lower, o.Success, o.Money.Mean, o.Minutes.High, o.Gain.Low, o.Gain.High}
			for _, x := range a.Ranking {
				figures = append(figures, x.Total, x.Behind, x.Cures)
			}
			for _, v := range figures {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%+v, %+v: a figure is %v", set, sit, v)
				}
			}
			if set.Worth == 0 && a.Best.Kind != plan.Stop {
				t.Errorf("%+v: best is %v for a device worth nothing", sit, a.Best.Kind)
			}
		}
	}
	p, err := plan.New(e, plan.Settings{Worth: 100})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Advise(context.Background(), exactly(s.p), plan.Situation{Done: map[int]bool{9: true}}); err == nil || !strings.Contains(err.Error(), "repair 9") {
		t.Errorf("a repair that is not there said to be done: %v", err)
	}
}
