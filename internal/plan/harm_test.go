package plan_test

import (
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// A check that may break something costs its chance of that times what the device is worth, a repair
// that breaks something no fault stands for likewise; what breaks by a fault of its own is no cost, for
// it has to be found. Scrap comes off what is lost by stopping.
func TestWhatHarmCosts(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 12}}
	m := s.model()
	m.Findings = append(m.Findings, note.Finding{ID: "tests", Check: 0, Leak: 0.2, Trigger: []note.Trigger{{Mode: 0, Chance: 0.9}}})
	m.Checks = []note.Check{{ID: "prod", Findings: []int{1}, Harm: 0.04}}
	m.Repairs[0].Harm = 0.03
	m.Repairs[1].Harm, m.Repairs[1].Harms = 0.5, 0
	a := advise(t, m, exactly(s.p), plan.Settings{Worth: 200, Scrap: 15}, plan.Effort{})
	harm := map[plan.Move]float64{{Kind: plan.Check}: 8, {Kind: plan.Repair}: 6, {Kind: plan.Repair, Index: 1}: 0}
	seen := 0
	for _, x := range a.Ranking {
		if want, ok := harm[x.Move]; ok {
			seen++
			if !near(x.Cost.Harm, want, 1e-12) || !near(x.Cost.Total-x.Cost.Money, want, 1e-3) {
				t.Errorf("%v %d: harm %v of %+v, want %v", x.Kind, x.Index, x.Cost.Harm, x.Cost, want)
			}
		}
		if x.Kind == plan.Stop && !near(x.Total, 185, 1e-9) {
			t.Errorf("stopping costs %v, want 200 less 15 for scrap", x.Total)
		}
	}
	if seen != len(harm) {
		t.Errorf("ranking %+v", a.Ranking)
	}
}

// Swapping a whole block cures a fault the note does not know with four chances in five (judged), if it
// is in that block: as likely as the block's share of all odds. Here 0.3 of 0.4, so 0.6.
func TestASwapCuresTheUnknown(t *testing.T) {
	m := shop{p: []float64{0.1, 0.3}, price: []float64{10, 10}}.model()
	m.Parts, m.Units = []note.Part{{ID: "a"}, {ID: "b", Unit: 1}}, []note.Unit{{}, {ID: "board"}}
	m.Modes[1].Part = 1
	m.Repairs[1].Whole, m.Repairs[1].Unit = true, 1
	b := &belief.Belief{Unknown: 1, Candidates: []belief.Candidate{{Unknown: true, P: 1}}}
	a := advise(t, m, b, plan.Settings{Worth: 1000}, plan.Effort{})
	for _, x := range a.Ranking {
		if want := []float64{0, 0.6}; x.Kind == plan.Repair && !near(x.Cures, want[x.Index], 1e-9) {
			t.Errorf("repair %d cures with %v, want %v", x.Index, x.Cures, want[x.Index])
		}
	}
}

// An offer that may not fit has, when it comes up, to be replaced by what the note says: 10 and, one time
// in two, 50 more are 35, now or later. It is still the better way than 50 at once.
func TestWhatMayNotFit(t *testing.T) {
	s := shop{p: []float64{1 - 1e-9, 1e-9}, price: []float64{50, 50}}
	p := planner(t, s.model(), plan.Settings{Worth: 1000})
	b := basket(t, p, s, plan.Offer{ID: "looks like it", Covers: []int{0}, Price: 10, Misfit: 0.5})
	if !near(b.Total, 35, 1e-3) || !near(b.Saves[0], 15, 1e-3) {
		t.Errorf("%+v, want 35 in all and 15 saved", b)
	}
}
