package casework

import (
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/ledger"
	"fettler/internal/note"
	"fettler/internal/words"
)

// knowledge is what is worked out once per bench note.
type knowledge struct {
	source  *note.Model     // as the library gave it
	lessons *ledger.Lessons // applied to it
	m       *note.Model     // with titles that tell its items apart
	names   *names
	engine  func() (*belief.Engine, error)
	rough   func() (*belief.Engine, error) // prunes harder: for reasons, which are said to two figures
	prior   func() (*belief.Belief, error) // before anything is looked at
	index   func() *words.Index            // of its symptoms, nil if it has none
	tells   func() [][]telling             // per mode
	o       belief.Options
}

// A telling is a check that comes out otherwise when a mode is there, and how
// much otherwise: the largest change in the chance of an outcome.
type telling struct {
	check int
	much  float64
}

// knowledge returns what is known of a device, nil if there is no usable note.
// A library that was read again gives new models, and new knowledge.
func (b *Bench) knowledge(id string) *knowledge {
	if id == "" {
		return nil
	}
	m, err := b.notes.Model(id)
	if err != nil {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	k := b.known[id]
	if k != nil && k.source == m && k.lessons == b.lessons {
		return k
	}
	plain := b.plainOf(id, m)
	if b.lessons == nil || len(b.lessons.Changes(m)) == 0 {
		k = &knowledge{}
		*k = *plain
		k.lessons = b.lessons
		if old := b.known[id]; old != nil && old.m == k.m { // nothing has changed for this device
			old.lessons = b.lessons
			return old
		}
	} else {
		k = newKnowledge(b.lessons.Apply(m), b.o.Belief)
		k.source, k.lessons = m, b.lessons
	}
	b.known[id] = k
	return k
}

// plain is knowledge without what closed cases teach.
func (b *Bench) plain(id string) *knowledge {
	m, err := b.notes.Model(id)
	if err != nil {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.plainOf(id, m)
}

func (b *Bench) plainOf(id string, m *note.Model) *knowledge {
	if k := b.plains[id]; k != nil && k.source == m {
		return k
	}
	k := newKnowledge(m, b.o.Belief)
	b.plains[id] = k
	return k
}

// On the loudspeaker of the shipped notes (102 modes) a posterior that keeps 3000
// states is off by less than 1e-8, one that keeps 600 by less than 1e-4, at a third
// and a sixth of the time of belief's own default. View.Source.Bound says it for the case.
const (
	usualStates = 3000
	roughStates = 600
)

func newKnowledge(m *note.Model, o belief.Options) *knowledge {
	if o.MaxStates == 0 {
		o.MaxStates = usualStates
	}
	k := &knowledge{source: m, m: distinct(m), names: namesOf(m), o: o}
	k.engine = sync.OnceValues(func() (*belief.Engine, error) { return belief.New(k.m, o) })
	k.rough = sync.OnceValues(func() (*belief.Engine, error) {
		r := o
		r.MaxStates = min(o.MaxStates, roughStates)
		return belief.New(k.m, r)
	})
	k.prior = sync.OnceValues(func() (*belief.Belief, error) {
		e, err := k.engine()
		if err != nil {
			return nil, err
		}
		return e.Posterior(context.Background(), belief.Evidence{})
	})
	k.index = sync.OnceValue(k.symptomIndex)
	k.tells = sync.OnceValue(k.tellings)
	return k
}

// symptomIndex makes the index of the note's symptoms. A phrase that the index
// refuses is left out rather than losing all.
func (k *knowledge) symptomIndex() *words.Index {
	var all []words.Entry
	for i := range k.m.Findings {
		if f := &k.m.Findings[i]; f.Check < 0 && f.Kind == note.Sign {
			all = append(all, words.Entry{ID: f.ID, Title: f.Title, Phrases: f.Says})
		}
	}
	if x, err := words.NewIndex(all); err == nil {
		return x
	}
	for i := range all {
		all[i].Phrases = slices.DeleteFunc(slices.Clone(all[i].Phrases), func(p string) bool {
			_, err := words.NewIndex([]words.Entry{{ID: "x", Phrases: []string{p}}})
			return err != nil
		})
	}
	x, err := words.NewIndex(all)
	if err != nil {
		return nil
	}
	return x
}

// tellings compares each mode by itself with nothing wrong.
func (k *knowledge) tellings() [][]telling {
	out := make([][]telling, len(k.m.Modes))
	e, err := k.engine()
	if err != nil {
		return out
	}
	sound := e.World(nil)
	for i := range out {
		w := e.World([]int{i})
		for c := range k.m.Checks {
			much := 0.0
			for _, f := range k.m.Checks[c].Findings {
				much = max(much, difference(e.Chances(w, f), e.Chances(sound, f)))
			}
			if much > 0.2 {
				out[i] = append(out[i], telling{c, much})
			}
		}
		slices.SortStableFunc(out[i], func(a, b telling) int { return cmpDown(a.much, b.much) })
	}
	return out
}

func difference(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d = max(d, math.Abs(a[i]-b[i]))
	}
	return d
}

// cmpDown sorts larger figures first.
func cmpDown(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

// trouble says why there is no note for a device, "" if there is one.
func (b *Bench) trouble(id string) string {
	if id == "" {
		return "There is no bench note for this sort of device, so nothing is reckoned; what you write down is kept all the same."
	}
	_, err := b.notes.Model(id)
	var ps note.Problems
	switch {
	case err == nil:
		return ""
	case errors.As(err, &ps) && len(ps) > 0:
		return "The bench note " + id + " has mistakes and cannot be used; the first: " + ps[0].String()
	}
	return "The bench note " + id + " cannot be used: " + err.Error()
}
