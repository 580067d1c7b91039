package ledger_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"fettler/internal/ledger"
)

// A world is a set of invented devices that share blocks and kinds of part, with
// the true factors by which their faults differ from the notes.
type world struct {
	rng    *rand.Rand
	sheets []ledger.Sheet
	truth  [][]float64
	bench  string
	blur   float64 // how uncertain the attribution is; 0 for certain
}

func newWorld(seed uint64, devices, blocks, modesPerBlock int) *world {
	w := &world{rng: rand.New(rand.NewPCG(seed, 1)), bench: "hall"}
	gamma := func(s float64) float64 { return distuv.Gamma{Alpha: s, Beta: s, Src: w.rng}.Rand() }
	kinds := map[string]float64{}
	inBlock := map[string]float64{}
	memo := func(m map[string]float64, key string, s float64) float64 {
		if _, ok := m[key]; !ok {
			m[key] = gamma(s)
		}
		return m[key]
	}
	for d := range devices {
		s := ledger.Sheet{Device: fmt.Sprintf("device-%d", d)}
		var truth []float64
		for b := range 4 {
			number := (d + b*(1+d%3)) % blocks
			block := fmt.Sprintf("block-%d", number)
			for i := range modesPerBlock {
				local := fmt.Sprintf("part%d.%s", i/2, []string{"open", "short"}[i%2])
				kind := fmt.Sprintf("kind %d", (i/2+number)%7)
				m := ledger.SheetMode{ID: fmt.Sprintf("u%d.%s", b, local), Block: block, Local: local, Kind: kind,
					Name: local[len(local)-4:], Odds: 0.002 + 0.03*square(w.rng.Float64())}
				if m.Name == "hort" {
					m.Name = "short"
				}
				s.Modes = append(s.Modes, m)
				truth = append(truth, memo(kinds, kind+m.Name, 2)*memo(inBlock, block+local, 4)*gamma(8))
			}
		}
		w.sheets = append(w.sheets, s)
		w.truth = append(w.truth, truth)
	}
	return w
}

func square(x float64) float64 { return x * x }

// relative returns the true factors relative to their weighted mean in the
// device: all that cases, which begin with a broken device, can tell.
func (w *world) relative(d int) []float64 {
	sum, total := 0.0, 0.0
	for i, m := range w.sheets[d].Modes {
		sum += m.Odds * w.truth[d][i]
		total += m.Odds
	}
	out := make([]float64, len(w.truth[d]))
	for i, t := range w.truth[d] {
		out[i] = t * total / sum
	}
	return out
}

// record makes a closed case: faults by the true rates, at least one, and for
// each a reading that tells it from its neighbours more or less well; then the
// posterior under the note's odds, which is all that the record says.
func (w *world) record(t testing.TB, d, number int, key string) ledger.Record {
	s := &w.sheets[d]
	sum, total := 0.0, 0.0
	for i, m := range s.Modes {
		sum += m.Odds * w.truth[d][i]
		total += m.Odds
	}
	var faults []int
	for len(faults) == 0 {
		for i, m := range s.Modes {
			o := m.Odds * w.truth[d][i] * total / sum
			if w.rng.Float64() < o/(1+o) {
				faults = append(faults, i)
			}
		}
	}
	r := ledger.Record{Bench: w.bench, Case: fmt.Sprint(number), Closed: time.Date(2030, 1, 1+number%700, 0, 0, 0, 0, time.UTC),
		Sheet: key, Fixed: true, Cost: ledger.Cost{Currency: "EUR", Money: 5, Minutes: 40}, Gain: ledger.Gain{Worth: 30, Kg: 4}}
	w.attribute(&r, s, faults)
	sealed, err := ledger.Seal(r)
	if err != nil {
		t.Fatal(err)
	}
	return sealed
}

// attribute fills in the posterior: shares for one fault, candidates for two
// (each reading is of another fault); more than two are found out for certain.
func (w *world) attribute(r *ledger.Record, s *ledger.Sheet, faults []int) {
	switch {
	case len(faults) == 1:
		for i, x := range w.posterior(s, faults[0]) {
			if x > 0.001 {
				r.Because = append(r.Because, ledger.Share{Mode: s.Modes[i].ID, P: x})
			}
		}
	case len(faults) == 2 && w.blur > 0:
		a, b := w.posterior(s, faults[0]), w.posterior(s, faults[1])
		total := 0.0
		for i := range a {
			for j := range i {
				if p := a[i]*b[j] + a[j]*b[i]; p > 1e-3 {
					r.Sets = append(r.Sets, ledger.Set{Modes: []string{s.Modes[i].ID, s.Modes[j].ID}, P: p})
					total += p
				}
			}
		}
		for i := range r.Sets {
			r.Sets[i].P /= total
		}
	default:
		for _, f := range faults {
			r.Because = append(r.Because, ledger.Share{Mode: s.Modes[f].ID, P: 1})
		}
	}
}

// posterior is the chance of each mode after a reading x ~ N(mode/blur, 1).
func (w *world) posterior(s *ledger.Sheet, fault int) []float64 {
	p := make([]float64, len(s.Modes))
	if w.blur == 0 {
		p[fault] = 1
		return p
	}
	x, total := float64(fault)/w.blur+w.rng.NormFloat64(), 0.0
	for i, m := range s.Modes {
		p[i] = m.Odds * math.Exp(-square(x-float64(i)/w.blur)/2)
		total += p[i]
	}
	for i := range p {
		p[i] /= total
	}
	return p
}

// fill makes a book of n cases.
func (w *world) fill(t testing.TB, n int) (*ledger.Book, []ledger.Record) {
	t.Helper()
	b := new(ledger.Book)
	keys := make([]string, len(w.sheets))
	for d, s := range w.sheets {
		var err error
		if keys[d], err = b.AddSheet(s); err != nil {
			t.Fatal(err)
		}
	}
	all := make([]ledger.Record, n)
	for i := range all {
		d := w.rng.IntN(len(w.sheets))
		all[i] = w.record(t, d, i, keys[d])
	}
	if err := b.Add(all...); err != nil {
		t.Fatal(err)
	}
	return b, all
}
