package fit_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/marking"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

type (
	figs = map[fit.Param]float64
	wrds = map[fit.Param]string
)

func oldElectrolytic() fit.Old {
	return fit.Old{
		Kind: part.Electrolytic,
		Figures: figs{fit.Capacitance: 1000e-6, fit.VoltsDC: 25, fit.TempMax: 105, fit.ESR: 0.038, fit.Ripple: 1.5, fit.Endurance: 4000,
			fit.Diameter: 10e-3, fit.Height: 20e-3, fit.Pitch: 5e-3},
		Words: wrds{fit.Series: "low impedance"}, Duty: fit.SwitchMode,
	}
}

func can(name string, uF, v, t, esr, ripple float64, series string, n int) fit.Candidate {
	return fit.Candidate{Name: name, Kind: part.Electrolytic, Quantity: n, Place: "drawer 3",
		Figures: figs{fit.Capacitance: uF * 1e-6, fit.VoltsDC: v, fit.TempMax: t, fit.ESR: esr, fit.Ripple: ripple, fit.Endurance: 5000,
			fit.Diameter: 10e-3, fit.Height: 20e-3, fit.Pitch: 5e-3},
		Words: wrds{fit.Series: series}}
}

func ExampleFor() {
	req, err := fit.For(fit.Old{
		Kind:    part.Electrolytic,
		Figures: map[fit.Param]float64{fit.Capacitance: 1000e-6, fit.VoltsDC: 25, fit.TempMax: 105},
		Words:   map[fit.Param]string{fit.Series: "low impedance"},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	j := req.Judge(fit.Candidate{Name: "1200 µF from the drawer", Kind: part.Electrolytic, Quantity: 2,
		Figures: map[fit.Param]float64{fit.Capacitance: 1200e-6, fit.VoltsDC: 16, fit.TempMax: 105},
		Words:   map[fit.Param]string{fit.Series: "low impedance"}})
	fmt.Println(j.Verdict)
	for _, c := range j.Checks {
		fmt.Println(" -", c.Words)
	}
	// Output:
	// refused
	//  - capacitance 1200 µF: within 800 µF to 1500 µF
	//  - rated voltage DC 16 V: misses the least, 25 V, by 36 %; above its rating it leaks, heats and vents
	//  - rated temperature 105 °C: at least 105 °C
	//  - series low impedance: as wanted
}

// Which of these would do is common practice, no source.
func TestElectrolytic(t *testing.T) {
	req, err := fit.For(oldElectrolytic())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		c    fit.Candidate
		want fit.Verdict
		word string // in the decisive check
	}{
		{can("the same", 1000, 25, 105, 0.038, 1.5, "low impedance", 3), fit.Accepted, "as wanted"},
		{can("more volts", 1000, 35, 105, 0.030, 1.8, "low impedance", 3), fit.Accepted, "40 % to spare"},
		{can("fewer volts", 1000, 16, 105, 0.030, 1.8, "low impedance", 3), fit.Refused, "misses the least, 25 V,"},
		{can("general purpose", 1000, 25, 105, 0.038, 1.5, "general purpose", 3), fit.Refused, "several times the ESR"},
		{can("85 °C", 1000, 25, 85, 0.030, 1.8, "low impedance", 3), fit.NearMiss, "by 19 %"},
		{can("a little ESR", 1000, 25, 105, 0.045, 1.5, "low impedance", 3), fit.NearMiss, "ESR at 100 kHz 45 mΩ"},
		{can("much ESR", 1000, 25, 105, 0.38, 1.5, "low impedance", 3), fit.Refused, "ESR"},
		{can("too small", 470, 25, 105, 0.030, 1.5, "low impedance", 3), fit.Refused, "capacitance 470 µF"},
	} {
		j := req.Judge(c.c)
		all := ""
		for _, ch := range j.Checks {
			all += ch.Words + "\n"
		}
		if j.Verdict != c.want || !strings.Contains(all, c.word) {
			t.Errorf("%s: %s, want %s with %q:\n%s", c.c.Name, j.Verdict, c.want, c.word, all)
		}
		if j.Verdict == fit.NearMiss && len(j.Risks) == 0 {
			t.Errorf("%s: a near miss without its risk", c.c.Name)
		}
	}
	unknown := can("unmarked", 1000, 25, 105, 0, 0, "low impedance", 1)
	delete(unknown.Figures, fit.ESR)
	delete(unknown.Figures, fit.Ripple)
	if j := req.Judge(unknown); j.Verdict != fit.Unproven || len(j.Risks) != 2 {
		t.Errorf("unknown ESR: %s, %v", j.Verdict, j.Risks)
	}
	noVolts := can("no volts", 1000, 25, 105, 0.03, 1.5, "low impedance", 1)
	delete(noVolts.Figures, fit.VoltsDC)
	if j := req.Judge(noVolts); j.Verdict != fit.Refused {
		t.Errorf("unknown voltage: %s", j.Verdict)
	}
}

// The working voltage, where known, replaces the old rating.
func TestWorkingVolts(t *testing.T) {
	old := oldElectrolytic()
	old.WorkingVolts = 12
	req, err := fit.For(old)
	if err != nil {
		t.Fatal(err)
	}
	if j := req.Judge(can("16 V", 1000, 16, 105, 0.03, 1.5, "low impedance", 1)); j.Verdict != fit.Accepted {
		t.Errorf("16 V on a 12 V rail: %s", j.Verdict)
	}
	if j := req.Judge(can("10 V", 1000, 10, 105, 0.03, 1.5, "low impedance", 1)); j.Verdict != fit.Refused {
		t.Errorf("10 V on a 12 V rail: %s", j.Verdict)
	}
}

// Safety parts are replaced like for like: nothing is an upgrade.
func TestLikeForLike(t *testing.T) {
	type c struct {
		name string
		old  fit.Old
		cand fit.Candidate
		want fit.Verdict
		word string
	}
	x2 := fit.Old{Kind: part.Suppression, Figures: figs{fit.Capacitance: 330e-9, fit.VoltsAC: 275}, Words: wrds{fit.Class: "X2"}}
	cap2 := func(class, approved string, c, v float64) fit.Candidate {
		return fit.Candidate{Kind: part.Suppression, Quantity: 1, Figures: figs{fit.Capacitance: c, fit.VoltsAC: v}, Words: wrds{fit.Class: class, fit.Approved: approved}}
	}
	fus := fit.Old{Kind: part.FusibleResistor, Figures: figs{fit.Resistance: 10, fit.Power: 1}}
	res := func(k part.Kind, r, p float64, flame string) fit.Candidate {
		return fit.Candidate{Kind: k, Quantity: 1, Figures: figs{fit.Resistance: r, fit.Power: p}, Words: wrds{fit.Flameproof: flame}}
	}
	fu := fit.Old{Kind: part.Fuse, Figures: figs{fit.Current: 3.15, fit.VoltsAC: 250, fit.Breaking: 1500}, Words: wrds{fit.Speed: "T"}}
	link := func(a, v, brk float64, speed string) fit.Candidate {
		return fit.Candidate{Kind: part.Fuse, Quantity: 1, Figures: figs{fit.Current: a, fit.VoltsAC: v, fit.Breaking: brk}, Words: wrds{fit.Speed: speed}}
	}
	tf := fit.Old{Kind: part.ThermalFuse, Figures: figs{fit.OpensAt: 152, fit.Current: 10, fit.VoltsAC: 250}}
	therm := func(t, a float64) fit.Candidate {
		return fit.Candidate{Kind: part.ThermalFuse, Quantity: 1, Figures: figs{fit.OpensAt: t, fit.Current: a, fit.VoltsAC: 250}}
	}
	for _, c := range []c{
		{"same X2", x2, cap2("X2", "yes", 330e-9, 275), fit.Accepted, "as wanted"},
		{"X2 for more volts", x2, cap2("X2", "yes", 330e-9, 310), fit.Accepted, ""},
		{"Y2 is no upgrade", x2, cap2("Y2", "yes", 330e-9, 275), fit.Refused, "neither a lower nor a supposedly higher"},
		{"X1 is no upgrade", x2, cap2("X1", "yes", 330e-9, 440), fit.Refused, "same class"},
		{"X3 is lower", x2, cap2("X3", "yes", 330e-9, 275), fit.Refused, "same class"},
		{"not approved", x2, cap2("X2", "", 330e-9, 275), fit.Refused, "safety depends"},
		{"film", x2, fit.Candidate{Kind: part.Film, Quantity: 1, Figures: figs{fit.Capacitance: 330e-9, fit.VoltsDC: 630, fit.VoltsAC: 275}}, fit.Refused, "same kind only"},
		{"twice the value", x2, cap2("X2", "yes", 680e-9, 275), fit.Refused, "leakage"},
		{"250 V", x2, cap2("X2", "yes", 330e-9, 250), fit.Refused, "mains"},
		{"same fusible", fus, res(part.FusibleResistor, 10, 1, "yes"), fit.Accepted, ""},
		{"more watts", fus, res(part.FusibleResistor, 10, 2, "yes"), fit.Refused, "opens too late"},
		{"ordinary", fus, res(part.Resistor, 10, 1, "yes"), fit.Refused, "same kind only"},
		{"same fuse", fu, link(3.15, 250, 1500, "T"), fit.Accepted, ""},
		{"bigger fuse", fu, link(4, 250, 1500, "T"), fit.Refused, "neither more"},
		{"smaller fuse", fu, link(2.5, 250, 1500, "T"), fit.Refused, "neither more"},
		{"quick fuse", fu, link(3.15, 250, 1500, "F"), fit.Refused, "switch-on"},
		{"glass fuse", fu, link(3.15, 250, 35, "T"), fit.Refused, "burst"},
		{"same link", tf, therm(152, 10), fit.Accepted, ""},
		{"hotter link", tf, therm(157, 10), fit.Refused, "fire"},
		{"cooler link", tf, therm(150, 10), fit.Refused, "fire"},
	} {
		req, err := fit.For(c.old)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if !req.LikeForLike || len(req.Cautions) == 0 {
			t.Errorf("%s: not marked like for like", c.name)
		}
		j := req.Judge(c.cand)
		all := ""
		for _, ch := range j.Checks {
			all += ch.Words + "\n"
		}
		if j.Verdict != c.want || !strings.Contains(all, c.word) {
			t.Errorf("%s: %s, want %s with %q\n%s", c.name, j.Verdict, c.want, c.word, all)
		}
	}
}

func TestForRefuses(t *testing.T) {
	for want, old := range map[string]fit.Old{
		"kind of part":      {},
		"suppression class": {Kind: part.Suppression, Figures: figs{fit.Capacitance: 1e-7}},
		"fuse speed":        {Kind: part.Fuse, Figures: figs{fit.Current: 2}},
		"rated power":       {Kind: part.FusibleResistor, Figures: figs{fit.Resistance: 10}},
		"capacitance":       {Kind: part.Electrolytic},
		"not a number":      {Kind: part.Resistor, Figures: figs{fit.Resistance: math.NaN()}},
		"working voltage":   {Kind: part.Resistor, Figures: figs{fit.Resistance: 1}, WorkingVolts: math.Inf(1)},
	} {
		if _, err := fit.For(old); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want %q", old.Kind, err, want)
		}
	}
	_, err := fit.NewShelf([]fit.Candidate{{Name: "x", Figures: figs{fit.Power: math.NaN()}}})
	if err == nil || !strings.Contains(err.Error(), "line 1") {
		t.Errorf("NaN on the shelf: %v", err)
	}
	s, _ := fit.NewShelf(nil)
	_, err = s.Search(context.Background(), fit.Requirement{Inequalities: []fit.Inequality{{Param: fit.Package, Op: fit.AtLeast}}}, fit.Options{})
	if err == nil || !strings.Contains(err.Error(), "OneOf") {
		t.Errorf("unsound requirement: %v", err)
	}
}

// Every kind has a rule, and the old part itself always does instead of itself.
func TestItselfFits(t *testing.T) {
	full := figs{
		fit.Capacitance: 1e-6, fit.Resistance: 100, fit.Inductance: 1e-4, fit.Frequency: 16e6, fit.Tolerance: 0.05, fit.VoltsDC: 100, fit.VoltsAC: 250,
		fit.Current: 2, fit.Power: 1, fit.TempMax: 105, fit.ESR: 0.1, fit.Ripple: 1, fit.Endurance: 2000, fit.Diameter: 0.01, fit.Height: 0.02, fit.Pitch: 0.005,
		fit.Recovery: 50e-9, fit.ForwardVolts: 1, fit.OnResistance: 0.1, fit.GateCharge: 30e-9, fit.GateDrive: 10, fit.Gain: 100, fit.Transition: 1e8,
		fit.OutputVolts: 5, fit.DropOut: 2, fit.InputMax: 35, fit.CoilVolts: 12, fit.CoilOhms: 270, fit.ContactAmps: 10, fit.ContactVolts: 250,
		fit.Saturation: 3, fit.DCResistance: 0.05, fit.LoadCap: 18e-12, fit.OpensAt: 152, fit.Breaking: 1500, fit.ClampVolts: 470, fit.ZenerVolts: 12,
	}
	word := wrds{fit.Package: "A", fit.Pinout: "123", fit.Dielectric: "X7R", fit.Class: "X2", fit.Approved: "yes", fit.Speed: "T", fit.Channel: "N", fit.Polarity: "NPN",
		fit.Contacts: "1 changeover", fit.CoilKind: "DC", fit.Mode: "fundamental", fit.Series: "low impedance", fit.Flameproof: "yes", fit.Adjustable: "fixed", fit.BipolarType: "bipolar"}
	for _, k := range part.Kinds() {
		for _, d := range []fit.Duty{fit.AnyDuty, fit.Smoothing, fit.SwitchMode, fit.AfterLinear, fit.Timing, fit.Coupling} {
			req, err := fit.For(fit.Old{Kind: k, Figures: full, Words: word, Duty: d})
			if err != nil {
				t.Fatalf("%s: %v", k, err)
			}
			j := req.Judge(fit.Candidate{Kind: k, Figures: full, Words: word, Quantity: 1})
			if j.Verdict != fit.Accepted {
				for _, c := range j.Checks {
					if c.Verdict != fit.Accepted {
						t.Errorf("%s: %s", k, c.Words)
					}
				}
			}
			for _, q := range req.Inequalities {
				if q.Why == "" || q.Slack > 0 && q.Risk == "" {
					t.Errorf("%s: %s has no reason, or slack without its risk", k, q)
				}
			}
		}
	}
}

// The column search agrees with judging every line alone.
func TestSearchAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := shelf(rapid.IntRange(1, 300).Draw(t, "lines"), uint64(rapid.IntRange(0, 1000).Draw(t, "seed")))
		req, err := fit.For(oldElectrolytic())
		if err != nil {
			t.Fatal(err)
		}
		s, err := fit.NewShelf(lines)
		if err != nil {
			t.Fatal(err)
		}
		res, err := s.Search(context.Background(), req, fit.Options{Limit: len(lines)})
		if err != nil {
			t.Fatal(err)
		}
		var want []fit.Judgement
		for _, c := range lines {
			if j := req.Judge(c); j.Verdict != fit.Refused {
				want = append(want, j)
			}
		}
		slices.SortStableFunc(want, func(a, b fit.Judgement) int {
			if a.Verdict != b.Verdict {
				return int(a.Verdict - b.Verdict)
			}
			switch {
			case a.Score < b.Score:
				return -1
			case a.Score > b.Score:
				return 1
			}
			return 0
		})
		if len(want) != len(res.Judgements) || res.Refused != len(lines)-len(want) {
			t.Fatalf("%d found, %d judged to do", len(res.Judgements), len(want))
		}
		for i := range want {
			if want[i].Verdict != res.Judgements[i].Verdict || math.Abs(want[i].Score-res.Judgements[i].Score) > 1e-9 {
				t.Fatalf("place %d: %s %v, want %s %v", i, res.Judgements[i].Verdict, res.Judgements[i].Score, want[i].Verdict, want[i].Score)
			}
		}
	})
}

func TestFromMarking(t *testing.T) {
	rs, err := marking.Read("1000µF 25V 105°C", marking.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	old := fit.FromReading(rs[0])
	want := figs{fit.Capacitance: 1000e-6, fit.VoltsDC: 25, fit.TempMax: 105}
	if d := cmp.Diff(want, old.Figures); d != "" || old.Kind != part.Electrolytic {
		t.Errorf("%s (-want +got):\n%s", old.Kind, d)
	}
	for _, text := range []string{"T3.15AH250V", "X2 0.33µF 275V~", "TF 152°C 10A 250V", "10D471K", "yellow violet red gold", "16.000"} {
		rs, err := marking.Read(text, marking.Hint{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := fit.For(fit.FromReading(rs[0])); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// shelf is invented stock.
func shelf(n int, seed uint64) []fit.Candidate {
	rnd := rand.New(rand.NewPCG(seed, 1))
	series := []string{"low impedance", "general purpose", "polymer", ""}
	pick := func(vs ...float64) float64 { return vs[rnd.IntN(len(vs))] }
	out := make([]fit.Candidate, n)
	for i := range out {
		c := can(fmt.Sprint("line ", i), pick(470, 680, 820, 1000, 1200, 1500, 2200), pick(16, 25, 35, 50), pick(85, 105), pick(0.02, 0.038, 0.045, 0.2), pick(0.8, 1.4, 1.6, 3), series[rnd.IntN(4)], rnd.IntN(5))
		if rnd.IntN(4) == 0 {
			c.Kind = part.Film
		}
		for _, p := range []fit.Param{fit.ESR, fit.Ripple, fit.Endurance, fit.Diameter} {
			if rnd.IntN(5) == 0 {
				delete(c.Figures, p)
			}
		}
		out[i] = c
	}
	return out
}

func BenchmarkSearch100k(b *testing.B) {
	s, err := fit.NewShelf(shelf(100_000, 7))
	if err != nil {
		b.Fatal(err)
	}
	req, err := fit.For(oldElectrolytic())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Search(context.Background(), req, fit.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
