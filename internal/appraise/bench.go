package appraise

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/words"
)

// A bench is one device note made ready: an engine over an appraisal copy of
// its model, and what texts are looked through for.
type bench struct {
	model    *note.Model // as the library has it
	engine   *belief.Engine
	finding  map[string]int // by ID
	symptoms *words.Index   // nil if there is nothing to look for
	checks   *words.Index
	organ    []int // per organ: its first finding in the copy, -1 if no part is meant
	prior    []float64
	unknown  float64

	planning *belief.Engine // lists more sets of faults than engine does
	planner  func() (*plan.Planner, error)
}

// Chances of the findings that stand for what a text says of a part. A note's
// author has not foreseen them; the ratios are what counts: 5, 50, and 1/10.
const (
	namedShows, namedLeak   = 0.5, 0.1
	faultyShows, faultyLeak = 0.5, 0.01
	goodShows, goodLeak     = 0.905, 0.05
)

func newBench(ctx context.Context, m *note.Model) (*bench, error) {
	b := &bench{model: m, finding: map[string]int{}}
	for i := range m.Findings {
		b.finding[m.Findings[i].ID] = i
	}
	c := b.copyWithOrgans()
	e, err := belief.New(c, belief.Options{Candidates: 1})
	if err == nil {
		b.planning, err = belief.New(c, belief.Options{Candidates: worlds})
	}
	if err != nil {
		return nil, fmt.Errorf("the note %q cannot be reasoned over: %w", m.ID, err)
	}
	b.engine = e
	b.planner = sync.OnceValues(func() (*plan.Planner, error) {
		return plan.New(b.planning, plan.Settings{Rate: workHour, Worth: m.Worth, Scrap: m.Scrap})
	})
	b.symptoms = entriesOf(m, func(f *note.Finding) bool { return f.Check < 0 })
	b.checks = entriesOf(m, func(f *note.Finding) bool { return true })
	base, err := e.Posterior(ctx, belief.Evidence{})
	if err != nil {
		return nil, err
	}
	b.prior, b.unknown = base.First, base.Unknown
	return b, nil
}

// copyWithOrgans is the model with three more findings per organ it has parts
// for: named, found faulty, looked at.
func (b *bench) copyWithOrgans() *note.Model {
	m := *b.model
	m.Findings = slices.Clone(m.Findings)
	b.organ = make([]int, len(organs))
	for o := range organs {
		b.organ[o] = -1
		modes := organs[o].modesIn(b.model)
		if len(modes) == 0 {
			continue
		}
		b.organ[o] = len(m.Findings)
		for _, f := range []struct {
			what        string
			shows, leak float64
		}{{"named", namedShows, namedLeak}, {"faulty", faultyShows, faultyLeak}, {"looked-at", goodShows, goodLeak}} {
			finding := note.Finding{ID: "appraisal." + organs[o].name + "." + f.what, Title: organs[o].name + " " + f.what, Check: -1, Leak: f.leak}
			for _, i := range modes {
				finding.Trigger = append(finding.Trigger, note.Trigger{Mode: i, Cond: -1, Chance: 1 - (1-f.shows)/(1-f.leak)})
			}
			m.Findings = append(m.Findings, finding)
		}
	}
	return &m
}

// modesIn are the modes of a note's parts that the organ can be.
func (o *organ) modesIn(m *note.Model) []int {
	var out []int
	kinds := strings.Split(o.kinds, "|")
	for i := range m.Modes {
		p := &m.Parts[m.Modes[i].Part]
		text := strings.ToLower(p.Kind + " " + p.Title + " " + p.ID)
		hit := false
		for _, k := range kinds {
			hit = hit || strings.Contains(text, strings.ToLower(k))
		}
		if alike := m.Modes[i].Class == o.class; alike && hit || o.anywhere && alike || hit && !o.anywhere {
			out = append(out, i)
		}
	}
	return out
}

// entriesOf indexes the signs of a model for which keep holds; a phrase that
// the index refuses is left out.
func entriesOf(m *note.Model, keep func(*note.Finding) bool) *words.Index {
	var all []words.Entry
	for i := range m.Findings {
		f := &m.Findings[i]
		if f.Kind != note.Sign || !keep(f) {
			continue
		}
		e := words.Entry{ID: f.ID, Title: f.Title}
		for _, p := range f.Says {
			if _, err := words.NewIndex([]words.Entry{{ID: "x", Phrases: []string{p}}}); err == nil {
				e.Phrases = append(e.Phrases, p)
			}
		}
		if _, err := words.NewIndex([]words.Entry{e}); err == nil {
			all = append(all, e)
		}
	}
	if len(all) == 0 {
		return nil
	}
	x, err := words.NewIndex(all)
	if err != nil {
		return nil
	}
	return x
}

// read finds what a text states or denies of the note's findings.
func (b *bench) read(text string, check bool) []words.Match {
	x := b.symptoms
	if check {
		x = b.checks
	}
	if x == nil {
		return nil
	}
	return x.Read(text).Matches
}

// observe turns matches into observations; something seen now and then counts
// as seen once of two.
func (b *bench) observe(ms []words.Match) []belief.Observation {
	var out []belief.Observation
	for _, m := range ms {
		o := belief.Observation{Finding: b.finding[m.ID], Value: 1}
		if m.Denied {
			o.Value = 0
		}
		if m.Intermittent && !m.Denied {
			o.Of = 2
		}
		out = append(out, o)
	}
	return out
}

// denied are the symptoms which those seen say are not there, unless the text names them too.
func (b *bench) denied(seen []belief.Observation) []belief.Observation {
	named := map[int]bool{}
	for _, o := range seen {
		named[o.Finding] = true
	}
	var out []belief.Observation
	for _, o := range seen {
		if o.Value == 0 {
			continue
		}
		for _, f := range b.model.Findings[o.Finding].Denies {
			if !named[f] {
				named[f] = true
				out = append(out, belief.Observation{Finding: f})
			}
		}
	}
	return out
}

// organsSaid turns mentions of parts into observations, the surest per organ.
func (b *bench) organsSaid(ms []mention) []belief.Observation {
	most := map[int]state{}
	for _, m := range ms {
		if s, ok := most[m.organ]; !ok || m.state > s {
			most[m.organ] = m.state
		}
	}
	var out []belief.Observation
	for o := range organs {
		s, ok := most[o]
		f := b.organ[o]
		if !ok || f < 0 {
			continue
		}
		switch s {
		case named, failing:
			out = append(out, belief.Observation{Finding: f, Value: 1})
		case stuck, dirty, loose, faulty:
			out = append(out, belief.Observation{Finding: f + 1, Value: 1})
		default:
			out = append(out, belief.Observation{Finding: f + 2, Value: 0})
		}
	}
	return out
}

// classesOf adds up marginals by class and shares the unknown fault's mass out
// by what is usual for the category.
func (b *bench) classesOf(first []float64, unknown float64, usual []float64) []float64 {
	out := make([]float64, len(usual))
	sum := 0.0
	for i, p := range first {
		out[classIndex(b.model.Modes[i].Class)] += p
		sum += p
	}
	for k := range out {
		if sum > 0 {
			out[k] *= (1 - unknown) / sum
		}
		out[k] += unknown * usual[k]
	}
	return out
}
