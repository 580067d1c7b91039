package belief

import (
	"context"
	"math"

	"fettler/internal/note"
)

// An unknown fault is taken to behave like the known ones taken one at a time:
// each finding comes out as often as it would for some fault of this device,
// but independently of every other finding, mixed with a flat guess. So it
// gains on the known faults exactly when no known fault explains findings together.
const flatShare = 0.05

// again is how often an unknown fault shows a finding as it did before.
const again = 0.9

// unknownLog is ln P(evidence | an unknown fault).
func (e *Engine) unknownLog(ctx context.Context, ev Evidence) (float64, error) {
	if e.o.Unknown == 0 {
		return math.Inf(-1), nil
	}
	before := map[int]Observation{}
	total := 0.0
	for _, o := range byEpoch(ev.settled()) {
		f := &e.m.Findings[o.Finding]
		old, seen := before[o.Finding]
		before[o.Finding] = o
		switch {
		case f.Kind == note.Reading:
			total += math.Log(unknownReading(f, o.Number))
			continue
		case seen && old.Value == o.Value && old.Of == o.Of:
			total += math.Log(again)
			continue
		case seen:
			total += math.Log(1 - again)
			continue
		}
		p, err := e.chanceAlone(ctx, o)
		if err != nil {
			return 0, err
		}
		total += math.Log((1-flatShare)*p + flatShare*flat(f, o))
	}
	return total, nil
}

func flat(f *note.Finding, o Observation) float64 {
	if f.Kind == note.Pick {
		return 1 / float64(len(f.Answers))
	}
	// A sign shows in one device of four, whatever is wrong with it.
	return countLikelihood(0.25, o.Value, max(1, o.Of))
}

// unknownReading is the mean of the reading's relative likelihood over the states.
func unknownReading(f *note.Finding, x float64) float64 {
	mean := 0.0
	for _, w := range readingWeights(f, x) {
		mean += w / float64(len(f.Dist))
	}
	return mean
}

// chanceAlone is P(o | some known fault) with no other evidence, in a device
// that has not been repaired. It is cached.
func (e *Engine) chanceAlone(ctx context.Context, o Observation) (float64, error) {
	key := aloneKey{o.Finding, o.Value, o.Of}
	e.mu.Lock()
	p, ok := e.alone[key]
	e.mu.Unlock()
	if ok {
		return p, nil
	}
	o.Epoch = 0
	s, err := e.sweep(ctx, Evidence{Seen: []Observation{o}})
	if err != nil {
		return 0, err
	}
	p = math.Exp(s.logZ - e.prior)
	e.mu.Lock()
	e.alone[key] = p
	e.mu.Unlock()
	return p, nil
}

// byEpoch returns the observations, earlier epochs first.
func byEpoch(seen []Observation) []Observation {
	out := make([]Observation, 0, len(seen))
	last := 0
	for _, o := range seen {
		last = max(last, o.Epoch)
	}
	for k := 0; k <= last; k++ {
		for _, o := range seen {
			if o.Epoch == k {
				out = append(out, o)
			}
		}
	}
	return out
}
