package notecraft_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/notecraft"
	"fettler/library"
)

// allAnswers is every combination of what a device can have, on every sort of power.
func allAnswers() []notecraft.Answers {
	var out []notecraft.Answers
	for _, p := range notecraft.Powers() {
		for bits := 1; bits < 256; bits++ {
			has := func(k int) bool { return bits>>k&1 == 1 }
			out = append(out, notecraft.Answers{Title: fmt.Sprintf("%s %08b", p, bits), Power: p, Motor: has(0), Heater: has(1), Display: has(2),
				Sound: has(3), Light: has(4), Air: has(5), Water: has(6), Computer: has(7)})
		}
	}
	return out
}

// Every combination of answers reads on top of the library without a problem,
// warnings included, and makes a model.
func TestAssembleAll(t *testing.T) {
	ctx := context.Background()
	own := fstest.MapFS{}
	answers := map[string]notecraft.Answers{}
	for _, a := range allAnswers() {
		d, err := notecraft.Assemble(a)
		if err != nil {
			t.Fatal(err)
		}
		own[d.File] = &fstest.MapFile{Data: d.Text}
		answers[d.ID] = a
	}
	if len(own) != len(allAnswers()) {
		t.Fatalf("%d files for %d devices", len(own), len(allAnswers()))
	}
	lib, err := library.Load(ctx, own)
	if err != nil {
		t.Fatal(err)
	}
	problems, err := lib.Check(ctx)
	if err != nil {
		t.Fatal(err)
	}
	shown := 0
	for _, p := range problems {
		if _, mine := own[p.File]; mine && shown < 20 {
			t.Error(p)
			shown++
		}
	}
	for id, a := range answers {
		m, err := lib.Model(id)
		if err != nil {
			t.Errorf("%+v: %v", a, err)
			continue
		}
		if _, err := belief.New(m, belief.Options{}); err != nil {
			t.Error(err)
		}
		if a.Power != notecraft.Mains {
			noMains(t, m)
		}
	}
}

// Nothing that runs on low voltage sends anybody near the mains, apart from what comes with its adapter.
func noMains(t *testing.T, m *note.Model) {
	t.Helper()
	near := func(what string, hs []note.Hazard) {
		for _, h := range hs {
			if h.Kind == "mains" {
				t.Errorf("%s: %s warns of mains", m.ID, what)
			}
		}
	}
	near("the device", m.Hazards)
	for _, c := range m.Checks {
		near(c.ID, c.Hazards)
	}
	for _, r := range m.Repairs {
		near(r.ID, r.Hazards)
	}
}

// The suspects of an assembled device are those a repairer would name. Common practice, no source.
func TestAssembleSuspects(t *testing.T) {
	for _, x := range []struct {
		name    string
		answers notecraft.Answers
		symptom string
		expect  []string // what the first suspect must begin with, one of them
		share   float64  // of all suspicion that these have together, at least
	}{
		{"a heater with a display stays cold", notecraft.Answers{Power: notecraft.Mains, Heater: true, Display: true}, "no-heat",
			[]string{"heater."}, 0.7},
		{"a bare heater stays cold: what feeds it, or what it is", notecraft.Answers{Power: notecraft.Mains, Heater: true}, "no-heat",
			[]string{"heater.", "inlet.", "switch."}, 0.9},
		{"a hot-air device gets too hot", notecraft.Answers{Power: notecraft.Mains, Heater: true, Air: true, Computer: true}, "too-hot",
			[]string{"fan.", "fan-motor.", "heater.thermostat", "board.relay"}, 0.7},
		{"a mixer is noisy", notecraft.Answers{Power: notecraft.Mains, Motor: true}, "noisy", []string{"gears.", "motor.bearings"}, 0.8},
		{"a toy does nothing", notecraft.Answers{Power: notecraft.Cells, Motor: true, Sound: true}, "dead", []string{"cells.", "switch."}, 0.9},
		{"a toy is silent", notecraft.Answers{Power: notecraft.Cells, Motor: true, Sound: true}, "silent", []string{"amp.", "speaker."}, 0.5},
		{"a fountain moves no water", notecraft.Answers{Power: notecraft.Adapter, Water: true, Light: true}, "no-water", []string{"pump."}, 0.8},
		{"a loudspeaker box takes no charge", notecraft.Answers{Power: notecraft.Rechargeable, Sound: true, Computer: true}, "charger.no-charge",
			[]string{"inlet.", "pack.", "charger."}, 0.9},
		{"a lamp stays dark", notecraft.Answers{Power: notecraft.Mains, Light: true}, "dark", []string{"lamp.", "switch.", "inlet."}, 0.9},
	} {
		x.answers.Title = x.name
		m := assembled(t, x.answers)
		f := -1
		for i := range m.Findings {
			if m.Findings[i].ID == x.symptom {
				f = i
			}
		}
		e, err := belief.New(m, belief.Options{})
		if err != nil {
			t.Fatal(err)
		}
		raised, err := notecraft.RaisesAll(context.Background(), e)
		i := slices.IndexFunc(raised, func(r notecraft.Raised) bool { return r.Seen.Finding == f && r.Seen.Value == 1 })
		if err != nil || i < 0 {
			t.Errorf("%s: %v", x.name, err)
			continue
		}
		got := raised[i].Suspects
		fits := func(s notecraft.Suspect) bool {
			for _, p := range x.expect {
				if strings.HasPrefix(m.Modes[s.Mode].ID, p) {
					return true
				}
			}
			return false
		}
		fit, all := 0.0, 0.0
		for _, s := range got {
			all += s.Posterior
			if fits(s) {
				fit += s.Posterior
			}
		}
		if !fits(got[0]) || fit < x.share*all {
			t.Errorf("%s: %s first, and %v have %.2f of the suspicion", x.name, m.Modes[got[0].Mode].ID, x.expect, fit/all)
		}
	}
}

func assembled(t testing.TB, a notecraft.Answers) *note.Model {
	t.Helper()
	d, err := notecraft.Assemble(a)
	if err != nil {
		t.Fatal(err)
	}
	lib, err := library.Load(context.Background(), fstest.MapFS{d.File: {Data: d.Text}})
	if err != nil {
		t.Fatalf("%v\n%s", err, d.Text)
	}
	m, err := lib.Model(d.ID)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestAssembleText(t *testing.T) {
	d, err := notecraft.Assemble(notecraft.Answers{Title: "Hall's hot-air thing", Power: notecraft.Mains, Heater: true, Air: true,
		Opening: "Four screws: under the feet", OpenMinutes: 12, Worth: 18.5, MassKg: 1.2, Names: []string{"blower", " blower ", "warm, loud"}})
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/assemble.golden", d.Text)
}

func TestAssembleRefuses(t *testing.T) {
	for _, a := range []notecraft.Answers{
		{},
		{Power: "steam", Motor: true},
		{Power: notecraft.Mains},
		{Power: notecraft.Mains, Motor: true, OpenMinutes: -1},
		{Power: notecraft.Mains, Motor: true, OpenMinutes: math.NaN()},
		{Power: notecraft.Mains, Motor: true, Worth: math.Inf(1)},
		{Power: notecraft.Mains, Motor: true, Category: "Spaceship"},
	} {
		if d, err := notecraft.Assemble(a); err == nil {
			t.Errorf("%+v makes\n%s", a, d.Text)
		}
	}
}

// Whatever is typed, the note reads without problems or the answers are refused with a sentence.
func FuzzAssemble(f *testing.F) {
	f.Add("Hall's fan", "Fan", "blower", "two: screws # here", uint8(0), uint8(33), 8.0, 20.0, 1.0)
	f.Add("'\"\x00\n- {a: b}\t&x", "", "*x, [y", "'", uint8(2), uint8(255), 0.001, 0.0, 1e-9)
	f.Add("123 456", "Toy", "null", "true", uint8(3), uint8(9), 600.0, 1e6, 1000.0)
	f.Fuzz(func(t *testing.T, title, category, name, opening string, power, has uint8, minutes, worth, mass float64) {
		on := func(k int) bool { return has>>k&1 == 1 }
		a := notecraft.Answers{Title: title, Category: category, Names: []string{name}, Power: notecraft.Powers()[power%4], Opening: opening,
			OpenMinutes: minutes, Worth: worth, MassKg: mass,
			Motor: on(0), Heater: on(1), Display: on(2), Sound: on(3), Light: on(4), Air: on(5), Water: on(6), Computer: on(7)}
		d, err := notecraft.Assemble(a)
		if err != nil {
			return
		}
		// What is typed stands in the file's head; the blocks it uses are TestAssembleAll's business.
		lib, err := note.Load(context.Background(), fstest.MapFS{d.File: {Data: d.Text}})
		if err != nil {
			t.Fatalf("%+v: %v\n%s", a, err, d.Text)
		}
		list := lib.Devices()
		if len(list) != 1 || list[0].ID != d.ID || list[0].Title == "" || len(lib.Problems()) > 0 {
			t.Fatalf("%+v: %+v %v\n%s", a, list, lib.Problems(), d.Text)
		}
	})
}
