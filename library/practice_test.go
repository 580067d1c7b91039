package library_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/library"
)

// The cases here are common practice, no source: what a good repairer would
// say, asked of the shipped notes.

// A bench is one device's note with what has been seen of it.
type bench struct {
	t  *testing.T
	m  *note.Model
	e  *belief.Engine
	ev belief.Evidence
}

func take(t *testing.T, device string) *bench {
	t.Helper()
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model(device)
	if err != nil {
		t.Fatal(err)
	}
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &bench{t: t, m: m, e: e}
}

func (b *bench) finding(id string) int {
	b.t.Helper()
	for i := range b.m.Findings {
		if b.m.Findings[i].ID == id {
			return i
		}
	}
	b.t.Fatalf("%s has no finding %s", b.m.ID, id)
	return -1
}

// saw adds what was seen in an epoch; "!" before a finding means looked for and not there.
func (b *bench) saw(epoch int, ids ...string) *bench {
	b.t.Helper()
	out := *b
	for _, id := range ids {
		o := belief.Observation{Epoch: epoch, Value: 1}
		if rest, no := strings.CutPrefix(id, "!"); no {
			id, o.Value = rest, 0
		}
		o.Finding = out.finding(id)
		out.ev = out.ev.With(o)
	}
	return &out
}

func (b *bench) picked(epoch int, id, answer string) *bench {
	b.t.Helper()
	f := b.finding(id)
	v := slices.Index(b.m.Findings[f].Answers, answer)
	if v < 0 {
		b.t.Fatalf("%s has no answer %q", id, answer)
	}
	out := *b
	out.ev = out.ev.With(belief.Observation{Finding: f, Epoch: epoch, Value: v})
	return &out
}

func (b *bench) did(ids ...string) *bench {
	b.t.Helper()
	out := *b
	for _, id := range ids {
		at := -1
		for i := range b.m.Repairs {
			if b.m.Repairs[i].ID == id {
				at = i
			}
		}
		if at < 0 {
			b.t.Fatalf("%s has no repair %s", b.m.ID, id)
		}
		out.ev.Acts = append(append([]belief.Act(nil), out.ev.Acts...), belief.Act{Repair: at})
	}
	return &out
}

func (b *bench) belief() *belief.Belief {
	b.t.Helper()
	x, err := b.e.Posterior(context.Background(), b.ev)
	if err != nil {
		b.t.Fatal(err)
	}
	return x
}

// any is the chance that at least one mode with one of the prefixes was there on arrival.
func (b *bench) any(prefixes ...string) float64 {
	b.t.Helper()
	p := 0.0
	for _, c := range b.belief().Candidates {
		for _, i := range c.First {
			if hasPrefix(b.m.Modes[i].ID, prefixes) {
				p += c.P
				break
			}
		}
	}
	return p
}

func hasPrefix(id string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(id, p) {
			return true
		}
	}
	return false
}

func (b *bench) advise() *plan.Advice {
	b.t.Helper()
	p, err := plan.New(b.e, plan.Settings{Rate: 10, Worth: b.m.Worth, Scrap: b.m.Scrap})
	if err != nil {
		b.t.Fatal(err)
	}
	a, err := p.Advise(context.Background(), b.belief(), plan.Situation{})
	if err != nil {
		b.t.Fatal(err)
	}
	return a
}

func TestBulgedTopIsBadWithNearCertainty(t *testing.T) {
	for device, look := range map[string]string{"powered-loudspeaker": "supply.look.bulged", "flat-panel-display-led": "boards-look.bulged"} {
		b := take(t, device).saw(0, look)
		bad := 0.0
		for _, c := range b.belief().Candidates {
			for _, i := range c.First {
				if b.m.Modes[i].Class == note.ClassElcap {
					bad += c.P
					break
				}
			}
		}
		if bad < 0.9 {
			t.Errorf("%s: a bulged top leaves a capacitor only %.2f", device, bad)
		}
	}
}

func TestHairdryerPointsAtCapacitors(t *testing.T) {
	caps := []string{"supply.output-capacitors", "supply.vcc-capacitor"}
	before := take(t, "wall-adapter").saw(0, "no-output", "ticking")
	warm, same := before.saw(0, "supply.freeze.starts-warm"), before.saw(0, "!supply.freeze.starts-warm")
	odds := func(p float64) float64 { return p / (1 - p) }
	if p, q := warm.any(caps...), before.any(caps...); p < 0.8 || odds(p) < 10*odds(q) {
		t.Errorf("no output and ticking, starts when warmed: capacitors %.2f, before %.2f", p, before.any(caps...))
	}
	if p, q := same.any(caps...), before.any(caps...); p > 0.8*q {
		t.Errorf("no change when warmed speaks against them: %.2f after %.2f", p, q)
	}
}

func TestEverythingMisbehavesWhileTheSupplyIsThere(t *testing.T) {
	b := take(t, "flat-panel-display-led").saw(0, "bad-picture", "bad-sound", "main.loops", "!dead").
		picked(0, "supply.rail.percent", "right and steady")
	if main, supply := b.any("main."), b.any("supply.", "standby.", "boost."); main < 2*supply || main < 0.5 {
		t.Errorf("picture, sound and power all misbehave, rail measured good: main board %.2f, supply %.2f", main, supply)
	}
}

func TestCrackedPanelEndsTheTriage(t *testing.T) {
	for _, device := range []string{"flat-panel-display-led", "flat-panel-display-tubes"} {
		b := take(t, device).saw(0, "panel.cracked")
		if a := b.advise(); a.Best.Kind != plan.Stop {
			t.Errorf("%s with a cracked panel: go on with %v %d, gain %.2f", device, a.Best.Kind, a.Best.Index, a.Gain)
		}
	}
}

// Three parts replaced untested, the symptom gone, the removed capacitors test good: it was the chip.
func TestRemovedCapacitorsTestGood(t *testing.T) {
	chips := []string{"supply.controller.", "supply.switch.", "supply.sense."} // replaced together
	caps := []string{"supply.output-capacitors", "supply.vcc-capacitor"}
	b := take(t, "wall-adapter").saw(0, "no-output", "light-off", "bang").
		did("supply.recap-outputs", "supply.new-vcc-capacitor", "supply.new-primary").
		saw(3, "!no-output", "!light-off")
	untested := b.any(chips...)
	b = b.saw(0, "!supply.esr.outputs-high", "!supply.esr.vcc-high")
	if chip, cap := b.any(chips...), b.any(caps...); chip < 0.6 || chip < 3*cap || chip <= untested {
		t.Errorf("capacitors test good: chip %.2f (before the test %.2f), capacitors %.2f", chip, untested, cap)
	}
}
