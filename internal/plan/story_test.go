package plan_test

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// radio is a small invented radio: a weak joint that makes it crackle now and then, a dried-out
// capacitor that makes it hum, a worn switch that makes it dead, and a lamp that the
// repair of the joint may break.
//
// Modes: 0 joint, 1 capacitor, 2 switch, 3 lamp. Findings: 0 crackles, 1 hums, 2 dead, 3 dark dial.
// Repairs: 0 resolder, 1 capacitor, 2 switch, 3 lamp.
func radio() *note.Model {
	m := &note.Model{ID: "radio", Units: []note.Unit{{}}, Parts: []note.Part{{}, {}, {}, {}}, TryMinutes: 2,
		Access: []note.Access{{Behind: -1}, {OpenMinutes: 5, CloseMinutes: 5, Tries: true}}}
	names := []string{"joint", "capacitor", "switch", "lamp"}
	for i, n := range names {
		m.Modes = append(m.Modes, note.Mode{ID: n, Part: i, Odds: 0.06})
		m.Findings = append(m.Findings, note.Finding{ID: []string{"crackles", "hums", "dead", "dark dial"}[i], Check: -1, Leak: 0.003,
			Trigger: []note.Trigger{{Mode: i, Chance: 0.95}}})
		m.Repairs = append(m.Repairs, note.Repair{ID: n, Harms: -1, Access: 1, Minutes: 10, Price: float64(2 * i), Clears: []note.Clear{{Mode: i, Success: 0.95}}})
	}
	m.Findings[0].Comes = true
	m.Findings[0].Trigger[0].Chance = 0.3 // shows three times in ten
	m.Repairs[0].Harm, m.Repairs[0].Harms = 0.1, 3
	return m
}

func believe(t *testing.T, m *note.Model, ev belief.Evidence) (*belief.Engine, *belief.Belief) {
	t.Helper()
	e, err := belief.New(m, belief.Options{Unknown: -1})
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	return e, b
}

func between(t *testing.T, what string, p, low, high float64) {
	t.Helper()
	if p < low || p > high {
		t.Errorf("%s: %.3f, want %.2f to %.2f", what, p, low, high)
	}
}

// odds is p to 1-p.
func odds(p float64) float64 { return p / (1 - p) }

// exactly the chance that Bayes' rule gives, by arithmetic done beside it.
func bayes(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %.9f, by Bayes' rule %.9f", what, got, want)
	}
}

func see(f, v int) belief.Observation { return belief.Observation{Finding: f, Value: v} }

// Two symptoms of two faults: both are believed, and both repairs are made on one visit.
func TestSeveralFaults(t *testing.T) {
	m := radio()
	e, b := believe(t, m, belief.Evidence{Seen: []belief.Observation{see(1, 1), see(3, 1), see(2, 0)}})
	between(t, "capacitor", b.Now[1], 0.9, 1)
	between(t, "lamp", b.Now[3], 0.9, 1)
	between(t, "switch", b.Now[2], 0, 0.02)
	// Each fault has a symptom of its own, so but for "something is wrong" they are independent: odds 0.06 times
	// (1-0.997·0.05)/0.003 where it shows and 0.05 where it was looked for and not there; the joint was not looked for.
	weights := []float64{0.06, 0.06 * (1 - 0.997*0.05) / 0.003, 0.06 * 0.05, 0.06 * (1 - 0.997*0.05) / 0.003}
	all := 1.0
	for _, w := range weights {
		all *= 1 + w
	}
	for i, w := range weights {
		bayes(t, m.Modes[i].ID, b.Now[i], w/(1+w)*all/(all-1))
	}
	a := ask(t, e, b, plan.Settings{Rate: 10, Worth: 60}, plan.Situation{}, plan.Effort{Expansions: 300})
	if a.Best.Kind != plan.Repair || a.Batch == nil || len(a.Batch.Repairs) != 2 {
		t.Errorf("advice %v with batch %+v, want capacitor and lamp together", a.Best.Move, a.Batch)
	}
}

// A crackle that shows now and then: seen 3 times of 10 it is the joint; looked for ten
// times in vain it is not likely; not looked for at all it is what it was before.
// By Bayes with odds 0.06, chance 0.3 (leak 0.003), where each device has a chance of its own, Beta around
// these with concentration 2: ten in vain multiply the odds by 0.25, for it may be one that crackles seldom.
func TestIntermittentSymptom(t *testing.T) {
	m := radio()
	hums := see(1, 1)
	_, before := believe(t, m, belief.Evidence{Seen: []belief.Observation{hums}})
	_, three := believe(t, m, belief.Evidence{Seen: []belief.Observation{hums, {Finding: 0, Value: 3, Of: 10}}})
	_, none := believe(t, m, belief.Evidence{Seen: []belief.Observation{hums, {Finding: 0, Value: 0, Of: 10}}})
	bayes(t, "crackled 0 of 10, odds", odds(none.Now[0]), odds(before.Now[0])*betaBinomial(1-0.997*0.7, 0, 10)/betaBinomial(0.003, 0, 10))
	bayes(t, "crackled 3 of 10, odds", odds(three.Now[0]), odds(before.Now[0])*betaBinomial(1-0.997*0.7, 3, 10)/betaBinomial(0.003, 3, 10))
	between(t, "crackled 3 of 10", three.Now[0], 0.5, 1)
	between(t, "crackled 0 of 10", none.Now[0], 0, 0.3*before.Now[0])
	if none.Now[0] >= before.Now[0] || before.Now[0] >= three.Now[0] {
		t.Errorf("joint: %.4f before, %.4f after none of 10, %.4f after 3 of 10", before.Now[0], none.Now[0], three.Now[0])
	}
}

// Resoldering may break the lamp (1 in 10). The dial, lit before, is dark after: the new
// fault is the repair's doing, and it was not there on arrival.
func TestRepairBroughtNewSymptom(t *testing.T) {
	m := radio()
	ev := belief.Evidence{
		Seen: []belief.Observation{{Finding: 0, Value: 6, Of: 10}, see(3, 0), {Finding: 3, Epoch: 1, Value: 1}, {Finding: 0, Epoch: 1, Value: 0, Of: 10}},
		Acts: []belief.Act{{Repair: 0}},
	}
	e, b := believe(t, m, ev)
	between(t, "lamp now", b.Now[3], 0.9, 1)
	between(t, "lamp on arrival", b.First[3], 0, 0.1)
	between(t, "joint now", b.Now[0], 0, 0.05)
	// Two ways to a dark dial: the repair broke the lamp (0.1, the dial lit before: 0.997), or it was broken on arrival
	// and did not show (odds 0.06 times 0.05·0.997). Both make it dark; a sound lamp does so in 0.003.
	sound := 0.997 * 0.9 * 0.003
	harm, before := 0.997*0.1*(1-0.997*0.05), 0.06*0.05*0.997*(1-0.997*0.05)
	// Something was wrong on arrival: with the joint good and the lamp good it was capacitor or switch.
	crackles, others := 1-0.997*0.7, 1.06*1.06
	joint := 0.06 * betaBinomial(crackles, 6, 10) * (0.95*betaBinomial(0.003, 0, 10) + 0.05*betaBinomial(crackles, 0, 10))
	good := betaBinomial(0.003, 6, 10) * betaBinomial(0.003, 0, 10)
	before *= (joint + good) * others / (joint*others + good*(others-1))
	bayes(t, "lamp now", b.Now[3], (harm+before)/(harm+before+sound))
	bayes(t, "lamp on arrival", b.First[3], before/(harm+before+sound))
	a := ask(t, e, b, plan.Settings{Rate: 10, Worth: 60}, plan.Situation{Access: 1}, plan.Effort{})
	if a.Best.Move != (plan.Move{Kind: plan.Repair, Index: 3}) {
		t.Errorf("advice %v, want the lamp", a.Best.Move)
	}
}

// It was dead and works now, and nothing that was done explains it: an act that
// touches nothing, then the symptom is gone. A fault that is still there would show in
// 95 of 100 cases, so what is believed of it falls; the belief must not say that the act cured it.
func TestSymptomGoneByItself(t *testing.T) {
	m := radio()
	m.Findings[2].Trigger[0].Chance = 0.6 // a switch that makes contact when it likes
	seen := []belief.Observation{see(2, 1), see(1, 0), see(3, 0)}
	_, before := believe(t, m, belief.Evidence{Seen: seen})
	ev := belief.Evidence{Seen: append(seen, belief.Observation{Finding: 2, Epoch: 1, Value: 0}), Acts: []belief.Act{{Repair: -1}}}
	_, after := believe(t, m, ev)
	between(t, "switch before", before.Now[2], 0.9, 1)
	if after.Now[2] >= before.Now[2] || after.Now[2] != after.First[2] {
		t.Errorf("switch %.3f on arrival and %.3f now, %.3f before it went away: it was not repaired", after.First[2], after.Now[2], before.Now[2])
	}
	// The switch is quiet in 0.4 of cases besides what is quiet anyway: its odds fall to 0.4 of what they were.
	bayes(t, "switch after, odds", odds(after.Now[2])/odds(before.Now[2]), 0.4)
}

// A repair not tried yet: the next move is to try it when it most likely did it.
func TestPendingRepairIsTried(t *testing.T) {
	m := radio()
	e, b := believe(t, m, belief.Evidence{Seen: []belief.Observation{see(1, 1)}, Acts: []belief.Act{{Repair: 1}}})
	a := ask(t, e, b, plan.Settings{Rate: 10, Worth: 60}, plan.Situation{Access: 1, Pending: true}, plan.Effort{})
	if a.Best.Kind != plan.Test {
		t.Errorf("advice %v, want to try the whole", a.Best.Move)
	}
	between(t, "success", a.Success, 0.9, 1)
}

// betaBinomial is Skellam's Beta-binomial chance of k in n in one order, mean p and concentration 2.
func betaBinomial(p float64, k, n int) float64 {
	return math.Exp(mathext.Lbeta(2*p+float64(k), 2*(1-p)+float64(n-k)) - mathext.Lbeta(2*p, 2*(1-p)))
}
