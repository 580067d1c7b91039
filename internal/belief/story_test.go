package belief_test

import (
	"context"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// amp is a small invented amplifier: a fuse that a shorted transistor usually
// takes with it, two capacitors, a protection chip, and symptoms.
//
// Modes: 0 transistor short, 1 fuse open, 2 C1 dried out, 3 C2 dried out, 4 chip dead.
func amp() *note.Model {
	m := &note.Model{ID: "amp", Modes: modes(0.03, "transistor short", "fuse open", "C1 dried out", "C2 dried out", "chip dead")}
	m.Modes[1].Odds = 0.004
	m.Modes[1].Causes = []note.Cause{{Mode: 0, Chance: 0.9}}
	m.Conditions = []note.Condition{
		{ID: "power", States: []string{"good", "absent"}},
		{ID: "sound", States: []string{"good", "cuts out", "silent"}, From: []note.Link{{Cond: 0, Map: []int{0, 2}}}},
		{ID: "C1", States: []string{"sound", "dried out"}},
		{ID: "C2", States: []string{"sound", "dried out"}},
	}
	m.Modes[0].Effects = []note.Effect{{Cond: 1, State: 2}}
	m.Modes[1].Effects = []note.Effect{{Cond: 0, State: 1}}
	m.Modes[2].Effects = []note.Effect{{Cond: 1, State: 1}, {Cond: 2, State: 1}}
	m.Modes[3].Effects = []note.Effect{{Cond: 1, State: 1}, {Cond: 3, State: 1}}
	m.Modes[4].Effects = []note.Effect{{Cond: 1, State: 1}}
	on := func(cond, state int, p float64) []note.Trigger {
		return []note.Trigger{{Mode: -1, Cond: cond, States: 1 << uint(state), Chance: p}}
	}
	m.Findings = []note.Finding{
		{ID: "dead", Check: -1, Leak: 0.005, Trigger: on(0, 1, 0.99)},
		{ID: "cuts out", Check: -1, Leak: 0.005, Trigger: on(1, 1, 0.95)},
		{ID: "C1 tests", Kind: note.Pick, Cond: 2, Answers: []string{"good", "bad"}, Table: [][]float64{{0.97, 0.03}, {0.05, 0.95}}},
		{ID: "C2 tests", Kind: note.Pick, Cond: 3, Answers: []string{"good", "bad"}, Table: [][]float64{{0.97, 0.03}, {0.05, 0.95}}},
		{ID: "no sound", Check: -1, Leak: 0.005, Trigger: on(1, 2, 0.99)},
	}
	m.Repairs = []note.Repair{
		{ID: "fuse", Harms: -1, Clears: []note.Clear{{Mode: 1, Success: 1}}},
		{ID: "all three", Harms: -1, Clears: []note.Clear{{Mode: 2, Success: 0.95}, {Mode: 3, Success: 0.95}, {Mode: 4, Success: 0.95}}},
	}
	return m
}

func mustPosterior(t *testing.T, e *belief.Engine, ev belief.Evidence) *belief.Belief {
	t.Helper()
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func mustEngine(t *testing.T, m *note.Model, o belief.Options) *belief.Engine {
	t.Helper()
	e, err := belief.New(m, o)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A blown fuse in a device with a shorted transistor: replacing only the fuse
// blows the new one. Common practice, no source.
func TestNewFuseBlowsWhileTheShortStays(t *testing.T) {
	e := mustEngine(t, amp(), belief.Options{Unknown: -1})
	seen := []belief.Observation{{Finding: 0, Value: 1}}
	before := mustPosterior(t, e, belief.Evidence{Seen: seen})
	if before.First[0] < 0.7 || before.First[1] < 0.95 {
		t.Errorf("dead: transistor %.2f, fuse %.2f; the fuse is open and the transistor most likely why", before.First[0], before.First[1])
	}
	after := mustPosterior(t, e, belief.Evidence{Seen: seen, Acts: []belief.Act{{Repair: 0}}})
	if after.Now[1] < 0.6 {
		t.Errorf("P(new fuse blown too) = %.2f, want most of P(short) %.2f", after.Now[1], before.First[0])
	}
	dead := mustPosterior(t, e, belief.Evidence{Seen: append(seen, belief.Observation{Finding: 0, Epoch: 1, Value: 1}), Acts: []belief.Act{{Repair: 0}}})
	if dead.Now[0] < 0.97 {
		t.Errorf("dead again after a new fuse: P(short) = %.3f, want near certainty", dead.Now[0])
	}
}

// Three parts replaced untested, the fault is gone, the two capacitors then
// test good: it was the chip. Common practice, no source.
func TestWhichOfThreeItWas(t *testing.T) {
	e := mustEngine(t, amp(), belief.Options{})
	ev := belief.Evidence{
		Seen: []belief.Observation{
			{Finding: 1, Value: 1},           // cuts out
			{Finding: 1, Epoch: 1, Value: 0}, // after the repair it does not
			{Finding: 4, Epoch: 1, Value: 0},
		},
		Acts: []belief.Act{{Repair: 1}},
	}
	untested := mustPosterior(t, e, ev)
	if untested.First[4] > 0.5 {
		t.Errorf("before the removed parts are tested the chip has %.2f, no better than the others", untested.First[4])
	}
	// The removed capacitors tell what the device was like before: epoch 0.
	ev = ev.With(belief.Observation{Finding: 2, Value: 0}).With(belief.Observation{Finding: 3, Value: 0})
	b := mustPosterior(t, e, ev)
	if b.First[4] < 0.8 {
		t.Errorf("P(chip) = %.2f after both capacitors tested good, want over 0.8", b.First[4])
	}
	if b.Now[4] > 0.05 {
		t.Errorf("P(chip still bad) = %.3f", b.Now[4])
	}
}

// Findings that no known fault explains together: the tool says that it does
// not know, and names the pair.
func TestContradictionPointsAtTheUnknown(t *testing.T) {
	m := amp()
	m.Modes[0].Effects = append(m.Modes[0].Effects, note.Effect{Cond: 0, State: 1}) // short always means no power
	m.Findings = append(m.Findings, note.Finding{ID: "lamp lit", Kind: note.Pick, Cond: 0, Answers: []string{"lit", "dark"},
		Table: [][]float64{{0.99, 0.01}, {0.005, 0.995}}})
	e := mustEngine(t, m, belief.Options{})
	ev := belief.Evidence{Seen: []belief.Observation{
		{Finding: 0, Value: 1}, {Finding: 5, Value: 0}, {Finding: 1, Value: 0}, {Finding: 4, Value: 0},
	}}
	b := mustPosterior(t, e, ev)
	if !b.Strained() {
		t.Fatalf("dead, yet the lamp is lit and nothing is wrong with the sound: unknown has only %.3f", b.Unknown)
	}
	cs, err := e.Conflicts(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	if len(cs) == 0 || cs[0].A != 0 {
		t.Fatalf("conflicts %+v, want one that names the dead device first", cs)
	}
	calm := mustPosterior(t, e, belief.Evidence{Seen: ev.Seen[:1]})
	if calm.Strained() || calm.Unknown > 0.1 {
		t.Errorf("dead alone is no contradiction: unknown %.3f", calm.Unknown)
	}
}

// Impossible evidence must not divide by zero: all that is left is the unknown.
func TestImpossibleEvidence(t *testing.T) {
	m := &note.Model{ID: "m", Modes: modes(0.1, "a"), Findings: []note.Finding{{ID: "never", Kind: note.Sign}}}
	for _, unknown := range []float64{-1, 0} {
		e := mustEngine(t, m, belief.Options{Unknown: unknown})
		b := mustPosterior(t, e, belief.Evidence{Seen: []belief.Observation{{Finding: 0, Value: 1}}})
		if b.Unknown != 1 || b.First[0] != 0 {
			t.Errorf("unknown option %v: got unknown %v, mode %v", unknown, b.Unknown, b.First[0])
		}
	}
}

func TestWhyNamesWhatMoved(t *testing.T) {
	e := mustEngine(t, amp(), belief.Options{Unknown: -1})
	ev := belief.Evidence{Seen: []belief.Observation{{Finding: 1, Value: 1}, {Finding: 2, Value: 0}, {Finding: 3, Value: 0}}}
	ws, err := e.Why(context.Background(), ev, 2, false)
	if err != nil {
		t.Fatal(err)
	}
	if ws[0].Seen != 1 || ws[0].Factor > 0.2 {
		t.Errorf("what counts most against C1 is its own test: %+v", ws)
	}
	for _, w := range ws {
		if w.Seen == 2 && w.Factor < 1.2 {
			t.Errorf("a good C2 speaks for C1: factor %.2f", w.Factor)
		}
	}
}

func TestBadEvidenceIsRefused(t *testing.T) {
	e := mustEngine(t, amp(), belief.Options{})
	for name, ev := range map[string]belief.Evidence{
		"no such finding": {Seen: []belief.Observation{{Finding: 99}}},
		"no such epoch":   {Seen: []belief.Observation{{Finding: 0, Epoch: 3}}},
		"no such answer":  {Seen: []belief.Observation{{Finding: 2, Value: 7}}},
		"more than looks": {Seen: []belief.Observation{{Finding: 0, Value: 4, Of: 3}}},
		"no such repair":  {Acts: []belief.Act{{Repair: 12}}},
	} {
		if _, err := e.Posterior(context.Background(), ev); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// What was seen before a repair still stands if the repair did not touch it.
func TestStands(t *testing.T) {
	e := mustEngine(t, amp(), belief.Options{})
	ev := belief.Evidence{
		Seen: []belief.Observation{{Finding: 0}, {Finding: 1, Value: 1}, {Finding: 2}},
		Acts: []belief.Act{{Repair: 0}}, // a new fuse
	}
	got, err := e.Stands(ev)
	if err != nil {
		t.Fatal(err)
	}
	if got[0] || got[1] || !got[2] {
		t.Errorf("after a new fuse power and sound want another look, C1 does not: %v", got)
	}
}
