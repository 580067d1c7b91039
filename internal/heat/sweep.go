package heat

import (
	"context"
	"fmt"
	"math"
	"sync"
)

// A SweepRun is one run of the sweep over what the user cannot know.
type SweepRun struct {
	Name    string
	Factors Factors
	Corner  bool    // everything slow or everything fast at once
	Molten  float64 // s, −1: not within the time
	Case    float64 // °C
	Peaks   []float64
}

// A Window is the time to the last joint with its uncertainty, s; −1 stands for
// "not within the time".
//
// Early and Late add the deviations of the single runs as independent ones (root of
// the sum of squares of the logarithms). Earliest and Latest take everything fast or
// slow at once.
type Window struct {
	Nominal          float64
	Early, Late      float64
	Earliest, Latest float64
	// Worst per neighbour over the single runs, °C, each until its own melting.
	Worst     []float64
	WorstCase float64 // °C of the body over the single runs
	Runs      []SweepRun
}

// spread is how far the unknowns are varied.
//
// The coefficient of a hand-held nozzle is uncertain by 40 %, the copper share as a
// user estimates it by 30 %, the contact of leads and tip by a factor of 2, the
// distance a hand keeps by 30 % (judgement, no source).
var spread = []struct {
	name       string
	slow, fast Factors
	air        bool
}{
	{"heat transfer", Factors{H: 0.6}, Factors{H: 1.4}, true},
	{"copper share", Factors{Copper: 1.3}, Factors{Copper: 0.7}, false},
	{"contact", Factors{Contact: 0.5}, Factors{Contact: 2}, false},
	{"distance", Factors{Distance: 1.3}, Factors{Distance: 0.7}, true},
}

// sweep runs the job over what the user cannot know: each unknown low and high by
// itself, and all together. The run as given may have been made already, or is nil. Runs
// share the workers; the result does not depend on their number. Cost: up to 11 runs.
func sweep(ctx context.Context, job Job, s Settings, given *Result, all *soaks) (Window, error) {
	runs := []SweepRun{{Name: "as given"}}
	slow, fast := Factors{}, Factors{}
	for _, u := range spread {
		if u.air && job.Tool.HotAir == nil && (job.Tool.Preheat == nil || u.name == "distance") {
			continue
		}
		runs = append(runs, SweepRun{Name: u.name + ", slow side", Factors: u.slow}, SweepRun{Name: u.name + ", fast side", Factors: u.fast})
		slow, fast = merge(slow, u.slow), merge(fast, u.fast)
	}
	runs = append(runs, SweepRun{Name: "all slow", Factors: slow, Corner: true}, SweepRun{Name: "all fast", Factors: fast, Corner: true})
	var jobs []Job
	var sets []Settings
	for i, r := range runs {
		if i > 0 || given == nil {
			v := s
			v.Vary = r.Factors
			jobs, sets = append(jobs, job), append(sets, v)
		}
	}
	results, err := simulateAll(ctx, jobs, sets, all)
	if err != nil {
		return Window{}, err
	}
	if given != nil {
		results = append([]*Result{given}, results...)
	}
	for i, res := range results {
		runs[i].Molten, runs[i].Case = res.Molten, res.Case.Temp
		for _, n := range res.Neighbours {
			runs[i].Peaks = append(runs[i].Peaks, n.Peak)
		}
	}
	return windowOf(runs), nil
}

func merge(a, b Factors) Factors {
	return Factors{H: orDefault(b.H, a.H), Copper: orDefault(b.Copper, a.Copper),
		Contact: orDefault(b.Contact, a.Contact), Distance: orDefault(b.Distance, a.Distance)}
}

// windowOf combines the runs. Which end of a factor is the slow one depends on the
// job (a loose contact may shield a joint or starve it), so each pair is sorted.
func windowOf(runs []SweepRun) Window {
	w := Window{Nominal: runs[0].Molten, Runs: runs, Worst: make([]float64, len(runs[0].Peaks)), WorstCase: lossFrom}
	w.Early, w.Late, w.Earliest, w.Latest = w.Nominal, w.Nominal, w.Nominal, w.Nominal
	up, down := 0.0, 0.0
	lost := w.Nominal < 0
	for _, r := range runs {
		switch {
		case r.Molten < 0:
			w.Latest = -1
			lost = lost || !r.Corner
		default:
			if w.Latest >= 0 {
				w.Latest = max(w.Latest, r.Molten)
			}
			if w.Earliest < 0 || r.Molten < w.Earliest {
				w.Earliest = r.Molten
			}
		}
		if r.Corner {
			continue
		}
		w.WorstCase = max(w.WorstCase, r.Case)
		for i, p := range r.Peaks {
			w.Worst[i] = max(w.Worst[i], p)
		}
		if r.Molten > 0 && w.Nominal > 0 {
			d := math.Log(r.Molten / w.Nominal)
			if d > 0 {
				up += d * d
			} else {
				down += d * d
			}
		}
	}
	if w.Nominal > 0 {
		w.Early, w.Late = w.Nominal*math.Exp(-math.Sqrt(down)), w.Nominal*math.Exp(math.Sqrt(up))
	}
	if lost {
		w.Late = -1
	}
	return w
}

// simulateAll runs jobs side by side, one goroutine each, bounded by the workers of
// the settings; the first error in order wins.
func simulateAll(ctx context.Context, jobs []Job, sets []Settings, all *soaks) ([]*Result, error) {
	if len(jobs) == 0 {
		return nil, nil
	}
	j, err := jobs[0].withDefaults()
	if err != nil {
		return nil, err
	}
	s, err := sets[0].withDefaults(j)
	if err != nil {
		return nil, err
	}
	results, errs := make([]*Result, len(jobs)), make([]error, len(jobs))
	free := make(chan struct{}, s.Workers)
	var wg sync.WaitGroup
	for i := range jobs {
		sets[i].Workers = 1
		free <- struct{}{}
		wg.Go(func() {
			defer func() { <-free }()
			results[i], errs[i] = simulate(ctx, jobs[i], sets[i], all)
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("heat: one of several runs: %w", err)
		}
	}
	return results, nil
}
