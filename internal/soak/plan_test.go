package soak_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettler/internal/soak"
)

// sentence checks that err tells the user what is wrong and what to give.
func sentence(t *testing.T, name string, err error) {
	t.Helper()
	var fe *soak.FieldError
	switch {
	case !errors.As(err, &fe):
		t.Errorf("%s: error is %v, want a FieldError", name, err)
	case fe.Field == "" || fe.Problem == "" || fe.Allowed == "" || strings.Contains(err.Error(), "NaN"):
		t.Errorf("%s: %q does not tell field, problem and remedy", name, err)
	}
}

// P(still there) = π·e^(−λt)/(π·e^(−λt)+1−π): π = 0.3, λt = 3 gives 0.02089 (derived).
func TestBayesForm(t *testing.T) {
	q := soak.Question{Still: 0.3, History: soak.History{Pattern: soak.OnAverage, EveryMin: 20, Exact: true}}
	p := must(soak.Make(q))(t)
	at := time.Date(2030, 3, 1, 19, 0, 0, 0, time.UTC)
	got := must(soak.Follow(q, []soak.Event{{At: at, Kind: soak.Started}, {At: at.Add(time.Hour), Kind: soak.Clean}}, at.Add(time.Hour)))(t)
	near(t, "still there", 1-got.Fixed, 0.02089, 0.5001e-5)
	// and the other way round: λt that leads to 0.95
	near(t, "need", p.Need, -20*math.Log((0.05/0.95)*(0.7/0.3)), 1e-9)
	near(t, "after", p.After, 0.95, 1e-12)
	near(t, "before", p.Before, 0.7, 1e-12)
}

// The classical test needs 46.1 and 59.9 minutes for a symptom that showed every 20 (derived).
func TestPlanClassical(t *testing.T) {
	for c, want := range map[float64]float64{0.9: 46.1, 0.95: 59.9} {
		p := must(soak.Make(soak.Question{Still: 0.5, Confidence: c, Settings: soak.Settings{Method: soak.Test},
			History: soak.History{Pattern: soak.OnAverage, EveryMin: 20, Exact: true}}))(t)
		near(t, "need", p.Need, want, 0.05)
		near(t, "confidence reached", p.After, c, 1e-12)
	}
	for _, row := range table(t, "success.csv") {
		if row[1] == 0.5 {
			continue
		}
		p := must(soak.Make(soak.Question{Confidence: row[1], Settings: soak.Settings{Method: soak.Test},
			History: soak.History{Pattern: soak.OfStarts, Shown: int(math.Round(100 * (1 - row[0]))), Of: 100, Exact: true}}))(t)
		if p.Need != row[2] {
			t.Errorf("R=%g C=%g: %g starts, want %g", row[0], row[1], p.Need, row[2])
		}
	}
}

// With λ ~ Gamma(a, b) the factor e^(−λt) becomes (b/(b+t))^a; here it is also
// integrated numerically over the density.
func TestGammaRate(t *testing.T) {
	const a, b = 4, 90.0 // four times in an hour and a half
	q := soak.Question{Still: 0.25, History: soak.History{Pattern: soak.InTime, Times: a, InMin: b}}
	p := must(soak.Make(q))(t)
	stay, h := 0.0, 1e-5
	for l := h / 2; l < 1; l += h {
		stay += h * math.Pow(b, a) * l * l * l / 6 * math.Exp(-l*(b+p.Need))
	}
	near(t, "chance to stay clean by luck", 1-p.Shows, stay, 1e-6)
	near(t, "fixed after", 0.75/(0.25*stay+0.75), 0.95, 1e-6)
}

// A chance per start of Beta(k+½, n−k+½): the product formula, term by term.
func TestBetaStarts(t *testing.T) {
	q := soak.Question{Still: 0.4, Confidence: 0.9, History: soak.History{Pattern: soak.OfStarts, Shown: 3, Of: 10}}
	p := must(soak.Make(q))(t)
	stay := func(n float64) float64 {
		s := 1.0
		for i := range int(n) {
			s *= (7.5 + float64(i)) / (11 + float64(i))
		}
		return s
	}
	fixed := func(n float64) float64 { return 0.6 / (0.4*stay(n) + 0.6) }
	if fixed(p.Need) < 0.9 || fixed(p.Need-1) >= 0.9 {
		t.Errorf("%g starts are not the fewest: %g, one less %g", p.Need, fixed(p.Need), fixed(p.Need-1))
	}
	for _, pt := range p.Curve(100) {
		near(t, "curve", pt.Fixed, fixed(pt.X), 1e-10)
	}
}

func TestPlanSteps(t *testing.T) {
	exact := soak.History{Pattern: soak.OnAverage, EveryMin: 10, Exact: true}
	test := soak.Settings{Method: soak.Test}
	at := func(w soak.When) soak.History { h := exact; h.When = w; h.AfterMin = 120; return h }
	starts := func(w soak.When) soak.History {
		return soak.History{Pattern: soak.OfStarts, Shown: 1, Of: 2, Exact: true, When: w, AfterMin: 120}
	}
	for _, tt := range []struct {
		name string
		h    soak.History
		want []soak.Step
	}{
		{"minutes", exact, []soak.Step{{Kind: soak.Run, Times: 1, OnMin: 29.957, Counts: true}}},
		{"warm minutes", at(soak.Warm), []soak.Step{
			{Kind: soak.WarmThru, Times: 1, OnMin: 20}, {Kind: soak.Run, Times: 1, OnMin: 29.957, When: soak.Warm, Counts: true}}},
		{"cold minutes", at(soak.Cold), []soak.Step{{Kind: soak.Cycle, Times: 2, OffMin: 60, OnMin: 14.979, When: soak.Cold, Counts: true}}},
		{"late minutes", at(soak.Late), []soak.Step{
			{Kind: soak.WarmThru, Times: 1, OnMin: 120}, {Kind: soak.Run, Times: 1, OnMin: 29.957, When: soak.Late, Counts: true}}},
		{"starts", starts(soak.Anytime), []soak.Step{
			{Kind: soak.Cycle, Times: 1, OffMin: 60, OnMin: 20, When: soak.Cold, Counts: true},
			{Kind: soak.Cycle, Times: 4, OffMin: 1, OnMin: 5, When: soak.Warm, Counts: true}}},
		{"cold starts", starts(soak.Cold), []soak.Step{{Kind: soak.Cycle, Times: 5, OffMin: 60, OnMin: 5, When: soak.Cold, Counts: true}}},
		{"warm starts", starts(soak.Warm), []soak.Step{
			{Kind: soak.WarmThru, Times: 1, OnMin: 20}, {Kind: soak.Cycle, Times: 5, OffMin: 1, OnMin: 5, When: soak.Warm, Counts: true}}},
		{"long runs", starts(soak.Late), []soak.Step{{Kind: soak.Cycle, Times: 5, OffMin: 60, OnMin: 180, When: soak.Late, Counts: true}}},
	} {
		p := must(soak.Make(soak.Question{History: tt.h, Settings: test}))(t)
		if d := cmp.Diff(tt.want, p.Steps, cmpopts.IgnoreFields(soak.Step{}, "Caution"), cmpopts.EquateApprox(0, 1e-3)); d != "" {
			t.Errorf("%s (-want +got)\n%s", tt.name, d)
		}
		for _, s := range p.Steps {
			if s.Caution == "" {
				t.Errorf("%s: step %q has no caution", tt.name, s.Kind)
			}
		}
	}
}

func TestAlready(t *testing.T) {
	q := soak.Question{Still: 0.01, Confidence: 0.95, History: soak.History{Pattern: soak.EachTime}}
	p := must(soak.Make(q))(t)
	if !p.Already || p.Need != 0 || len(p.Steps) != 1 || p.Steps[0].Kind != soak.Try {
		t.Errorf("sure beforehand, yet the plan is %+v", p)
	}
	at := time.Date(2030, 3, 1, 19, 0, 0, 0, time.UTC)
	got := must(soak.Follow(q, nil, at))(t)
	if got.State != soak.NotStarted {
		t.Errorf("nothing has happened, state is %q", got.State)
	}
	got = must(soak.Follow(q, []soak.Event{{At: at, Kind: soak.Started}, {At: at.Add(5 * time.Minute), Kind: soak.Clean}}, at))(t)
	if got.State != soak.Proved {
		t.Errorf("tried and clean, state is %q", got.State)
	}
}

func TestPlanBadInput(t *testing.T) {
	ok := soak.Question{Still: 0.2, History: soak.History{Pattern: soak.OnAverage, EveryMin: 5}}
	must(soak.Make(ok))(t)
	for name, spoil := range map[string]func(*soak.Question){
		"no pattern":       func(q *soak.Question) { q.History.Pattern = "" },
		"no interval":      func(q *soak.Question) { q.History.EveryMin = 0 },
		"interval NaN":     func(q *soak.Question) { q.History.EveryMin = math.NaN() },
		"negative seen":    func(q *soak.Question) { q.History.Seen = -1 },
		"never in a time":  func(q *soak.Question) { q.History = soak.History{Pattern: soak.InTime, InMin: 5} },
		"no time":          func(q *soak.Question) { q.History = soak.History{Pattern: soak.InTime, Times: 5} },
		"never at a start": func(q *soak.Question) { q.History = soak.History{Pattern: soak.OfStarts, Of: 5} },
		"more than starts": func(q *soak.Question) { q.History = soak.History{Pattern: soak.OfStarts, Of: 5, Shown: 6} },
		"not each time":    func(q *soak.Question) { q.History = soak.History{Pattern: soak.EachTime, Of: 5, Shown: 4} },
		"when":             func(q *soak.Question) { q.History.When = "lukewarm" },
		"late without":     func(q *soak.Question) { q.History.When = soak.Late },
		"certainly broken": func(q *soak.Question) { q.Still = 1 },
		"still NaN":        func(q *soak.Question) { q.Still = math.NaN() },
		"certain":          func(q *soak.Question) { q.Confidence = 1 },
		"method":           func(q *soak.Question) { q.Settings.Method = "guess" },
		"warm-up":          func(q *soak.Question) { q.Settings.WarmUpMin = math.Inf(1) },
		"long off":         func(q *soak.Question) { q.Settings.OffMin = 20 },
	} {
		q := ok
		spoil(&q)
		_, err := soak.Make(q)
		sentence(t, name, err)
	}
}

// anyQuestion draws questions whose plans are short enough to be played.
func anyQuestion(rt *rapid.T) soak.Question {
	h := soak.History{
		Pattern:  rapid.SampledFrom([]soak.Pattern{soak.EachTime, soak.OnAverage, soak.InTime, soak.OfStarts}).Draw(rt, "pattern"),
		EveryMin: rapid.Float64Range(0.1, 500).Draw(rt, "every"),
		Seen:     rapid.IntRange(0, 20).Draw(rt, "seen"),
		Times:    rapid.IntRange(1, 30).Draw(rt, "times"),
		InMin:    rapid.Float64Range(0.5, 5000).Draw(rt, "in"),
		Of:       rapid.IntRange(2, 12).Draw(rt, "of"),
		Exact:    rapid.Bool().Draw(rt, "exact"),
		When:     rapid.SampledFrom([]soak.When{soak.Anytime, soak.Cold, soak.Warm, soak.Late}).Draw(rt, "when"),
		AfterMin: rapid.Float64Range(1, 300).Draw(rt, "after"),
	}
	h.Shown = rapid.IntRange(2, h.Of).Draw(rt, "shown")
	if h.Pattern == soak.EachTime {
		h.Shown = h.Of
	}
	return soak.Question{
		History:    h,
		Still:      rapid.Float64Range(0, 0.7).Draw(rt, "still"),
		Confidence: rapid.Float64Range(0.5, 0.97).Draw(rt, "confidence"),
		Settings: soak.Settings{
			WarmUpMin:   rapid.Float64Range(1, 60).Draw(rt, "warm-up"),
			CoolDownMin: rapid.Float64Range(10, 120).Draw(rt, "cool-down"),
			Method:      rapid.SampledFrom([]soak.Method{soak.ByBelief, soak.Test}).Draw(rt, "method"),
		},
	}
}

// A plan reaches the confidence, is not longer than it must be, and its curve rises.
func TestPlanIsEnoughAndNotMore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := anyQuestion(rt)
		p, err := soak.Make(q)
		if err != nil {
			rt.Fatal(err)
		}
		if p.After < p.Question.Confidence-1e-9 {
			rt.Fatalf("ends at %g, wanted %g", p.After, p.Question.Confidence)
		}
		if c := p.Curve(50); p.Unit == soak.Minutes && !p.Already {
			if math.Abs(p.After-p.Question.Confidence) > 1e-9 {
				rt.Fatalf("ends at %g, more than the %g wanted", p.After, p.Question.Confidence)
			}
			for i := 1; i < len(c); i++ {
				if c[i].Fixed < c[i-1].Fixed {
					rt.Fatalf("the curve falls at %v", c[i])
				}
			}
		}
	})
}

func BenchmarkMake(b *testing.B) {
	q := soak.Question{Still: 0.2, History: soak.History{Pattern: soak.OfStarts, Shown: 3, Of: 10}}
	for b.Loop() {
		if _, err := soak.Make(q); err != nil {
			b.Fatal(err)
		}
	}
}
