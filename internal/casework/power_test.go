package casework_test

import (
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/store/memory"
	"fettler/library"
)

// How common devices are fed: common practice, no source.
func TestPowerFeedOfTheNote(t *testing.T) {
	lib := ok[*note.Library](t)(note.Load(ctx, library.Notes()))
	b := casework.New(memory.New(), lib, casework.Options{Now: clock()})
	for device, want := range map[string]string{
		"kettle": "heating element", "toaster": "heating element", "washing-machine": "heating element", "lamp-plain": "lamp", "vacuum-mains": "motor", "blender": "motor",
		"powered-loudspeaker": "transformer", "flat-panel-display-led": "power-factor", "disc-player-video": "switched", "desk-lamp-led": "switched",
		"laptop": "low voltage", "torch-lantern": "low voltage", "cordless-vacuum": "low voltage", "lamp-fluorescent": "tube and ballast", "microwave-oven": "",
	} {
		id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: device})).Case
		a := ok[casework.PowerAsk](t)(b.PowerAskOf(ctx, id))
		if !strings.Contains(a.Feed, want) || want == "" && a.Feed != "" {
			t.Errorf("%s is fed by %q, want %q", device, a.Feed, want)
		}
		a.Watts = 100
		p, err := b.PowerUp(ctx, id, a)
		switch {
		case device == "microwave-oven":
			if err != nil || !strings.Contains(p.Refused, "stays closed") || p.Empty != nil || a.Charge != 0 {
				t.Errorf("%s: %+v, %v", device, p, err)
			}
		case want == "":
			if casework.CodeOf(err) != casework.BadInput {
				t.Errorf("%s: %v", device, err)
			}
		case err != nil || p.Refused != "":
			t.Errorf("%s: %+v, %v", device, p, err)
		}
	}
}

// First power says about live work what the bench's settings say.
func TestPowerUpKeepsToTheSettings(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	said := func() (all string) {
		p := ok[*casework.FirstPower](t)(b.PowerUp(ctx, id, casework.PowerAsk{Feed: casework.PowerFeeds()[0], Watts: 60}))
		return strings.Join(append(p.Stand, p.Measure...), " ")
	}
	if s := said(); !strings.Contains(s, "nobody has said yet") || !strings.Contains(s, "reservoirs") {
		t.Errorf("not said: %s", s)
	}
	yes, no := true, false
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{NoLive: &yes}}))
	if s := said(); strings.Contains(s, "nobody has said") || strings.Contains(s, "reservoirs") || !strings.Contains(s, "nothing is measured inside") {
		t.Errorf("never live: %s", s)
	}
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{NoLive: &no}}))
	if s := said(); strings.Contains(s, "nobody has said") || !strings.Contains(s, "reservoirs") {
		t.Errorf("works live: %s", s)
	}
}

// Nothing on discharging or metering stands beside "do not open".
func TestNoDischargeWhereItStaysShut(t *testing.T) {
	lib := ok[*note.Library](t)(note.Load(ctx, library.Notes()))
	b := casework.New(memory.New(), lib, casework.Options{Now: clock()})
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "microwave-oven"})).Case
	v := view(t, b, id)
	all := v.Header.Hazards
	for _, c := range v.Ranking {
		all = append(append(all, c.Cautions...), c.Around...)
	}
	for _, c := range all {
		if strings.Contains(c.Text, "resistor") || strings.Contains(c.Text, "below 5 V") || strings.Contains(c.Text, "metering") || strings.Contains(c.Text, "Discharge") {
			t.Errorf("%s: %s", c.Kind, c.Text)
		}
	}
	if len(all) < 4 {
		t.Errorf("only %d cautions", len(all))
	}
}

// A plainly named line of the shelf counts for the part of a repair.
func TestAPlugFuseOnTheShelfCounts(t *testing.T) {
	lib := ok[*note.Library](t)(note.Load(ctx, library.Notes()))
	b := casework.New(memory.New(), lib, casework.Options{Now: clock()})
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "kettle"})).Case
	want := func(here bool) {
		t.Helper()
		n := 0
		for _, r := range view(t, b, id).Repairs {
			if len(r.Buys) == 1 && r.Buys[0].What == "plug fuse" {
				if n++; r.AtHand != here {
					t.Errorf("%s is at hand: %v", r.ID, r.AtHand)
				}
			}
		}
		if n == 0 {
			t.Error("no repair takes a plug fuse")
		}
	}
	want(false)
	stockUp(t, b, "plug fuse 13 A", 2, "drawer 1")
	want(true)
}

// To be paid by a trained person is no part to buy.
func TestServicesAreNotOnTheList(t *testing.T) {
	lib := ok[*note.Library](t)(note.Load(ctx, library.Notes()))
	b := casework.New(memory.New(), lib, casework.Options{Now: clock()})
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "microwave-oven"}))
	for _, l := range ok[*casework.Shopping](t)(b.Shopping(ctx)).Lines {
		if strings.Contains(l.What, "trained") {
			t.Errorf("the list has %q", l.What)
		}
	}
}
