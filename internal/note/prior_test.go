package note

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The scale makes a second independent fault one in eight: by enumeration over
// all sets of ten modes, P(two or more | at least one).
func TestSecondFault(t *testing.T) {
	w := []float64{5, 3, 2, 2, 1, 1, 0.5, 0.5, 0.2, 0.1}
	k := scaleFor(w, secondFault)
	single, any := 0.0, 0.0
	for set := 1; set < 1<<len(w); set++ {
		p, n := 1.0, 0
		for i, x := range w {
			if set&(1<<i) != 0 {
				p *= k * x
				n++
			}
		}
		any += p
		if n == 1 {
			single += p
		}
	}
	if got := 1 - single/any; got < 0.09 || got > 0.13 { // fewer modes, a little less than Poisson's 0.124
		t.Errorf("a second fault has probability %.4f", got)
	}
}

func TestScaleFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SliceOfN(rapid.Float64Range(1e-6, 1e4), 1, 80).Draw(t, "weights")
		k := scaleFor(w, secondFault)
		sum := 0.0
		for _, x := range w {
			sum += math.Log1p(k * x)
		}
		if math.Abs(sum-secondFault) > 1e-10 {
			t.Fatalf("Σ ln(1+odds) = %g with k = %g", sum, k)
		}
	})
}

func TestLevelled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SliceOfN(rapid.Float64Range(0, 1), 2, 12).Draw(t, "row")
		sum := 0.0
		for _, p := range levelled(row) {
			sum += p
			if p < floor*(1-1e-12) {
				t.Fatalf("%g is below the floor", p)
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("the row adds up to %g", sum)
		}
	})
}

// Burdens are met, the sum stays, and units without one keep their ratios.
func TestShare(t *testing.T) {
	w := []float64{1, 2, 3, 4, 10}
	units := []int{0, 1, 1, 2, 3}
	share(w, units, []float64{-1, 0.5, -1, 0.2})
	near := func(got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("got %g, want %g", got, want)
		}
	}
	near(w[0]+w[1]+w[2]+w[3]+w[4], 20)
	near(w[1]+w[2], 10)
	near(w[2]/w[1], 1.5)
	near(w[4], 4)
	near(w[3]/w[0], 4)
}

// Strength 0.5 is the geometric mean of notes and records; a class that only
// one of the two knows stays as it is.
func TestTemper(t *testing.T) {
	w := []float64{1, 1, 2, 6}
	classes := []Class{ClassFuse, ClassFuse, ClassMotor, ClassBoard}
	temper(w, classes, map[Class]float64{ClassFuse: 0.08, ClassMotor: 0.02, ClassUser: 0.9}, 0.5, func() {})
	// fuse 2 and motor 2 become √(2·0.08) : √(2·0.02) = 2 : 1 of their 4
	want := []float64{4.0 / 3, 4.0 / 3, 4.0 / 3, 6}
	for i := range w {
		if math.Abs(w[i]-want[i]) > 1e-9 {
			t.Errorf("weight %d is %g, want %g", i, w[i], want[i])
		}
	}
}

func TestParseChance(t *testing.T) {
	for s, want := range map[string]float64{"usually": 0.8, "never": 0, "30 %": 0.3, "30%": 0.3, "0.3": 0.3, "1": 1, "0.5 %": 0.005} {
		if got, _, err := parseChance(s); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("parseChance(%q) = %g, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "NaN", "Inf", "-0.1", "1.1", "120 %", "maybe", "%"} {
		if _, _, err := parseChance(s); err == nil {
			t.Errorf("parseChance(%q) took it", s)
		}
	}
}

// What the records say moves no mode by more than the cap, and a class they
// hardly know is not driven to nothing.
func TestTemperKeepsTheNote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := Classes()
		n := rapid.IntRange(2, 12).Draw(t, "modes")
		w := rapid.SliceOfN(rapid.Float64Range(1e-3, 10), n, n).Draw(t, "weights")
		classes := make([]Class, n)
		units := make([]int, n)
		for i := range classes {
			classes[i] = all[rapid.IntRange(0, 4).Draw(t, "class")]
			units[i] = rapid.IntRange(0, 2).Draw(t, "unit")
		}
		mix := map[Class]float64{}
		for _, c := range all[:5] {
			mix[c] = rapid.Float64Range(0, 1).Draw(t, "share")
		}
		burdens := []float64{-1, rapid.Float64Range(0, 0.5).Draw(t, "burden"), -1}
		share(w, units, burdens)
		before := append([]float64(nil), w...)
		temper(w, classes, mix, 1, func() { share(w, units, burdens) })
		for i := range w {
			if w[i] < before[i]/mostMoved*(1-1e-12) || w[i] > before[i]*mostMoved*(1+1e-12) {
				t.Fatalf("mode %d went from %g to %g", i, before[i], w[i])
			}
		}
	})
	got := targets(map[Class]float64{ClassFuse: 1, ClassMotor: 1}, map[Class]float64{ClassFuse: 1e-5, ClassMotor: 0.5}, 1)
	if want := 2 * leastMix / (leastMix + 0.5); math.Abs(got[ClassFuse]-want) > 1e-12 {
		t.Errorf("a class with next to no records aims at %g, want %g", got[ClassFuse], want)
	}
}
