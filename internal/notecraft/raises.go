package notecraft

import (
	"context"
	"fmt"
	"sort"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// A Suspect is a fault mode with its chance before and after something was seen.
type Suspect struct {
	Mode      int
	Prior     float64
	Posterior float64
}

// A Raised is what one symptom, seen and nothing else known, makes one believe.
type Raised struct {
	Seen     belief.Observation
	Suspects []Suspect // every mode, likeliest first
	Unknown  float64   // chance of a fault the note does not know
}

// RaisesAll returns what each symptom raises by itself, in the order of the
// model; a symptom with several answers once for each but the best.
func RaisesAll(ctx context.Context, e *belief.Engine) ([]Raised, error) {
	before, err := e.Posterior(ctx, belief.Evidence{})
	if err != nil {
		return nil, fmt.Errorf("before anything was seen: %w", err)
	}
	var out []Raised
	for _, seen := range bareSymptoms(e.Model()) {
		r, err := raisedOver(ctx, e, before, seen)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

func raisedOver(ctx context.Context, e *belief.Engine, before *belief.Belief, seen belief.Observation) (Raised, error) {
	after, err := e.Posterior(ctx, belief.Evidence{Seen: []belief.Observation{seen}})
	if err != nil {
		return Raised{}, fmt.Errorf("what the symptom raises: %w", err)
	}
	r := Raised{Seen: seen, Unknown: after.Unknown}
	for i := range after.First {
		r.Suspects = append(r.Suspects, Suspect{i, before.First[i], after.First[i]})
	}
	sort.SliceStable(r.Suspects, func(i, j int) bool { return r.Suspects[i].Posterior > r.Suspects[j].Posterior })
	return r, nil
}

// bareSymptoms are the observations somebody without tools can come with: each
// sign that shows, each answer that speaks for something other than the good state,
// and for a number the middle of each state's range.
func bareSymptoms(m *note.Model) []belief.Observation {
	var out []belief.Observation
	for f := range m.Findings {
		x := &m.Findings[f]
		switch {
		case x.Check >= 0:
		case x.Kind == note.Sign:
			out = append(out, belief.Observation{Finding: f, Value: 1})
		case x.Kind == note.Pick:
			for a := range x.Answers {
				if a != likeliest(x.Table[0]) {
					out = append(out, belief.Observation{Finding: f, Value: a})
				}
			}
		default:
			for _, d := range x.Dist[1:] {
				out = append(out, belief.Observation{Finding: f, Number: quantile(d, 0.5)})
			}
		}
	}
	return out
}

func likeliest(p []float64) int {
	best := 0
	for i := range p {
		if p[i] > p[best] {
			best = i
		}
	}
	return best
}
