package casework

import (
	"context"
	"math"

	"fettler/internal/belief"
	"fettler/internal/plan"
)

// A Because is what speaks for and against every suspect, all of it.
type Because struct {
	Seen     []Observed `json:"seen"`     // what counts, oldest first: what a later look replaced is left out
	Suspects []Weighed  `json:"suspects"` // likeliest first
	Rest     int        `json:"rest"`     // suspects too unlikely to list
	Unknown  Chance     `json:"unknown"`
}

// A Weighed suspect has one effect for each of Because.Seen.
type Weighed struct {
	Chance
	Unit    string   `json:"unit"`
	Mark    string   `json:"mark"`
	Prior   float64  `json:"prior"` // before anything was looked at
	Effects []Effect `json:"effects"`
}

// An Effect is what one observation does to one suspect.
type Effect struct {
	Factor float64 `json:"factor"` // of the odds, all else known: above 1 for, below 1 against
	Words  string  `json:"words"`  // "6.0 × likelier", "says nothing"
}

// Because returns what each observation that counts does to each suspect. The
// factors are each taken with all else known, so they need not multiply up.
func (b *Bench) Because(ctx context.Context, caseID string) (*Because, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if err := k.s.c.needNote(); err != nil {
		return nil, err
	}
	return k.s.because(k.view), nil
}

func (s *sheet) because(v *View) *Because {
	out := &Because{Seen: []Observed{}, Suspects: []Weighed{}, Rest: v.Rest, Unknown: v.Unknown}
	stands := s.c.standing()
	for _, i := range stands {
		out.Seen = append(out.Seen, v.Known[i])
	}
	for _, x := range v.Suspects {
		w := Weighed{Chance: x.Chance, Unit: x.Unit, Mark: x.Mark, Prior: x.Prior, Effects: make([]Effect, len(stands))}
		factor := map[int]float64{}
		for _, y := range s.why[s.c.names.modes[x.Mode]] {
			factor[y.Seen] = y.Factor
		}
		for n, i := range stands {
			w.Effects[n] = Effect{Factor: factor[i], Words: effectWords(factor[i])}
		}
		out.Suspects = append(out.Suspects, w)
	}
	return out
}

// effectWords says a factor, and that it is none where it is as good as one.
func effectWords(f float64) string {
	if f == 0 || math.Max(f, 1/f) < 1.05 {
		return "says nothing"
	}
	return factorWords(f)
}

// Minds is what would change one's mind.
type Minds struct {
	Top      Chance `json:"top"`      // whom one suspects first now
	First    string `json:"first"`    // what one would do now without another look
	Suspects []Mind `json:"suspects"` // outcomes that would bring another suspect to the top, likeliest first
	Moves    []Mind `json:"moves"`    // outcomes that would change what one would do without another look
}

// A Mind is one outcome of one finding that would change something.
type Mind struct {
	Told
	P     float64 `json:"p"`     // chance that it comes out so
	Check *Ref    `json:"check"` // what reveals it; nil for a symptom
	Top   Chance  `json:"top"`   // whom one would then suspect first
	First string  `json:"first"` // what one would then do without another look
}

const (
	mindLeast = 0.005 // chance below which an outcome is not worth telling
	mindsMost = 40
)

// turner is an adviser that can say what would change its mind; *plan.Planner is one.
type turner interface {
	Turns(ctx context.Context, b *belief.Belief, sit plan.Situation) (*plan.Turns, error)
}

// Minds looks for the outcomes that would change one's mind. It is worked out once for a case as it stands.
func (b *Bench) Minds(ctx context.Context, caseID string) (*Minds, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if err := k.s.canPlan(); err != nil {
		return nil, err
	}
	b.mu.Lock()
	ready := k.mulled.minds
	b.mu.Unlock()
	if ready != nil {
		return ready, nil
	}
	a, err := k.s.adviser()
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "change the settings", Err: err}
	}
	t, able := a.(turner)
	if !able {
		return nil, fail(BadInput, "try it with what-if", "this planner cannot say what would change its mind")
	}
	x, err := t.Turns(ctx, k.s.now, k.s.sit)
	if err != nil {
		return nil, err
	}
	out := k.s.minds(x)
	b.mu.Lock()
	defer b.mu.Unlock()
	k.mulled.minds = out
	return out, nil
}

func (s *sheet) minds(x *plan.Turns) *Minds {
	out := &Minds{First: s.moveTitle(x.First), Suspects: []Mind{}, Moves: []Mind{}}
	if x.Top.Mode >= 0 {
		out.Top = s.chance(x.Top.Mode)
	}
	list := func(to *[]Mind, from []plan.Turn) {
		for _, t := range from {
			if len(*to) < mindsMost && t.P >= mindLeast {
				*to = append(*to, s.mind(t))
			}
		}
	}
	list(&out.Suspects, x.Suspects)
	list(&out.Moves, x.Moves)
	return out
}

func (s *sheet) mind(t plan.Turn) Mind {
	out := Mind{Told: s.told(t.Value), P: t.P, First: s.moveTitle(t.First)}
	if t.Check >= 0 {
		out.Check = &Ref{s.k.m.Checks[t.Check].ID, s.k.m.Checks[t.Check].Title}
	}
	if t.Top.Mode >= 0 {
		out.Top = s.tops([]plan.Suspect{t.Top})[0]
	}
	return out
}
