package rework_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/heat"
	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/rework"
)

// The order that keeps pads, parts and people whole: common practice, no source.
func TestOrderOfSteps(t *testing.T) {
	order := []string{"photograph", "safe", "heat", "lift", "braid", "pads", "orient", "tack", "solder", "bridges", "round", "wash", "refit"}
	hazards := map[string]bool{}
	for _, h := range note.HazardKinds() {
		hazards[h.Name] = true
	}
	for _, f := range rework.Families() {
		at, seen := map[string]int{}, map[string]bool{}
		steps := rework.Steps(f.ID)
		for i, s := range steps {
			if seen[s.ID] || s.ID == "" || s.Title == "" || s.How == "" || s.Source.Mark == "" {
				t.Errorf("%s: step %d %q is twice there or says nothing", f.ID, i, s.ID)
			}
			seen[s.ID], at[s.ID] = true, i
			for _, c := range s.Cautions {
				if !hazards[c.Kind] || c.Text == "" {
					t.Errorf("%s %s: %q is no kind of hazard", f.ID, s.ID, c.Kind)
				}
			}
			if s.ID == "heat" && len(s.Cautions) == 0 {
				t.Errorf("%s: heat without a caution", f.ID)
			}
		}
		for i := 1; i < len(order); i++ {
			a, okA := at[order[i-1]]
			b, okB := at[order[i]]
			if !okA || !okB {
				t.Fatalf("%s lacks %s or %s", f.ID, order[i-1], order[i])
			}
			if a >= b {
				t.Errorf("%s: %s comes after %s", f.ID, order[i-1], order[i])
			}
		}
		if steps[0].ID != "photograph" || steps[len(steps)-1].ID != "refit" {
			t.Errorf("%s begins with %s and ends with %s", f.ID, steps[0].ID, steps[len(steps)-1].ID)
		}
	}
	if rework.Steps("nothing") != nil {
		t.Error("a family that is none has steps")
	}
}

// Every outline that package heat lays out, but ball grids, has a family.
func TestEveryOutlineHasAFamily(t *testing.T) {
	for _, p := range heat.PackageNames() {
		if f := rework.FamilyOf(p); (f == "") != strings.HasPrefix(p, "BGA") {
			t.Errorf("%s: family %q", p, f)
		}
	}
	for _, f := range rework.Families() {
		for _, p := range f.Packages {
			if _, err := heat.PartFor("x", p, 20, 20); err != nil {
				t.Errorf("%s: %v", f.ID, err)
			}
		}
	}
}

// A stripe is minus on an electrolytic and plus on a tantalum: common practice, no source.
func TestWayRound(t *testing.T) {
	for kind, want := range map[string]string{"electrolytic capacitor": "minus", "tantalum capacitor": "plus", "rectifier diode": "cathode", "controller IC": "pin 1", "flat cable": "pin 1"} {
		if r, ok := rework.WayRound(kind); !ok || !strings.Contains(r.Mark, want) {
			t.Errorf("%s: %+v, want %q", kind, r, want)
		}
	}
	if r, ok := rework.WayRoundOf("capacitor", "4700 µF 63 V", "Electrolytics, 4700 µF"); !ok || r.Sort != "electrolytic" {
		t.Errorf("a capacitor bought as electrolytic: %+v", r)
	}
	if r, ok := rework.WayRoundOf("film capacitor", "100 nF", "film 100 nF"); ok {
		t.Errorf("a film capacitor: %+v", r)
	}
	for _, kind := range []string{"film capacitor", "fuse", "power resistor", "", "gear", "DC barrel socket", "USB socket"} {
		if _, ok := rework.WayRound(kind); ok {
			t.Errorf("%q is said to be polarised", kind)
		}
	}
}

// A pack that clips in has a key; the same soldered in, and an electrolytic in any case, has not.
func TestKeyed(t *testing.T) {
	for _, c := range []struct {
		sort string
		with []string
		want bool
	}{
		{"cell", nil, true}, {"IC", []string{"screwdrivers"}, true},
		{"cell", []string{"soldering iron"}, false}, {"IC", []string{"hot air"}, false},
		{"electrolytic", nil, false}, {"connector", nil, false},
	} {
		if got := rework.Keyed(c.sort, c.with); got != c.want {
			t.Errorf("%s with %v: %v", c.sort, c.with, got)
		}
	}
}

func TestDirections(t *testing.T) {
	for _, d := range rework.Directions() {
		m := d.Mirrored()
		if !m.Known() || m.Mirrored() != d {
			t.Errorf("%s mirrored is %s", d, m)
		}
		if got := math.Mod(d.Turned(90).Angle()-d.Angle()+360, 360); got != 90 || d.Turned(90).Turned(-90) != d || d.Turned(360) != d {
			t.Errorf("%s turned by 90° is %s", d, d.Turned(90))
		}
		if got := math.Mod(d.Angle()+m.Angle(), 360); got != 0 {
			t.Errorf("%s and %s are not mirror images: %g°", d, m, got)
		}
	}
}

func TestDesignators(t *testing.T) {
	for in, want := range map[string][]string{
		"C1, C2": {"C1", "C2"}, "D1…D4": {"D1", "D2", "D3", "D4"}, "D1-D3": {"D1", "D2", "D3"}, "Q7 and Q8": {"Q7", "Q8"}, "U3": {"U3"}, "": nil,
		"D1…D9999": {"D1…D9999"}, "reservoir": {"reservoir"}, "R5…R2": {"R5…R2"}, "C1/C2": {"C1", "C2"}, "TR1…3": {"TR1", "TR2", "TR3"},
	} {
		if diff := cmp.Diff(want, rework.Designators(in)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", in, diff)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		if n := len(rework.Designators(rapid.StringN(0, 40, 80).Draw(t, "mark"))); n > 41*64 {
			t.Fatalf("%d parts", n)
		}
	})
}

// Hot resistance and short-circuit current of lamps for 230 V and 120 V: U²/P, P/U.
func TestLamp(t *testing.T) {
	for _, x := range []struct{ w, u, hot, short float64 }{
		{25, 230, 2116, 0.11}, {40, 230, 1322, 0.17}, {60, 230, 882, 0.26}, {100, 230, 529, 0.43}, {100, 120, 144, 0.83},
	} {
		l, err := rework.NewLamp(x.w, x.u)
		if err != nil || math.Abs(l.Hot-x.hot) > 0.6 || math.Abs(l.Short-x.short) > 0.006 || l.Cold < l.Hot/15 || l.Cold > l.Hot/10 {
			t.Errorf("%g W at %g V: %+v, %v", x.w, x.u, l, err)
		}
	}
}

// Lamp of about the device's own power up to two or three times; small supplies 40 to
// 60 W, amplifiers 100 W and more: common practice, no source.
func TestFirstPower(t *testing.T) {
	for _, x := range []struct {
		d    rework.Device
		lamp float64
	}{
		{rework.Device{Feed: rework.Switched, Watts: 20}, 40}, {rework.Device{Feed: rework.Linear, Watts: 80}, 100},
		{rework.Device{Feed: rework.Linear, Watts: 8}, 25}, {rework.Device{Feed: rework.PFC, Watts: 150, Volts: 120}, 150},
	} {
		p, err := rework.FirstPower(x.d)
		if err != nil || len(p.Lamps) == 0 || p.Lamps[0].Watts != x.lamp || len(p.Looks) != 4 || p.Limit != 0 {
			t.Errorf("%+v: %+v, %v", x.d, p, err)
		}
	}
	p, err := rework.FirstPower(rework.Device{Feed: rework.Direct, Watts: 24, Volts: 12})
	if err != nil || len(p.Lamps) != 0 || math.Abs(p.Limit-0.2) > 1e-9 || math.Abs(p.Raise-2.4) > 1e-9 {
		t.Errorf("24 W at 12 V: %+v, %v", p, err)
	}
	// A 2200 W kettle at 230 V: 230²/2200 = 24 Ω (Ohm's law), and a lamp shows nothing.
	p, err = rework.FirstPower(rework.Device{Feed: rework.Heater, Watts: 2200})
	if said := strings.Join(append(p.Not, p.Measure...), " "); err != nil || len(p.Lamps)+len(p.Looks) != 0 || math.Abs(p.Ohms-24.05) > 0.01 ||
		!strings.Contains(said, "No series lamp") || !strings.Contains(said, "2200 W is 24 Ω") || !strings.Contains(said, "insulation") || !strings.Contains(said, "residual-current") || strings.Contains(said, "reservoir") {
		t.Errorf("a heater: %+v, %v", p, err)
	}
	p, err = rework.FirstPower(rework.Device{Feed: rework.Motor, Watts: 900})
	if said := strings.Join(append(p.Not, p.Measure...), " "); err != nil || len(p.Lamps)+len(p.Looks) != 0 || p.Ohms != 0 || !strings.Contains(said, "No series lamp") || strings.Contains(said, "reservoir") {
		t.Errorf("a vacuum cleaner: %+v, %v", p, err)
	}
	// A tube of 36 W: no lamp before it, and nothing read inside. Common practice, no source.
	p, err = rework.FirstPower(rework.Device{Feed: rework.Ballast, Watts: 36})
	if said := strings.Join(append(append(p.Not, p.Measure...), p.Stand...), " "); err != nil || len(p.Lamps)+len(p.Looks) != 0 || !strings.Contains(said, "bridge the ballast") || strings.Contains(said, "reservoir") || strings.Contains(said, "shaft") {
		t.Errorf("a fluorescent lamp: %+v, %v", p, err)
	}
	p, err = rework.FirstPower(rework.Device{Feed: rework.Switched, Watts: 900})
	if said := strings.Join(append(p.Not, p.Measure...), " "); err != nil || len(p.Lamps)+len(p.Looks) != 0 || strings.Contains(said, "parallel") || !strings.Contains(said, "protected") && !strings.Contains(said, "residual-current") {
		t.Errorf("a large switched supply: %+v, %v", p, err)
	}
	for _, d := range []rework.Device{{}, {Feed: rework.Linear}, {Feed: "hope", Watts: 5}, {Feed: rework.Linear, Watts: math.NaN()}, {Feed: rework.Direct, Watts: 5, Volts: 230}, {Feed: rework.Linear, Watts: 5, Volts: 12}} {
		if _, err := rework.FirstPower(d); err == nil {
			t.Errorf("%+v was taken", d)
		}
	}
}

func TestSourcesAreMarked(t *testing.T) {
	s, ok := rework.StepByID("qfn", "dry")
	if !ok || s.Source.Mark != part.Memory || !strings.Contains(s.Source.Text, "J-STD-033") {
		t.Errorf("%+v", s)
	}
	s, _ = rework.StepByID("chip", "braid")
	if s.Source.Mark != part.Practice {
		t.Errorf("%+v", s)
	}
}
