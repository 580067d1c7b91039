package belief_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// reference is a two-layer noisy-OR network with exact posteriors; the folder's
// README says how they were computed (Heckerman's Quickscore, UAI 1989, in
// 80-digit arithmetic, and a second exact method).
type reference struct {
	Tolerance float64
	Faults    []struct {
		Name  string
		Prior float64
	}
	Findings []struct {
		Name    string
		Leak    float64
		Parents []struct {
			Fault string
			P     float64
		}
	}
	Cases []struct {
		Positive, Negative []string
		PEvidence          float64 `json:"p_evidence"`
		Posteriors         map[string]float64
	}
}

func (r *reference) model() (*note.Model, map[string]int) {
	m := &note.Model{ID: "two-layer"}
	index := map[string]int{}
	for i, f := range r.Faults {
		index[f.Name] = i
		m.Modes = append(m.Modes, note.Mode{ID: f.Name, Odds: f.Prior / (1 - f.Prior)})
	}
	for i, f := range r.Findings {
		index[f.Name] = i
		x := note.Finding{ID: f.Name, Kind: note.Sign, Check: -1, Leak: f.Leak}
		for _, p := range f.Parents {
			x.Trigger = append(x.Trigger, note.Trigger{Mode: index[p.Fault], Chance: p.P})
		}
		m.Findings = append(m.Findings, x)
	}
	return m, index
}

func TestNoisyOrReference(t *testing.T) {
	files, err := filepath.Glob("testdata/reference/noisy-or/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no reference files: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) { checkReference(t, file) })
	}
}

func checkReference(t *testing.T, file string) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var ref reference
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	m, index := ref.model()
	e, err := belief.New(m, belief.Options{AllowNone: true, Unknown: -1, Epsilon: 1e-7, MaxStates: 200000})
	if err != nil {
		t.Fatal(err)
	}
	for k, c := range ref.Cases {
		var ev belief.Evidence
		for _, f := range c.Positive {
			ev = ev.With(belief.Observation{Finding: index[f], Value: 1})
		}
		for _, f := range c.Negative {
			ev = ev.With(belief.Observation{Finding: index[f]})
		}
		b, err := e.Posterior(context.Background(), ev)
		if err != nil {
			t.Fatal(err)
		}
		allowed := ref.Tolerance
		if allowed == 0 {
			// The file leaves it to the engine's own bound; 1e-9 is for the ten digits printed.
			allowed = b.Bound + 1e-9
		}
		worst := 0.0
		for name, want := range c.Posteriors {
			worst = math.Max(worst, math.Abs(b.First[index[name]]-want))
		}
		if worst > allowed {
			t.Errorf("case %d: a marginal is off by %.3g, allowed %.3g (bound reported %.3g)", k, worst, allowed, b.Bound)
		}
		if got := math.Exp(b.LogEvidence); math.Abs(got/c.PEvidence-1) > 1e-6+b.Bound {
			t.Errorf("case %d: P(evidence) %v, want %v", k, got, c.PEvidence)
		}
	}
}

// TestQuickscoreExample checks the small worked network of three causes and
// three findings: values by full enumeration of Heckerman's formula (UAI 1989).
func TestQuickscoreExample(t *testing.T) {
	q := [3][3]float64{{0.8, 0.3, 0}, {0, 0.6, 0.5}, {0.4, 0, 0.9}}
	m := &note.Model{ID: "quickscore"}
	for i, p := range []float64{0.10, 0.05, 0.02} {
		m.Modes = append(m.Modes, note.Mode{ID: fmt.Sprintf("d%d", i), Odds: p / (1 - p)})
	}
	for j, leak := range []float64{0.01, 0.02, 0} {
		f := note.Finding{ID: fmt.Sprintf("f%d", j), Check: -1, Leak: leak}
		for i, c := range q[j] {
			if c > 0 {
				f.Trigger = append(f.Trigger, note.Trigger{Mode: i, Chance: c})
			}
		}
		m.Findings = append(m.Findings, f)
	}
	e, err := belief.New(m, belief.Options{AllowNone: true, Unknown: -1})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		values [3]int // 1 shown, 0 absent, -1 not looked at
		pe     float64
		post   [3]float64
	}{
		{[3]int{1, -1, -1}, 0.102862, [3]float64{0.782572767, 0.176177792, 0.020000000}},
		{[3]int{1, 1, -1}, 0.01361446624, [3]float64{0.360352096, 0.814517003, 0.084891302}},
		{[3]int{1, 1, 0}, 0.0109165929216, [3]float64{0.227776910, 0.897502482, 0.007485778}},
		{[3]int{1, 1, 1}, 0.0026978733184, [3]float64{0.896800314, 0.478727074, 0.398102668}},
	} {
		var ev belief.Evidence
		for f, v := range c.values {
			if v >= 0 {
				ev = ev.With(belief.Observation{Finding: f, Value: v})
			}
		}
		b, err := e.Posterior(context.Background(), ev)
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Exp(b.LogEvidence); math.Abs(got/c.pe-1) > 1e-9 {
			t.Errorf("%v: P(e) = %v, want %v", c.values, got, c.pe)
		}
		for i, want := range c.post {
			if math.Abs(b.First[i]-want) > 1e-9 {
				t.Errorf("%v: P(d%d) = %.9f, want %.9f", c.values, i, b.First[i], want)
			}
		}
	}
}
