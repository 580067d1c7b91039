package notecraft

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"fettler/internal/note"
	"fettler/internal/plan"
)

// A Report is what a rehearsal of a note has shown.
type Report struct {
	Runs  []Run      // by mode, then by turn
	Ended [5]float64 // share of runs per End, weighted by the prior odds of the fault; with Options.Most by its steps
	Named float64    // share of runs in which the fault was the likeliest suspect at some time
	// Means over the runs in which the fault shows at all, weighted alike.
	Money, Minutes, Days, Moves float64

	Twins       []Twins     // faults that no finding can tell apart
	Unraised    []int       // symptoms no fault of the note raises
	Silent      []int       // faults that show in no symptom
	Idle        []IdleCheck // checks that were never advised, nearest first
	IdleRepairs []int       // repairs that were never advised
}

// Twins are faults with the same effect on every finding of the note.
type Twins struct {
	Modes  []int
	Shared []int // repairs that clear them all: with one of these it does not matter which it was
}

// An IdleCheck is a check that the advice never chose.
type IdleCheck struct {
	Check  int
	Behind float64 // how much dearer than the best move it was when it came nearest; +Inf if it was never of use
}

func (s *stage) report(runs []Run) *Report {
	r := &Report{Runs: runs, Twins: twins(s), Unraised: s.unraised()}
	all, shown := 0.0, 0.0
	asked, mended := make([]bool, len(s.m.Checks)), make([]bool, len(s.m.Repairs))
	for i := range runs {
		x := &runs[i]
		w := s.weights[x.Mode]
		all += w
		r.Ended[x.End] += w
		if x.Named >= 0 {
			r.Named += w
		}
		if x.End == Silent {
			if !slices.Contains(r.Silent, x.Mode) {
				r.Silent = append(r.Silent, x.Mode)
			}
			continue
		}
		shown += w
		r.Money += w * x.Money
		r.Minutes += w * x.Minutes
		r.Days += w * x.Days
		r.Moves += w * float64(len(x.Moves))
		for _, mv := range x.Moves {
			switch mv.Kind {
			case plan.Check:
				asked[mv.Index] = true
			case plan.Repair:
				mended[mv.Index] = true
			}
		}
	}
	for e := range r.Ended {
		r.Ended[e] /= math.Max(all, math.SmallestNonzeroFloat64)
	}
	r.Named /= math.Max(all, math.SmallestNonzeroFloat64)
	for _, x := range []*float64{&r.Money, &r.Minutes, &r.Days, &r.Moves} {
		*x /= math.Max(shown, math.SmallestNonzeroFloat64)
	}
	r.Idle = s.idle(asked)
	for i, did := range mended {
		if !did {
			r.IdleRepairs = append(r.IdleRepairs, i)
		}
	}
	return r
}

// idle lists the checks not asked, by how near they came to being worth it.
func (s *stage) idle(asked []bool) []IdleCheck {
	near := make([]float64, len(s.m.Checks))
	for c := range near {
		near[c] = math.Inf(1)
	}
	for _, a := range s.known {
		for c, behind := range a.checks {
			near[c] = math.Min(near[c], behind)
		}
	}
	var out []IdleCheck
	for c := range asked {
		if !asked[c] {
			out = append(out, IdleCheck{c, near[c]})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Behind < out[j].Behind })
	return out
}

// sameness is the step, in chance, within which two distributions count as the same.
const sameness = 0.01

// twins groups the modes by what each alone does to every finding.
func twins(s *stage) []Twins {
	groups := map[string][]int{}
	var order []string
	for i := range s.m.Modes {
		w := s.e.World([]int{i})
		var key strings.Builder
		for f := range s.m.Findings {
			for _, p := range s.e.Chances(w, f) {
				fmt.Fprintf(&key, "%d ", int(math.Round(p/sameness)))
			}
		}
		k := key.String()
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], i)
	}
	var out []Twins
	for _, k := range order {
		if len(groups[k]) > 1 && !sameRepairs(s.m, groups[k]) {
			out = append(out, Twins{groups[k], shared(s.m, groups[k])})
		}
	}
	return out
}

// sameRepairs tells whether the very same repairs clear each of the modes.
func sameRepairs(m *note.Model, modes []int) bool {
	for r := range m.Repairs {
		n := 0
		for _, i := range modes {
			if clears(&m.Repairs[r], i) {
				n++
			}
		}
		if n != 0 && n != len(modes) {
			return false
		}
	}
	return true
}

// shared lists the repairs that clear all of the modes.
func shared(m *note.Model, modes []int) []int {
	var out []int
	for r := range m.Repairs {
		if !slices.ContainsFunc(modes, func(i int) bool { return !clears(&m.Repairs[r], i) }) {
			out = append(out, r)
		}
	}
	return out
}

func clears(r *note.Repair, mode int) bool {
	return slices.ContainsFunc(r.Clears, func(c note.Clear) bool { return c.Mode == mode && c.Success > 0 })
}

// unraised lists the symptoms that come out in every fault as in a sound device.
func (s *stage) unraised() []int {
	var out []int
	sound := s.e.World(nil)
	for f := range s.m.Findings {
		if s.m.Findings[f].Check >= 0 {
			continue
		}
		q := s.e.Chances(sound, f)
		raised := false
		for i := range s.m.Modes {
			raised = raised || apart(s.e.Chances(s.e.World([]int{i}), f), q) > noticed
		}
		if !raised {
			out = append(out, f)
		}
	}
	return out
}
