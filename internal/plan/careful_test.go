package plan_test

import (
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// What a careful repairer puts first among moves that come to nearly the same: common practice, no source.
func TestPrefer(t *testing.T) {
	m := &note.Model{Checks: []note.Check{
		{ID: "look", With: []string{"eyes"}}, {ID: "run it", With: []string{"ears"}, Live: true}, {ID: "measure", With: []string{"multimeter"}}},
		Repairs: []note.Repair{{ID: "fuse"}, {ID: "board"}}}
	check := func(i int) plan.Move { return plan.Move{Kind: plan.Check, Index: i} }
	fuse, board := plan.Move{Kind: plan.Repair, Index: 0}, plan.Move{Kind: plan.Repair, Index: 1}
	trial, stop := plan.Move{Kind: plan.Test, Index: -1}, plan.Move{Kind: plan.Stop, Index: -1}
	took := func(v plan.Move, behind, minutes float64, next ...plan.Move) plan.Ranked {
		r := plan.Ranked{Move: v, Behind: behind, Total: 10 + behind, Cost: plan.Cost{Minutes: minutes, Total: minutes / 10}}
		for _, n := range next {
			r.Results = append(r.Results, plan.Result{P: 1 / float64(len(next)), Next: n})
		}
		return r
	}
	tried := func(behind, minutes, works float64) plan.Ranked {
		r := took(trial, behind, minutes)
		r.Results = []plan.Result{{P: works, Works: true, Next: stop}, {P: 1 - works, Next: board}}
		return r
	}
	unlikely := took(fuse, 0, 6, trial)
	unlikely.Cures = 0.03
	found, open := took(fuse, 0, 20, trial), took(fuse, 0, 20, trial)
	found.Cures, open.Cures = 0.9, 0.6
	rarely := func(r plan.Ranked) plan.Ranked {
		r.Results[0].P, r.Results[1].P = 0.03, 0.97
		return r
	}
	bears := func(r plan.Ranked, by float64) plan.Ranked {
		r.Bears = by
		return r
	}
	s := plan.Settings{Rate: 6, Worth: 45} // a minute is 0.10, nearly the same 0.90
	for _, x := range []struct {
		name    string
		ranking []plan.Ranked
		pending bool
		want    plan.Move
		why     plan.Preference
	}{
		{"a look before running it", []plan.Ranked{took(check(1), 0, 2, fuse, board), took(check(0), 0.04, 2, fuse, check(1))}, false, check(0), plan.SensesOnly},
		{"a look before the meter", []plan.Ranked{took(check(2), 0, 2, fuse, board), took(check(0), 0.04, 2, fuse, check(2))}, false, check(0), plan.SensesOnly},
		{"not one that tells next to nothing", []plan.Ranked{took(check(2), 0, 2, fuse, board), took(check(0), 0.19, 2, fuse, check(2))}, false, check(2), plan.AsRanked},
		{"but where it makes powering it needless", []plan.Ranked{took(check(1), 0, 3, fuse, board), took(check(0), 0.4, 2, fuse, check(1))}, false, check(0), plan.SensesOnly},
		{"but not at several times its own cost", []plan.Ranked{took(check(1), 0, 3, fuse, board), took(check(0), 0.7, 2, fuse, check(1))}, false, check(1), plan.AsRanked},
		{"nor where it hardly ever shows anything", []plan.Ranked{took(check(1), 0, 3, fuse, board), rarely(took(check(0), 0.04, 2, fuse, check(1)))}, false, check(1), plan.AsRanked},
		{"a look on the trail before one that is not", []plan.Ranked{bears(took(check(0), 0, 1, fuse, board), 0.01), bears(took(check(2), 0.5, 3, fuse, board), 0.2)}, false, check(2), plan.OnTrail},
		{"not if that is much dearer", []plan.Ranked{bears(took(check(0), 0, 1, fuse, board), 0.01), bears(took(check(2), 1, 3, fuse, board), 0.2)}, false, check(0), plan.AsRanked},
		{"nor before one that bears on it as well", []plan.Ranked{bears(took(check(0), 0, 1, fuse, board), 0.1), bears(took(check(2), 0.5, 3, fuse, board), 0.2)}, false, check(0), plan.AsRanked},
		{"not where it does not", []plan.Ranked{took(check(1), 0, 3, fuse, board), took(check(0), 0.4, 2, check(1), trial)}, false, check(1), plan.AsRanked},
		{"nor where it is much dearer", []plan.Ranked{took(check(1), 0, 3, fuse, board), took(check(0), 1, 2, fuse, board)}, false, check(1), plan.AsRanked},
		{"a trial before a look it would follow anyway", []plan.Ranked{took(check(2), 0, 4, trial, trial, trial, board), tried(2, 3, 0.4)}, true, trial, plan.TryFirst},
		{"the look that tells whether the part is needed", []plan.Ranked{unlikely, took(check(2), 0.5, 2, fuse, board, board, board)}, false, check(2), plan.TellsFirst},
		{"a look before a part that may not be it", []plan.Ranked{open, took(check(0), 0.04, 2, fuse, board)}, false, check(0), plan.SensesOnly},
		{"none before the repair of what was found", []plan.Ranked{found, took(check(0), 0.04, 2, fuse, board)}, false, fuse, plan.AsRanked},
		{"nothing before leaving off", []plan.Ranked{took(stop, 0, 0), took(check(0), 0.01, 1, fuse, board)}, false, stop, plan.AsRanked},
	} {
		at, why := plan.Prefer(m, s, x.ranking, x.pending)
		if x.ranking[at].Move != x.want || why != x.why {
			t.Errorf("%s: %v for reason %d, want %v for %d", x.name, x.ranking[at].Move, why, x.want, x.why)
		}
	}
}

// A repair goes with another before the trial only if it would be made next were the trial
// to fail: not because it is cheap while the device is open.
func TestNoRepairAlongThatNothingSpeaksFor(t *testing.T) {
	// 40 (worth) × 0.003 (chance) is less than its three minutes; 40 × 0.2 is more
	for _, x := range []struct {
		p     float64
		along bool
	}{{0.003, false}, {0.2, true}} {
		s := shop{p: []float64{0.7, x.p}, price: []float64{0, 0}, inside: []bool{true, true}}
		m := s.model()
		m.Access[1].OpenMinutes, m.Access[1].CloseMinutes, m.Access[1].Tries = 10, 10, false
		m.Repairs[0].Minutes, m.Repairs[1].Minutes = 10, 3
		m.TryMinutes = 5
		rest := 1 - 0.7 - x.p
		b := exactly(s.p)
		b.Candidates = append(b.Candidates, belief.Candidate{Unknown: true, P: rest})
		a := advise(t, m, b, plan.Settings{Worth: 40, Rate: 6}, plan.Effort{})
		if a.Best.Kind != plan.Repair || !x.along && a.Best.Index != 0 || (a.Batch != nil) != x.along {
			t.Errorf("with a chance of %g: best %v, along with it %+v, want one along: %v", x.p, a.Best.Move, a.Batch, x.along)
		}
	}
}
