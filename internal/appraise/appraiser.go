package appraise

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/words"
)

// An Appraiser appraises items by a library of bench notes. It keeps what it
// has made ready for a device and is safe for concurrent use.
type Appraiser struct {
	lib     *note.Library
	known   []knownDevice
	shares  shareTable
	weights func() (fitted, error)
	mu      sync.Mutex
	benches map[string]*slot
}

// slot makes a bench once, when it is first asked for.
type slot struct {
	once  sync.Once
	bench *bench
	err   error
}

// New returns an appraiser that goes by lib.
func New(lib *note.Library) *Appraiser {
	return &Appraiser{lib: lib, known: knownDevices(lib), shares: shippedShares(), weights: weights, benches: map[string]*slot{}}
}

var generalIndex = sync.OnceValues(func() (*words.Index, error) { return words.NewIndex(words.General()) })

// bench returns the device's bench, nil if its note cannot be used.
func (a *Appraiser) bench(ctx context.Context, id string) (*bench, error) {
	a.mu.Lock()
	s := a.benches[id]
	if s == nil {
		s = &slot{}
		a.benches[id] = s
	}
	a.mu.Unlock()
	s.once.Do(func() {
		m, err := a.lib.Model(id)
		if err != nil {
			s.err = err
			return
		}
		s.bench, s.err = newBench(context.WithoutCancel(ctx), m)
	})
	return s.bench, s.err
}

// asked is one note's answer to an item.
type asked struct {
	shared
	bench *bench
	heard [][]words.Match // per text
	sure  *belief.Belief  // by findings only; nil if checks are stated, when full goes into the pool
	full  *belief.Belief  // by findings and parts named
	ev    belief.Evidence // behind full
}

// Appraise says what is likely wrong with an item and what to do next. It
// fails with a sentence if the item is at fault, or when ctx ends. A note that
// cannot be used is passed over; if there is none, the records alone answer.
func (a *Appraiser) Appraise(ctx context.Context, it Item) (Result, error) {
	s, err := a.study(ctx, it)
	if err != nil {
		return Result{}, err
	}
	r := Result{ID: it.ID, Category: s.category, Devices: []Device{}, Heard: s.heard(), Suspects: s.suspects()}
	for _, n := range s.notes {
		r.Devices = append(r.Devices, Device{ID: n.device.ID, Title: n.device.Title, Share: n.share})
	}
	if r.Moves, err = s.moves(ctx); err != nil {
		return Result{}, err
	}
	return r, nil
}

// study is all that an item gives rise to.
type study struct {
	category string
	texts    []reading // symptoms first
	usual    []float64 // share of each class before anything is read
	notes    []asked
	chance   []float64 // of each class
}

// reading is one text, read.
type reading struct {
	text     string
	check    bool
	general  words.Reading
	organs   []mention
	features []string
}

func (a *Appraiser) study(ctx context.Context, it Item) (*study, error) {
	if err := it.validate(); err != nil {
		return nil, err
	}
	index, err := generalIndex()
	if err != nil {
		return nil, fmt.Errorf("the general symptoms: %w", err)
	}
	w, err := a.weights()
	if err != nil {
		return nil, err
	}
	s := &study{}
	if strings.TrimSpace(it.Category) != "" {
		if s.category, err = categoryNamed(it.Category); err != nil {
			return nil, err
		}
	}
	notes := choose(a.known, s.category, it.Device, it.Symptoms)
	if s.category == "" && len(notes) > 0 {
		s.category = notes[0].device.Category
	}
	s.read(index, it)
	s.usual = a.shares.blend(s.category, notes)
	if err := a.ask(ctx, s, notes); err != nil {
		return nil, err
	}
	s.chance = s.pool(w, it.Device)
	return s, nil
}

func (s *study) read(index *words.Index, it Item) {
	group := groupOf(s.category)
	for i, t := range append(append([]string{}, it.Symptoms...), it.Checks...) {
		check := i >= len(it.Symptoms)
		s.texts = append(s.texts, reading{
			text: t, check: check, general: index.Read(t),
			organs: mentions(tokenize(t), !check), features: featuresOf(index, t, group, !check),
		})
	}
}

// ask puts the texts to the notes.
func (a *Appraiser) ask(ctx context.Context, s *study, notes []shared) error {
	left := 0.0
	for _, n := range notes {
		b, err := a.bench(ctx, n.device.ID)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			continue
		}
		q := asked{shared: n, bench: b}
		var named []mention
		for _, t := range s.texts {
			ms := b.read(t.text, t.check)
			q.heard = append(q.heard, ms)
			q.ev.Seen = append(q.ev.Seen, b.observe(ms)...)
			named = append(named, t.organs...)
		}
		q.ev.Seen = append(q.ev.Seen, b.denied(q.ev.Seen)...)
		more := b.organsSaid(named)
		if len(more) == 0 || !s.checked() {
			if q.sure, err = b.engine.Posterior(ctx, q.ev); err != nil {
				return fmt.Errorf("%s: %w", n.device.ID, err)
			}
			q.full = q.sure
		}
		if len(more) > 0 {
			q.ev.Seen = append(q.ev.Seen, more...)
			if q.full, err = b.engine.Posterior(ctx, q.ev); err != nil {
				return fmt.Errorf("%s: %w", n.device.ID, err)
			}
		}
		left += n.share
		s.notes = append(s.notes, q)
	}
	for i := range s.notes {
		s.notes[i].share /= left
	}
	return nil
}
