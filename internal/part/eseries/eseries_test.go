package eseries_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/part/eseries"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Every value of IEC 60063:2015, E3 to E192.
func TestTables(t *testing.T) {
	f, err := os.Open("testdata/iec60063.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 8 {
		t.Fatalf("%d rows, want the head and seven series", len(rows))
	}
	for _, row := range rows[1:] {
		n, _ := strconv.Atoi(row[0][1:])
		s := eseries.Series(n)
		var want []int
		for _, w := range strings.Fields(row[1]) {
			v, err := strconv.Atoi(w)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, v)
			for e := -12; e <= 9; e++ {
				x, _ := strconv.ParseFloat(fmt.Sprintf("%de%d", v, e), 64)
				if !s.Contains(x) {
					t.Errorf("%s does not hold %g", s, x)
				}
				if got, err := s.Nearest(x * 1.0005); err != nil || got != x {
					t.Errorf("%s: nearest to %g is %g, %v", s, x*1.0005, got, err)
				}
			}
		}
		if d := cmp.Diff(want, s.Values()); d != "" {
			t.Errorf("%s (-want +got):\n%s", s, d)
		}
	}
}

// Known facts of the standard: which series nest and which do not.
func TestNesting(t *testing.T) {
	for _, p := range [][2]eseries.Series{{3, 6}, {6, 12}, {12, 24}, {48, 96}, {96, 192}} {
		for _, v := range p[0].Values() {
			if !p[1].Contains(float64(v)) {
				t.Errorf("%d of %s is not in %s", v, p[0], p[1])
			}
		}
	}
	if eseries.E96.Contains(27) || !eseries.E24.Contains(27) || !eseries.E192.Contains(9.20) || eseries.E192.Contains(9.19) {
		t.Error("27 is in E24 but not E96, 920 and not 919 in E192")
	}
	// Nominal tolerances of the standard.
	for s, tol := range map[eseries.Series]float64{6: 0.2, 12: 0.1, 24: 0.05, 48: 0.02, 96: 0.01, 192: 0.005} {
		if s.Tolerance() != tol || eseries.ForTolerance(tol) != s {
			t.Errorf("%s: %v", s, s.Tolerance())
		}
	}
}

func TestNearestIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(eseries.All()).Draw(t, "series")
		v := math.Exp(rapid.Float64Range(-25, 25).Draw(t, "ln v"))
		got, err := s.Nearest(v)
		if err != nil || !s.Contains(got) {
			t.Fatalf("%s, %g: %g, %v", s, v, got, err)
		}
		for e := -12; e <= 12; e++ {
			for _, m := range s.Values() {
				if x := float64(m) * math.Pow10(e); math.Abs(math.Log(x/v)) < math.Abs(math.Log(got/v))-1e-9 {
					t.Fatalf("%s: %g is nearer to %g than %g", s, x, v, got)
				}
			}
		}
	})
}

func TestOdd(t *testing.T) {
	for _, v := range []float64{0, -47, math.NaN(), math.Inf(1), 4.71, 1234} {
		if of := eseries.Of(v); of != nil {
			t.Errorf("%v is in %v", v, of)
		}
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := eseries.E24.Nearest(v); err == nil {
			t.Errorf("%v has a nearest value", v)
		}
	}
	if _, err := eseries.Series(7).Nearest(5); err == nil {
		t.Error("E7 is a series")
	}
}
