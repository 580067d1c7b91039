package heat_test

import (
	"strings"
	"testing"

	"fettler/internal/heat"
)

func codes(a *heat.Advice) string {
	var s []string
	for _, r := range a.Reasons {
		s = append(s, r.Code)
	}
	return strings.Join(s, ",")
}

func advise(t *testing.T, j heat.Job, s heat.AdviceSettings) *heat.Advice {
	t.Helper()
	s.Run.Cell = 2
	a, err := heat.Advise(t.Context(), j, s)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(a.Verdict, "—", a.Summary)
	for _, r := range a.Reasons {
		t.Log("  ", r.Code, "—", r.Text)
	}
	return a
}

// A connector close by: it is shielded, and the window holds the nominal time.
func TestAdviseShields(t *testing.T) {
	j := speaker(t, "SOIC-8")
	a := advise(t, j, heat.AdviceSettings{Temps: []float64{350, 400}})
	if a.Verdict == heat.NotThisWay || a.Best.Preheated {
		t.Errorf("verdict %q, preheated %v", a.Verdict, a.Best.Preheated)
	}
	if got := strings.Join(a.Best.Shield, ","); !strings.Contains(got, "J1") {
		t.Errorf("shield %q, want J1", got)
	}
	w := a.Window
	if !(w.Earliest <= w.Early && w.Early < w.Nominal && (w.Late < 0 || w.Nominal < w.Late)) {
		t.Errorf("window %+v", w)
	}
	for _, want := range []string{"°C hot air, 5 mm nozzle", "U1", "shield J1"} {
		if !strings.Contains(a.Summary, want) {
			t.Errorf("summary %q lacks %q", a.Summary, want)
		}
	}
	for _, want := range []string{"shield", "body", "preheat", "unknowns"} {
		if !strings.Contains(codes(a), want) {
			t.Errorf("reasons %s lack %q", codes(a), want)
		}
	}
	if len(a.Cautions) < 3 {
		t.Errorf("cautions %q", a.Cautions)
	}
}

// Too little air on a plane: no, with the plateau and what else there is.
func TestAdviseNever(t *testing.T) {
	j := speaker(t, "D2PAK")
	j.Neighbours = nil
	j.Board = heat.Board{Width: 100, Height: 80, Thickness: 1.6, Layers: 6, CopperShare: 0.9, CopperThickness: 70, PlaneUnder: true}
	j.Part.X, j.Part.Y = 50, 40
	j.Tool.HotAir.Nozzle, j.Tool.HotAir.Flow = 4, 8
	a := advise(t, j, heat.AdviceSettings{NoPreheat: true, Temps: []float64{}})
	if a.Verdict != heat.NotThisWay || !strings.Contains(a.Summary, "on that plane") || !strings.Contains(a.Summary, "never reach the liquidus") {
		t.Errorf("%q: %s", a.Verdict, a.Summary)
	}
	if !strings.Contains(codes(a), "alloy") || !strings.Contains(codes(a), "preheat") {
		t.Errorf("reasons %s", codes(a))
	}
}

// Where air alone does not do, a preheater is proposed and marked as such.
func TestAdvisePreheats(t *testing.T) {
	j := speaker(t, "DPAK")
	j.Neighbours = nil
	j.Board.Layers, j.Board.PlaneUnder, j.Board.CopperShare, j.Board.Thickness = 4, true, 0.8, 1.6
	j.Tool.HotAir.Flow = 12
	a := advise(t, j, heat.AdviceSettings{Temps: []float64{}})
	bare, warm := -1.0, -1.0
	for _, o := range a.Options {
		if o.Proposed {
			warm = o.Result.Coldest
		} else {
			bare = o.Result.Coldest
		}
	}
	if !a.Best.Proposed || warm <= bare || !strings.Contains(a.Summary, "needs a preheater") {
		t.Errorf("coldest %.0f °C bare, %.0f °C preheated; best %+v; %s", bare, warm, a.Best.Tool, a.Summary)
	}
}

// A battery is named whatever the figures say.
func TestAdviseBattery(t *testing.T) {
	j := speaker(t, "SOIC-8")
	j.Neighbours = []heat.Neighbour{{Name: "BT1", Kind: "battery", Distance: 3, Length: 8, Width: 8, Height: 4}}
	a := advise(t, j, heat.AdviceSettings{Temps: []float64{}, NoPreheat: true})
	if !strings.Contains(codes(a), "battery") || !strings.Contains(strings.Join(a.Cautions, " "), "lithium") {
		t.Errorf("reasons %s, cautions %q", codes(a), a.Cautions)
	}
}

func TestAdviseBadInput(t *testing.T) {
	j := speaker(t, "SOIC-8")
	for _, s := range []heat.AdviceSettings{{Temps: []float64{4000}}, {Temps: make([]float64, 13)}} {
		if _, err := heat.Advise(t.Context(), j, s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
	j.Tool = heat.Tool{}
	if _, err := heat.Advise(t.Context(), j, heat.AdviceSettings{}); err == nil || !strings.Contains(err.Error(), "neither hot air nor iron") {
		t.Errorf("got %v", err)
	}
}
