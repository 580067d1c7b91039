package notecraft

import (
	"context"
	"fmt"
	"math"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// Changes are what a change to a note did, as far as one's beliefs go.
type Changes struct {
	Modes, Findings, Checks, Repairs Items
	Priors                           []Moved   // modes whose share of the device's faults moved by more than a quarter of itself
	Symptoms                         []Shifted // symptoms that now raise other suspects, or the same with other chances
}

// Items are what came, went and got another name, by ID.
type Items struct {
	Added, Removed []string
	Renamed        []Renamed
}

// A Renamed item is taken for the same under a new ID.
type Renamed struct{ Old, New string }

// A Moved prior is a mode's chance before anything is seen, in the old note and the new.
type Moved struct {
	Mode     string // ID in the new note
	Old, New float64
}

// A Shifted symptom is one whose suspects changed.
type Shifted struct {
	Symptom  string // ID in the new note
	Suspects []Shift
}

// A Shift is one suspect's place and chance, before and after. Place 0 is: not in that note.
type Shift struct {
	Mode               string // ID in the new note, or in the old if it is gone
	OldPlace, NewPlace int
	Old, New           float64
}

// Bounds below which a change is not worth telling.
const (
	priorMoves  = 0.25 // of the old share
	chanceMoves = 0.02
	shiftPlaces = 5 // places among which a change of order counts
)

// Diff compares two versions of a note.
func Diff(ctx context.Context, old, now *note.Model) (*Changes, error) {
	before, err := allOf(ctx, old)
	if err != nil {
		return nil, fmt.Errorf("the old note: %w", err)
	}
	after, err := allOf(ctx, now)
	if err != nil {
		return nil, fmt.Errorf("the new note: %w", err)
	}
	modes := match(modeTags(old), modeTags(now))
	findings := match(findingTags(old), findingTags(now))
	c := &Changes{
		Modes:    modes.items(),
		Findings: findings.items(),
		Checks:   match(checkTags(old), checkTags(now)).items(),
		Repairs:  match(repairTags(old), repairTags(now)).items(),
	}
	for n, o := range modes.from {
		if o < 0 {
			continue
		}
		p, q := before.prior[o], after.prior[n]
		if math.Abs(q-p) > priorMoves*p {
			c.Priors = append(c.Priors, Moved{now.Modes[n].ID, p, q})
		}
	}
	for n, o := range findings.from {
		if o < 0 || now.Findings[n].Check >= 0 {
			continue
		}
		if s := shifts(before.raised[o], after.raised[n], modes); len(s) > 0 {
			c.Symptoms = append(c.Symptoms, Shifted{now.Findings[n].ID, s})
		}
	}
	return c, nil
}

// beliefs are what a note makes one believe: before anything, and by each symptom's first sight.
type beliefs struct {
	prior  []float64
	raised map[int][]Suspect // by finding
}

func allOf(ctx context.Context, m *note.Model) (beliefs, error) {
	e, err := belief.New(m, belief.Options{Candidates: 1})
	if err != nil {
		return beliefs{}, err
	}
	b, err := e.Posterior(ctx, belief.Evidence{})
	if err != nil {
		return beliefs{}, err
	}
	all, err := RaisesAll(ctx, e)
	if err != nil {
		return beliefs{}, err
	}
	out := beliefs{b.First, map[int][]Suspect{}}
	for _, r := range all {
		if out.raised[r.Seen.Finding] == nil {
			out.raised[r.Seen.Finding] = r.Suspects
		}
	}
	return out, nil
}

// shifts compares what a symptom raises in two notes: suspects among the first
// few of either whose place changed, and any whose chance did.
func shifts(before, after []Suspect, modes matching) []Shift {
	was := make(map[int]int, len(before)) // place by old mode
	for k, s := range before {
		was[s.Mode] = k
	}
	var out []Shift
	for k, s := range after {
		x := Shift{Mode: modes.new[s.Mode].id, NewPlace: k + 1, New: s.Posterior}
		if o := modes.from[s.Mode]; o >= 0 {
			x.OldPlace, x.Old = was[o]+1, before[was[o]].Posterior
		}
		if x.notable() {
			out = append(out, x)
		}
	}
	for k, s := range before {
		x := Shift{Mode: modes.old[s.Mode].id, OldPlace: k + 1, Old: s.Posterior}
		if modes.to[s.Mode] < 0 && x.notable() {
			out = append(out, x)
		}
	}
	return out
}

// notable tells whether a shift is worth telling. A changed order among
// suspects that nobody would look at is not.
func (x Shift) notable() bool {
	if math.Abs(x.New-x.Old) >= chanceMoves {
		return true
	}
	top := x.OldPlace > 0 && x.OldPlace <= shiftPlaces || x.NewPlace > 0 && x.NewPlace <= shiftPlaces
	return top && x.OldPlace != x.NewPlace && math.Max(x.Old, x.New) >= chanceMoves
}
