package plan

import (
	"context"
	"math"
	"slices"
	"sort"

	"fettler/internal/belief"
)

// mostResults bounds how many joint outcomes of one check are told apart when
// looking ahead; a check with more findings is judged by its most telling ones.
const mostResults = 12

// A checkPlan is how a check can come out: the joint outcomes of the findings
// that are worth telling apart.
type checkPlan struct {
	findings []int
	results  [][]Value
	strange  []float64 // chances of the results for the unknown fault
}

// layChecks decides, for the belief at hand, which findings of each check to
// tell apart: all that are not known yet, the most informative first, as long
// as their joint outcomes are few.
func (ws *worlds) layChecks(ctx context.Context, b lot, known map[int]bool) error {
	m := ws.e.Model()
	before := ws.checks
	ws.checks = make([]checkPlan, len(m.Checks))
	for c := range m.Checks {
		var open []int
		for _, f := range m.Checks[c].Findings {
			if !known[f] {
				open = append(open, f)
			}
		}
		cp, err := ws.layCheck(ctx, b, open)
		if err != nil {
			return err
		}
		ws.checks[c] = cp
	}
	ws.relaid = !slices.EqualFunc(before, ws.checks, func(a, b checkPlan) bool { return slices.Equal(a.findings, b.findings) })
	if ws.relaid {
		ws.told = make([][][]float64, len(m.Checks)) // what was remembered is of another layout
	}
	return nil
}

func (ws *worlds) layCheck(ctx context.Context, b lot, open []int) (checkPlan, error) {
	if len(open) > 1 {
		info := map[int]float64{}
		for _, f := range open {
			info[f] = ws.information(b, f)
		}
		sort.SliceStable(open, func(i, j int) bool { return info[open[i]] > info[open[j]] })
	}
	var cp checkPlan
	for _, f := range open {
		outs := ws.e.Outcomes(f)
		if len(cp.findings) > 0 && len(cp.results)*len(outs) > mostResults {
			continue
		}
		odd, err := ws.e.UnknownChances(ctx, f)
		if err != nil {
			return cp, err
		}
		cp.add(f, outs, odd)
	}
	return cp, nil
}

// add multiplies the results by the outcomes of one more finding.
func (cp *checkPlan) add(f int, outs []belief.Outcome, odd []float64) {
	if len(cp.findings) == 0 {
		cp.results, cp.strange = [][]Value{nil}, []float64{1}
	}
	var results [][]Value
	var strange []float64
	for k, r := range cp.results {
		for o := range outs {
			v := append(append([]Value(nil), r...), Value{f, o})
			results = append(results, v)
			strange = append(strange, cp.strange[k]*odd[o])
		}
	}
	cp.findings = append(cp.findings, f)
	cp.results, cp.strange = results, strange
}

// information is the mutual information, in nats, between the worlds and the finding.
func (ws *worlds) information(b lot, f int) float64 {
	n := len(ws.e.Outcomes(f))
	mean := make([]float64, n)
	inner := 0.0
	for k, id := range b.ids {
		if ws.list[id].unknown {
			continue
		}
		for o, p := range ws.e.Chances(ws.list[id].state, f) {
			mean[o] += b.w[k] * p
			inner += b.w[k] * plogp(p)
		}
	}
	sum := 0.0
	for _, p := range mean {
		sum += plogp(p)
	}
	return inner - sum
}

func plogp(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return p * math.Log(p)
}

// tells returns the chances of the results of check c in world id.
func (ws *worlds) tells(id, c int) []float64 {
	if t := ws.told[c]; id < len(t) && t[id] != nil {
		return t[id]
	}
	return ws.tell(id, c)
}

func (ws *worlds) tell(id, c int) []float64 {
	if n := len(ws.list); len(ws.told[c]) < n {
		ws.told[c] = append(ws.told[c], make([][]float64, n-len(ws.told[c]))...)
	}
	ws.told[c][id] = ws.tellsIn(ws.list[id], &ws.checks[c])
	return ws.told[c][id]
}

func (ws *worlds) tellsIn(w *world, cp *checkPlan) []float64 {
	if w.unknown {
		return cp.strange
	}
	out := make([]float64, len(cp.results))
	chances := make(map[int][]float64, len(cp.findings))
	for _, f := range cp.findings {
		chances[f] = ws.e.Chances(w.state, f)
	}
	for r, vs := range cp.results {
		out[r] = 1
		for _, v := range vs {
			out[r] *= chances[v.Finding][v.Outcome]
		}
	}
	return out
}

// chances is how likely each result of check c is.
func (ws *worlds) chances(b lot, c int) []float64 {
	out := make([]float64, len(ws.checks[c].results))
	for k, id := range b.ids {
		for r, p := range ws.tells(id, c) {
			out[r] += b.w[k] * p
		}
	}
	return out
}

// telling is how much check c tells: the mean square by which its results move
// the worlds' chances, Σ_r (Σ_w b_w·p_wr²)/P_r - 1, which is 0 if it tells nothing.
func (ws *worlds) telling(b lot, c int) float64 {
	n := len(ws.checks[c].results)
	var room [2 * mostResults]float64
	sums := room[:]
	if n > mostResults { // one finding of many answers
		sums = make([]float64, 2*n)
	}
	mean, square := sums[:n], sums[n:2*n]
	for k, id := range b.ids {
		w := b.w[k]
		for r, p := range ws.tells(id, c) {
			mean[r] += w * p
			square[r] += w * p * p
		}
	}
	sum := -1.0
	for r := range n {
		if mean[r] > 0 {
			sum += square[r] / mean[r]
		}
	}
	return sum
}

// learnt returns the lot after check c came out as r.
func (ws *worlds) learnt(b lot, c, r int) lot {
	return ws.scaled(b, func(id int) float64 { return ws.tells(id, c)[r] })
}
