package fit_test

import (
	"math"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/fit"
)

// Where people or fire depend on a figure there is no near miss and no benefit of the
// doubt, whatever slack the rule has; where they do not, both are told.
func TestSafetyKnowsNoNearMiss(t *testing.T) {
	for name, c := range map[string]struct {
		safety, optional bool
		figures          figs
		want             fit.Verdict
	}{
		"a little short":             {false, false, figs{fit.VoltsAC: 260}, fit.NearMiss},
		"far too short":              {false, false, figs{fit.VoltsAC: 100}, fit.Refused},
		"enough":                     {false, false, figs{fit.VoltsAC: 275}, fit.Accepted},
		"not said":                   {false, false, nil, fit.Unproven},
		"not said, no matter":        {false, true, nil, fit.Accepted},
		"safety, a little short":     {true, false, figs{fit.VoltsAC: 260}, fit.Refused},
		"safety, enough":             {true, false, figs{fit.VoltsAC: 275}, fit.Accepted},
		"safety, not said":           {true, false, nil, fit.Refused},
		"safety, not said, optional": {true, true, nil, fit.Refused},
	} {
		req := fit.Requirement{Title: name, Inequalities: []fit.Inequality{{Param: fit.VoltsAC, Op: fit.AtLeast, Low: 275, Slack: 0.2, Safety: c.safety, Optional: c.optional, Risk: "it may fail"}}}
		line := fit.Candidate{Name: name, Kind: part.Suppression, Figures: c.figures, Quantity: 1}
		if got := req.Judge(line); got.Verdict != c.want {
			t.Errorf("%s: %v, want %v", name, got.Verdict, c.want)
		}
		s, err := fit.NewShelf([]fit.Candidate{line})
		if err != nil {
			t.Fatal(err)
		}
		res, err := s.Search(t.Context(), req, fit.Options{ShowRefused: true})
		if err != nil || len(res.Judgements) != 1 || res.Judgements[0].Verdict != c.want {
			t.Errorf("%s: searching gives %+v, %v; want %v", name, res.Judgements, err, c.want)
		}
		if n := [...]int{res.Accepted, res.Unproven, res.NearMiss, res.Refused}; n[c.want] != 1 {
			t.Errorf("%s: counted as %v", name, n)
		}
	}
}

// What is rated many times over is no worse a part but the wrong end of the drawer: over three times,
// each further factor of e counts as much as a tenth of one in the main value. Not to know the main
// value counts as much as half or double of it.
func TestScore(t *testing.T) {
	req := fit.Requirement{Title: "1000 µF, 25 V", Main: fit.Capacitance, Wanted: 1000e-6, Inequalities: []fit.Inequality{{Param: fit.VoltsDC, Op: fit.AtLeast, Low: 25, Slack: 0.5}, {Param: fit.Capacitance, Op: fit.AtLeast, Low: 1e-6, Optional: true}}}
	of := func(farad, volts float64) float64 {
		f := figs{fit.VoltsDC: volts}
		if farad > 0 {
			f[fit.Capacitance] = farad
		}
		return req.Judge(fit.Candidate{Figures: f, Quantity: 1}).Score
	}
	bulk := 0.1 * math.Log(1000.0/3) // that the capacitance is a thousand times its least
	for name, c := range map[string][2]float64{
		"as wanted":         {of(1000e-6, 25), bulk},
		"three times over":  {of(1000e-6, 75), bulk},
		"thirty times over": {of(1000e-6, 750), bulk + 0.1*math.Log(10)},
		"double":            {of(2000e-6, 25), 0.1*math.Log(2000.0/3) + math.Ln2},
		"a near miss":       {of(1000e-6, 20), bulk + 0.2/0.5},
		"not known":         {of(0, 25), 0.7},
	} {
		if math.Abs(c[0]-c[1]) > 1e-9 {
			t.Errorf("%s: %g, want %g", name, c[0], c[1])
		}
	}
}
