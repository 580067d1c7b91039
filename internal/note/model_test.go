package note_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/note"
)

// The doc's device, composed and put into words.
func TestModelGolden(t *testing.T) {
	got := describe(docModel(t))
	const file = "testdata/model.txt"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func describe(m *note.Model) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("device %s: %s, %s, %g kg, worth %g scrap %g %s", m.ID, m.Title, m.Category, m.MassKg, m.Worth, m.Scrap, m.Currency)
	for _, u := range m.Units {
		say("unit %q %s (%s)", u.ID, u.Title, u.Block)
	}
	for _, a := range m.Access {
		say("access %s: %s, behind %d, open %g min, close %g min", a.ID, a.Title, a.Behind, a.OpenMinutes, a.CloseMinutes)
	}
	for _, h := range m.Hazards {
		say("hazard %s %g V %g J %q", h.Kind, h.Volts, h.Joules, h.Text)
	}
	for i, c := range m.Conditions {
		say("condition %d %s: %s", i, c.ID, strings.Join(c.States, " < "))
		for _, l := range c.From {
			say("    from %s %v", m.Conditions[l.Cond].ID, l.Map)
		}
	}
	for i, x := range m.Modes {
		say("mode %d %s: %s [%s] odds %.6f", i, x.ID, x.Title, x.Class, x.Odds)
		say("    %s", x.Basis)
		for _, e := range x.Effects {
			say("    does %s: %s", m.Conditions[e.Cond].ID, m.Conditions[e.Cond].States[e.State])
		}
		for _, c := range x.Causes {
			say("    because of %s: %g", m.Modes[c.Mode].ID, c.Chance)
		}
	}
	for _, f := range m.Findings {
		describeFinding(say, m, f)
	}
	for _, c := range m.Checks {
		say("check %s: %s, with %v, %g min at %s, live %t, %d hazards, finds %v", c.ID, c.Title, c.With, c.Minutes, m.Access[c.Access].ID, c.Live, len(c.Hazards), c.Findings)
	}
	for _, r := range m.Repairs {
		say("repair %s: %s, %g min at %s, %g days, buys %d for %g, harm %g, whole %t", r.ID, r.Title, r.Minutes, m.Access[r.Access].ID, r.Days, len(r.Buys), r.Price, r.Harm, r.Whole)
		for _, c := range r.Clears {
			say("    clears %s: %g", m.Modes[c.Mode].ID, c.Success)
		}
	}
	for _, t := range m.Trials {
		say("trial %q: given %v expect %v within %d (line %d)", t.Title, t.Given, t.Expect, t.Within, t.Where.Line)
	}
	return b.String()
}

func describeFinding(say func(string, ...any), m *note.Model, f note.Finding) {
	say("finding %s: %s / %s / says %v comes %t", f.ID, f.Title, f.Ask, f.Says, f.Comes)
	switch f.Kind {
	case note.Sign:
		say("    leak %g", f.Leak)
		for _, t := range f.Trigger {
			if t.Mode >= 0 {
				say("    %s: %g", m.Modes[t.Mode].ID, t.Chance)
			} else {
				say("    %s in %b: %g", m.Conditions[t.Cond].ID, t.States, t.Chance)
			}
		}
	case note.Pick:
		for s, row := range f.Table {
			say("    %s %s: %.4f", m.Conditions[f.Cond].ID, m.Conditions[f.Cond].States[s], row)
		}
	case note.Reading:
		for s, d := range f.Dist {
			say("    %s %s: %+v %s", m.Conditions[f.Cond].ID, m.Conditions[f.Cond].States[s], d, f.Measure)
		}
	}
}

// An overload on the amplifier's rails goes through the supply to the fuse of
// the inlet: the chain of the note language's own example.
func TestOverloadChain(t *testing.T) {
	m := docModel(t)
	for _, x := range m.Modes {
		if x.ID != "inlet.fuse.open" {
			continue
		}
		got := map[string]float64{}
		for _, c := range x.Causes {
			got[m.Modes[c.Mode].ID] = c.Chance
		}
		want := map[string]float64{ // usually 0.8, nearly always 0.95: the table of words in docs/notes.md
			"supply.reservoir.short": 0.8, "supply.bridge.short": 0.95, "amp.outputs.short": 0.8,
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("what opens the fuse: (-want +got)\n%s", diff)
		}
		return
	}
	t.Fatal("the fuse is lost")
}

func TestInvariants(t *testing.T) {
	m := docModel(t)
	sum, supply := 0.0, 0.0
	for i, x := range m.Modes {
		sum += math.Log1p(x.Odds)
		if m.Units[m.Parts[x.Part].Unit].ID == "supply" {
			supply += x.Odds
		}
		for _, c := range x.Causes {
			if c.Mode >= i {
				t.Errorf("%s stands before %s, which brings it about", x.ID, m.Modes[c.Mode].ID)
			}
		}
	}
	if math.Abs(sum-0.26) > 1e-12 {
		t.Errorf("Σ ln(1+odds) = %g", sum)
	}
	total := 0.0
	for _, x := range m.Modes {
		total += x.Odds
	}
	if math.Abs(supply/total-0.35) > 1e-12 {
		t.Errorf("the supply has %g of the faults, its burden is 0.35", supply/total)
	}
	for i, c := range m.Conditions {
		for _, l := range c.From {
			if l.Cond >= i {
				t.Errorf("%s stands before %s, which is upstream", c.ID, m.Conditions[l.Cond].ID)
			}
		}
	}
	for _, f := range m.Findings {
		for _, row := range f.Table {
			s := 0.0
			for _, p := range row {
				s += p
				if p < 0.001-1e-12 {
					t.Errorf("%s has an answer with chance %g", f.ID, p)
				}
			}
			if math.Abs(s-1) > 1e-12 {
				t.Errorf("a row of %s adds up to %g", f.ID, s)
			}
		}
	}
}

// Reading the same notes twice gives the same model, bit for bit, and asking
// for it from several places at once is safe.
func TestSameTwice(t *testing.T) {
	notes := docNotes(t)
	a, b := loaded(t, notes), loaded(t, notes)
	models := make([]*note.Model, 8)
	var wg sync.WaitGroup
	for i := range models {
		wg.Add(1)
		go func() {
			defer wg.Done()
			lib := a
			if i%2 == 1 {
				lib = b
			}
			models[i], _ = lib.Model("powered-loudspeaker")
		}()
	}
	wg.Wait()
	for i, m := range models[1:] {
		if diff := cmp.Diff(models[0], m); diff != "" {
			t.Fatalf("model %d differs:\n%s", i+1, diff)
		}
	}
	if models[0] != models[2] {
		t.Error("the model is not kept")
	}
}

// Records that know everything about the category pull the class totals all the way at strength 1.
func TestMix(t *testing.T) {
	shares := map[note.Class]float64{note.ClassFuse: 0.5, note.ClassElcap: 0.25, note.ClassSemi: 0.25, note.ClassMotor: 0.9}
	asked := ""
	mix := func(category string) map[note.Class]float64 { asked = category; return shares }
	lib, err := note.Settings{Mix: mix, Strength: 1}.Load(context.Background(), docNotes(t))
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model("powered-loudspeaker")
	if err != nil {
		t.Fatal(err)
	}
	if asked != "Hi-Fi separates" {
		t.Errorf("asked for %q", asked)
	}
	plain := byClass(docModel(t))
	got := byClass(m)
	if r := got[note.ClassFuse] / got[note.ClassElcap]; math.Abs(r-2) > 1e-6 {
		t.Errorf("fuse : capacitor = %g, the records say 2", r)
	}
	if a, b := got[note.ClassThermal]/got[note.ClassPowerLead], plain[note.ClassThermal]/plain[note.ClassPowerLead]; math.Abs(a/b-1) > 1e-6 {
		t.Errorf("classes the records do not know have changed: %g, were %g", a, b)
	}
}

func byClass(m *note.Model) map[note.Class]float64 {
	out := map[note.Class]float64{}
	for _, x := range m.Modes {
		out[x.Class] += x.Odds
	}
	return out
}

// A fault that only follows from others has a rate of 0, and is still possible.
func TestRateZero(t *testing.T) {
	m, err := loaded(t, layerOf("a.yaml", `device: two
title: Two
category: Misc
parts:
  a: {class: fuse, modes: {open: {rate: 0}}}
  b: {class: fuse, modes: {open: {rate: 2, brings: {a open: often}}}}
symptoms: {dead: {title: dead, shows: {a open: often, b open: often}}}
`)).Model("two")
	if err != nil {
		t.Fatal(err)
	}
	a, b := m.Modes[1], m.Modes[0]
	if a.ID != "a.open" || !(a.Odds > 0 && a.Odds < 1e-5*b.Odds) || len(a.Causes) != 1 {
		t.Errorf("got %+v beside %+v", a, b)
	}
}
