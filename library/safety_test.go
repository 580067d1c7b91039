package library_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fettler/internal/note"
	"fettler/library"
)

// What the shipped notes must say where it can hurt. Common practice, no source;
// the charge that matters is that of reference values "stored energy": provide for
// a safe discharge when servicing above 0.1 J, a heavy shock from 0.25 J.

// everyModel calls f with each device's note.
func everyModel(t *testing.T, f func(m *note.Model)) {
	t.Helper()
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		f(m)
	}
}

func names(hs []note.Hazard, kind string) bool {
	return slices.ContainsFunc(hs, func(h note.Hazard) bool { return h.Kind == kind })
}

func charged(hs []note.Hazard) bool {
	return slices.ContainsFunc(hs, func(h note.Hazard) bool { return h.Kind == "stored charge" && h.Volts >= 60 && h.Joules >= 0.25 })
}

func blockOf(id string) string {
	head, _, found := strings.Cut(id, ".")
	if !found {
		return ""
	}
	return head
}

// Where one step at a block warns of its charge, so does every soldering there.
func TestSolderingNamesTheCharge(t *testing.T) {
	said := map[string]bool{}
	everyModel(t, func(m *note.Model) {
		full := map[string]bool{}
		for i := range m.Checks {
			if b := blockOf(m.Checks[i].ID); charged(m.Checks[i].Hazards) && !m.Checks[i].Live {
				full[b] = true
			}
		}
		for i := range m.Repairs {
			r := &m.Repairs[i]
			b := blockOf(r.ID)
			onBoard := r.Access > 0 && m.Access[r.Access].Behind > 0 // the board is out, and not only the case off
			if b == "" || !full[b] || !onBoard || !names(r.Hazards, "hot tools") || names(r.Hazards, "stored charge") {
				continue
			}
			if s := m.ID + ", " + r.ID; !said[s] {
				said[s] = true
				t.Errorf("%s: solders beside a charged capacitor without a word of it", s)
			}
		}
	})
}

// Water at work under power, in something that hangs on the mains, is said to be both.
func TestWaterUnderPowerNamesTheMains(t *testing.T) {
	everyModel(t, func(m *note.Model) {
		if !names(m.Hazards, "mains") {
			return
		}
		for i := range m.Checks {
			if k := &m.Checks[i]; k.Live && names(k.Hazards, "water") && !names(k.Hazards, "mains") {
				t.Errorf("%s: %s is done live and wet without a word of the mains", m.ID, k.ID)
			}
		}
	})
}

// Nothing that keeps people safe is bridged for good.
func TestNoRepairBridgesASafetyPart(t *testing.T) {
	never := regexp.MustCompile(`(?i)\b(never|do not|must not)\b[^.]*\bbridge`)
	bridges := regexp.MustCompile(`(?i)\bbridg\w* (the |its |a )?(\w+ )?(switch|interlock|fuse|cut-out|link|thermostat)`)
	everyModel(t, func(m *note.Model) {
		for i := range m.Repairs {
			r := &m.Repairs[i]
			for _, s := range []string{r.Title, r.How} {
				if bridges.MatchString(s) && !never.MatchString(s) {
					t.Errorf("%s: %s: %s", m.ID, r.ID, s)
				}
			}
		}
	})
}

// A pack of five lithium cells is past the 20 V range of a meter: 5 × 4.2 V.
func TestLithiumPackFitsTheRange(t *testing.T) {
	everyModel(t, func(m *note.Model) {
		for i := range m.Checks {
			k := &m.Checks[i]
			if strings.Contains(k.How, "cells in series") && strings.Contains(k.How, "DC 20 V") && !strings.Contains(k.How, "200 V") {
				t.Errorf("%s: %s has one range for any number of cells: %s", m.ID, k.ID, k.How)
			}
		}
	})
}

// A set without a standby light has none that blinks.
func TestNoStandbyLightIsNone(t *testing.T) {
	for _, device := range []string{"flat-panel-display-led", "flat-panel-display-tubes"} {
		b := take(t, device).saw(0, "dead")
		f, p := b.finding("wont-start"), 0.0
		for _, c := range b.belief().Candidates {
			p += c.P * b.e.Chances(b.e.World(c.Now), f)[0]
		}
		if p > 0.12 {
			t.Errorf("%s: dead without a standby light, yet a light that is on or blinks %.2f", device, p)
		}
	}
}

// A device that only trained hands may open is not measured under power inside.
func TestNothingLiveInWhatStaysShut(t *testing.T) {
	everyModel(t, func(m *note.Model) {
		if !note.StaysShut(m.Hazards) {
			return
		}
		for i := range m.Checks {
			if k := &m.Checks[i]; k.Live && k.Access > 0 {
				t.Errorf("%s: %s is done with the power on and the case off", m.ID, k.ID)
			}
		}
	})
}

// What hangs on the mains says so.
func TestMainsIsNamed(t *testing.T) {
	everyModel(t, func(m *note.Model) {
		for i := range m.Modes {
			if s := m.Modes[i].Title; strings.Contains(s, "mains lead") && !names(m.Hazards, "mains") {
				t.Errorf("%s has a %q, and no word of the mains", m.ID, s)
			}
		}
		if strings.Contains(strings.ToLower(m.Title), "mains") && !names(m.Hazards, "mains") {
			t.Errorf("%s, %q: no word of the mains", m.ID, m.Title)
		}
	})
}
