package appraise

import (
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write weights.csv anew")

// The committed table is what the recipe makes of the hand labels.
func TestWeightsFile(t *testing.T) {
	got, err := Refit()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("weights.csv", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Log("written; run the tests once more, since the file is compiled in")
		return
	}
	if got == weightsCSV {
		return
	}
	a, b := strings.Split(got, "\n"), strings.Split(weightsCSV, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			t.Fatalf("line %d: the recipe makes\n%s\nthe file has\n%s\n(go test ./internal/appraise -run TestWeightsFile -update)", i+1, a[i], b[i])
		}
	}
	t.Fatalf("the recipe makes %d lines, the file has %d", len(a), len(b))
}

func TestReadWeightsSaysWhereItFails(t *testing.T) {
	head := "text,feature" + strings.Repeat(",c", len(classes)) + "\n"
	for name, tc := range map[string]struct{ text, say string }{
		"empty":   {"", "not one column per class"},
		"columns": {"text,feature\n", "not one column per class"},
		"table":   {head + "both,w x" + strings.Repeat(",0", len(classes)) + "\n", `"both" is neither`},
		"number":  {head + "check,w x" + strings.Repeat(",1.5", len(classes)) + "\n", `line 2: weight "1.5"`},
	} {
		if _, err := readWeights(tc.text); err == nil || !strings.Contains(err.Error(), tc.say) {
			t.Errorf("%s: error %v, want %q in it", name, err, tc.say)
		}
	}
}

func FuzzReadWeights(f *testing.F) {
	f.Add("text,feature\ncheck,w x,1\n")
	f.Fuzz(func(t *testing.T, text string) { _, _ = readWeights(text) })
}

// At the optimum the gradient vanishes: for each feature and class, what was
// found less what was expected is the pull of the ridge.
func TestMaxentOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		classes, features := rapid.IntRange(2, 4).Draw(t, "classes"), rapid.IntRange(1, 4).Draw(t, "features")
		var samples []sample
		for range rapid.IntRange(1, 20).Draw(t, "samples") {
			s := sample{found: rapid.SliceOfN(rapid.Float64Range(0.01, 1), classes, classes).Draw(t, "found"), weight: rapid.Float64Range(0.1, 2).Draw(t, "weight")}
			scale(s.found)
			for f := range features {
				if rapid.Bool().Draw(t, "has") {
					s.features = append(s.features, f)
				}
			}
			s.offset = rapid.SliceOfN(rapid.Float64Range(-2, 2), classes, classes).Draw(t, "offset")
			samples = append(samples, s)
		}
		mean, ridge := make([][]float64, features), make([]float64, features)
		for f := range mean {
			mean[f] = rapid.SliceOfN(rapid.Float64Range(-1, 1), classes, classes).Draw(t, "mean")
			ridge[f] = rapid.Float64Range(1, 5).Draw(t, "ridge")
		}
		w := maxent(samples, mean, ridge, 400)
		for f := range w {
			for k := range w[f] {
				g := ridge[f] * (w[f][k] - mean[f][k])
				for _, s := range samples {
					for _, has := range s.features {
						if has != f {
							continue
						}
						z, p := append([]float64(nil), s.offset...), make([]float64, classes)
						for _, h := range s.features {
							for c := range z {
								z[c] += w[h][c]
							}
						}
						softmaxInto(p, z)
						g += s.weight * (p[k] - s.found[k])
					}
				}
				if math.Abs(g) > 1e-6 {
					t.Fatalf("feature %d, class %d: gradient %g", f, k, g)
				}
			}
		}
	})
}

// With one feature that is always there, no offset and no ridge to speak of,
// the fitted chances are the counted shares: the textbook case of a
// multinomial with an intercept only.
func TestMaxentCountsShares(t *testing.T) {
	var samples []sample
	for _, class := range []int{0, 0, 0, 1, 1, 2} {
		found := make([]float64, 3)
		found[class] = 1
		samples = append(samples, sample{features: []int{0}, found: found, offset: make([]float64, 3), weight: 1})
	}
	w := maxent(samples, [][]float64{make([]float64, 3)}, []float64{1e-9}, 200)
	p := make([]float64, 3)
	softmaxInto(p, w[0])
	for k, want := range []float64{3. / 6, 2. / 6, 1. / 6} {
		if math.Abs(p[k]-want) > 1e-6 {
			t.Errorf("class %d has %g, want %g", k, p[k], want)
		}
	}
}

// scale makes p add up to 1.
func scale(p []float64) {
	sum := 0.0
	for _, x := range p {
		sum += x
	}
	for k := range p {
		p[k] /= sum
	}
}
