package heat_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/heat"

	"github.com/google/go-cmp/cmp"
)

// rows reads a table of testdata; its README names the sources.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.ReplaceAll(s, " ", ""), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestAlloys(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rows(t, "alloys.csv") {
		a, err := heat.AlloyByName(r[0])
		if err != nil {
			t.Fatal(err)
		}
		seen[a.Name] = true
		got := []any{a.Solidus, a.Liquidus, string(a.Mark)}
		if d := cmp.Diff([]any{number(t, r[1]), number(t, r[2]), r[3]}, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", r[0], d)
		}
	}
	for _, a := range heat.Alloys() {
		if !seen[a.Name] {
			t.Errorf("%s is in the table but not checked", a.Name)
		}
	}
}

func TestAlloyUnknown(t *testing.T) {
	_, err := heat.AlloyByName("Sn50Pb51")
	var fe *heat.FieldError
	if !errors.As(err, &fe) || !strings.Contains(fe.Allowed, "Sn50Pb50") {
		t.Errorf("got %v, want a field error that lists the alloys", err)
	}
}

func TestClassificationTemp(t *testing.T) {
	for _, r := range rows(t, "classification.csv") {
		got, mark, err := heat.ClassificationTemp(number(t, r[1]), number(t, r[2]), r[0] == "leadfree")
		if err != nil {
			t.Fatal(err)
		}
		if got != number(t, r[3]) || string(mark) != r[4] {
			t.Errorf("%v: got %v (%s)", r, got, mark)
		}
	}
}

func TestProfile(t *testing.T) {
	want := []heat.ReflowProfile{
		{LeadFree: false, PreheatMin: 100, PreheatMax: 150, PreheatTimeMin: 60, PreheatMid: 120, RampUp: 3, RampDown: 6, Liquidus: 183,
			AboveMin: 60, AboveMax: 150, NearPeak: 20, ToPeak: 360, Passes: 3, Mark: heat.Verified},
		{LeadFree: true, PreheatMin: 150, PreheatMax: 200, PreheatTimeMin: 60, PreheatMid: 120, RampUp: 3, RampDown: 6, Liquidus: 217,
			AboveMin: 60, AboveMax: 150, NearPeak: 30, ToPeak: 480, Passes: 3, Mark: heat.Verified},
	}
	if d := cmp.Diff(want, []heat.ReflowProfile{heat.Profile(false), heat.Profile(true)}); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Floor lives: J-STD-033, from memory.
func TestFloorLives(t *testing.T) {
	want := []float64{math.Inf(1), 365 * 24, 28 * 24, 168, 72, 48, 24, 0}
	for i, f := range heat.FloorLives() {
		if f.Hours != want[i] {
			t.Errorf("level %s: %v h, want %v", f.Level, f.Hours, want[i])
		}
	}
}

// The ban took effect on 1 July 2006; the letters are those of J-STD-609 (from memory).
func TestGuessAlloy(t *testing.T) {
	for _, c := range []struct {
		year  int
		marks []string
		alloy string
		lo    float64
		hi    float64
	}{
		{1985, nil, "Sn63Pb37", 0, 0.1},
		{2003, nil, "Sn63Pb37", 0, 0.5},
		{2003, []string{"Pb-free"}, heat.DefaultAlloy, 0.9, 1},
		{2015, nil, heat.DefaultAlloy, 0.9, 1},
		{2015, []string{"Sn63Pb37"}, "Sn63Pb37", 0, 0.1},
		{0, nil, heat.DefaultAlloy, 0.5, 0.7},
		{0, []string{"e1"}, "Sn96.5Ag3Cu0.5", 0.9, 1},
		{0, []string{"E2"}, "Sn99.3Cu0.7", 0.9, 1},
		{2020, []string{"e6"}, "Bi58Sn42", 0.9, 1},
		{2020, []string{"Made with care", "RoHS"}, heat.DefaultAlloy, 0.9, 1},
	} {
		g, err := heat.GuessAlloy(c.year, c.marks...)
		if err != nil {
			t.Fatal(err)
		}
		if g.Alloy != c.alloy || g.LeadFree < c.lo || g.LeadFree > c.hi || len(g.Why) == 0 {
			t.Errorf("%d %v: %+v", c.year, c.marks, g)
		}
	}
	if _, err := heat.GuessAlloy(20015); err == nil {
		t.Error("year 20015 accepted")
	}
}

func TestMaterials(t *testing.T) {
	for _, m := range heat.Materials() {
		if !(m.Conductivity > 0 && m.Through > 0 && m.Density > 0 && m.SpecificHeat > 0) || m.Mark == "" {
			t.Errorf("%+v", m)
		}
	}
}

// Martin's correlation: points worked out from the published formula.
func TestMartinNusselt(t *testing.T) {
	for _, r := range rows(t, "martin.csv") {
		re, pr, ar, hd, want := number(t, r[0]), number(t, r[1]), number(t, r[2]), number(t, r[3]), number(t, r[4])
		got, outside := heat.MartinNusselt(re, pr, 1, hd, 1/(2*math.Sqrt(ar)))
		if math.Abs(got-want) > 0.001 || len(outside) > 0 {
			t.Errorf("Re %v A_r %v H/D %v: got %.4f, want %.3f; outside: %v", re, ar, hd, got, want, outside)
		}
	}
	for _, c := range []struct{ re, hd, r float64 }{{1999, 6, 3}, {5e5, 6, 3}, {1e4, 1.9, 3}, {1e4, 13, 3}, {1e4, 6, 2.4}, {1e4, 6, 8}} {
		if _, outside := heat.MartinNusselt(c.re, 0.7, 1, c.hd, c.r); len(outside) != 1 {
			t.Errorf("%+v: outside = %q, want one sentence", c, outside)
		}
	}
}

func jet(t *testing.T, nozzle, distance, flow float64) *heat.Jet {
	t.Helper()
	j, err := heat.NewJet(nozzle, distance, flow, 350, 20, 1)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func TestJetBadInput(t *testing.T) {
	for _, v := range []float64{-1, 0, math.NaN(), math.Inf(1)} {
		for i := range 3 {
			a := [3]float64{5, 15, 20}
			a[i] = v
			if _, err := heat.NewJet(a[0], a[1], a[2], 350, 20, 1); err == nil {
				t.Errorf("%v accepted", a)
			}
		}
	}
}

// The last two listed points are nozzles: their Re and h within the 5 % that the air
// properties differ (ν = 5.65e-5 m²/s, k = 0.0472 W/(m·K) there).
func TestJetNozzles(t *testing.T) {
	for _, c := range []struct{ d, flow, re, h float64 }{{5, 20, 3194, 277}, {10, 30, 2396, 117}} {
		j := jet(t, c.d, 3*c.d, c.flow)
		if math.Abs(j.Re/c.re-1) > 0.05 || math.Abs(j.Mean/c.h-1) > 0.05 {
			t.Errorf("%v mm, %v l/min: Re %.0f, h %.0f; listed %v, %v", c.d, c.flow, j.Re, j.Mean, c.re, c.h)
		}
	}
}

// The local coefficient, averaged over a disc, must give the correlation's mean.
func TestJetLocalKeepsMean(t *testing.T) {
	for _, dist := range []float64{10, 15, 30, 60} {
		j := jet(t, 5, dist, 20)
		at25, _ := heat.MartinNusselt(j.Re, 0.69, 5, dist, 12.5)
		sum, r := 0.0, 0.0
		const dr = 0.005
		for i := 0; ; i++ {
			r = (float64(i) + 0.5) * dr
			if r > 37.5 {
				break
			}
			sum += j.H(r) * 2 * math.Pi * r * dr
			for _, edge := range []float64{12.5, 25, 37.5} {
				if math.Abs(r+dr/2-edge) < dr/4 {
					nu, outside := heat.MartinNusselt(j.Re, 0.69, 5, dist, edge)
					if len(outside) > 0 {
						t.Fatal(outside)
					}
					want := j.Mean * nu / at25
					if got := sum / (math.Pi * edge * edge); math.Abs(got/want-1) > 1e-3 {
						t.Errorf("distance %v, radius %v: mean %.2f, want %.2f", dist, edge, got, want)
					}
				}
			}
		}
		if a, b := j.H(12.4999), j.H(12.5001); math.Abs(a/b-1) > 1e-3 {
			t.Errorf("jump at 2.5 diameters: %.2f, %.2f", a, b)
		}
	}
}

func TestJetNotes(t *testing.T) {
	j := jet(t, 10, 15, 8)
	if got := strings.Join(j.Notes, "; "); !strings.Contains(got, "Reynolds") || !strings.Contains(got, "diameters") {
		t.Errorf("notes %q do not say that Re and distance are outside", got)
	}
	for r := 0.0; r < 300; r += 0.5 {
		if h, a := j.H(r), j.Air(r); !(h > 0) || !(a >= 20 && a <= 350) {
			t.Fatalf("at %v mm: h %v, air %v", r, h, a)
		}
	}
}
