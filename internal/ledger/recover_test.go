package ledger_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"fettler/internal/ledger"
	"fettler/internal/note"
)

// Simulated benches: the 90 % interval of a factor holds the true one in 85 to
// 95 of 100, with certain attribution and with blurred, with few cases and many.
func TestCoverage(t *testing.T) {
	for _, tt := range []struct {
		name  string
		blur  float64
		cases int
	}{
		{"certain, 60 cases", 0, 60}, {"certain, 1000 cases", 0, 1000},
		{"blurred, 60 cases", 1, 60}, {"blurred, 1000 cases", 1, 1000}, {"very blurred, 3000 cases", 3, 3000},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, n := 0, 0
			for seed := range uint64(40) {
				w := newWorld(seed, 6, 8, 8)
				w.blur = tt.blur
				b, _ := w.fill(t, tt.cases)
				l, err := b.Refresh(ledger.Settings{})
				if err != nil {
					t.Fatal(err)
				}
				for d := range w.sheets {
					factors := l.Factors(&w.sheets[d])
					for i, truth := range w.relative(d) {
						f := factors[i]
						n++
						if f.Low <= truth && truth <= f.High {
							in++
						}
					}
				}
			}
			share := float64(in) / float64(n)
			t.Logf("%d of %d intervals hold the truth: %.3f", in, n, share)
			if share < 0.85 || share > 0.95 {
				t.Errorf("coverage of the 90 %% interval is %.3f", share)
			}
		})
	}
}

// meanError is the mean error of the log factors of modes with many cases.
func meanError(w *world, factor func(d, mode int) (mean, weight float64)) (off float64, n int) {
	for d := range w.sheets {
		for i, truth := range w.relative(d) {
			if f, weight := factor(d, i); weight > 200 {
				off += math.Abs(math.Log(f / truth))
				n++
			}
		}
	}
	return off / float64(n), n
}

// With very many cases the factors come out as they are.
func TestRecovery(t *testing.T) {
	w := newWorld(7, 3, 8, 6)
	b, _ := w.fill(t, 20_000)
	l := refresh(t, b)
	off, n := meanError(w, func(d, i int) (float64, float64) {
		f := l.Factors(&w.sheets[d])[i]
		return f.Mean, f.Here.Weight
	})
	if n < 20 || off > 0.06 {
		t.Errorf("mean error of a log factor %.3f over %d modes", off, n)
	}
}

// With blurred attribution they come out far better than by adding up the shares
// as they stand, which pulls everything towards the note.
func TestRecoveryFromBlurredShares(t *testing.T) {
	w := newWorld(7, 3, 8, 6)
	w.blur = 0.7
	b, records := w.fill(t, 20_000)
	l := refresh(t, b)
	shares := map[string]map[string]float64{}
	for _, r := range records {
		if shares[r.Sheet] == nil {
			shares[r.Sheet] = map[string]float64{}
		}
		for _, s := range r.Because {
			shares[r.Sheet][s.Mode] += s.P
		}
	}
	plain, _ := meanError(w, func(d, i int) (float64, float64) {
		by, m := shares[w.sheets[d].Key()], w.sheets[d].Modes
		all, odds := 0.0, 0.0
		for _, x := range m {
			all += by[x.ID]
			odds += x.Odds
		}
		return by[m[i].ID] / all / (m[i].Odds / odds), l.Factors(&w.sheets[d])[i].Here.Weight
	})
	off, n := meanError(w, func(d, i int) (float64, float64) {
		f := l.Factors(&w.sheets[d])[i]
		return f.Mean, f.Here.Weight
	})
	t.Logf("mean error of a log factor %.3f over %d modes, of plain shares %.3f", off, n, plain)
	if n < 20 || off > plain/2 {
		t.Errorf("mean error of a log factor %.3f over %d modes, of plain shares %.3f", off, n, plain)
	}
}

func refresh(t testing.TB, b *ledger.Book) *ledger.Lessons {
	t.Helper()
	l, err := b.Refresh(ledger.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A trigger's chance and a repair's success: the 90 % interval holds the truth in
// 85 to 95 of 100, when the truth is spread about the note as the settings say.
func TestChanceCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	beta := func(strength, mean float64) float64 {
		return distuv.Beta{Alpha: strength * mean, Beta: strength * (1 - mean), Src: rng}.Rand()
	}
	in, n := 0, 0
	for range 60 {
		b := new(ledger.Book)
		type at struct {
			m           *note.Model
			shows, work float64
		}
		var devices []at
		note1, note2 := 0.2+0.6*rng.Float64(), 0.2+0.6*rng.Float64()
		block1, block2 := beta(10, note1), beta(20, beta(10, note2))
		for d := range 5 {
			m := model(fmt.Sprintf("device-%d", d))
			m.Findings[0].Leak = 0.001
			m.Findings[0].Trigger[0].Chance = note1
			m.Repairs[0].Clears[0].Success = note2
			x := at{m, beta(20, block1), beta(20, block2)}
			devices = append(devices, x)
			key := sheet(t, b, m)
			for i := range rng.IntN(40) {
				r := ledger.Record{Bench: "hall", Case: fmt.Sprint(d, " ", i), Closed: day, Sheet: key,
					Because: []ledger.Share{{Mode: m.Modes[0].ID, P: 1}}}
				look := ledger.Look{Finding: m.Findings[0].ID}
				if rng.Float64() < x.shows {
					look.Shown = 1
				}
				try := ledger.Try{Repair: m.Repairs[0].ID, Mode: m.Modes[0].ID, There: 1}
				if rng.Float64() < x.work {
					try.Cleared = 1
				}
				r.Looks, r.Tries = []ledger.Look{look}, []ledger.Try{try}
				add(t, b, r)
			}
		}
		l := refresh(t, b)
		for _, x := range devices {
			for _, c := range l.Changes(x.m) {
				truth := x.shows
				switch {
				case c.Kind == ledger.OddsChange:
					continue
				case c.Kind == ledger.ClearChange:
					truth = x.work
				}
				n++
				if c.Chance.Low <= truth && truth <= c.Chance.High {
					in++
				}
			}
		}
	}
	share := float64(in) / float64(n)
	t.Logf("%d of %d intervals hold the truth: %.3f", in, n, share)
	if share < 0.85 || share > 0.95 {
		t.Errorf("coverage of the 90 %% interval is %.3f", share)
	}
}
