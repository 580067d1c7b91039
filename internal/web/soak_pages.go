package web

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"fettler/internal/casework"
)

// proofRoutes are the pages of proof.
func (s *Server) proofRoutes() []route {
	return []route{
		{"GET /case/{case}/soak", s.soakShow},
		{"POST /case/{case}/soak", s.soakRecord},
		{"POST /case/{case}/soak/plan", s.soakPlan},
		{"POST /case/{case}/soak/list", s.testList},
	}
}

type soakPage struct {
	Base
	Style, Script string
	Path          string
	V             *casework.SoakBoard
	Graph         *Graph
	Form          SoakForm
	Run           string // length of the present run, "1:05:07"
	RunSeconds    int
}

// A SoakForm is the form of how it showed, as it was filled in.
type SoakForm struct {
	Pattern                             string
	Every, Seen, Times, In, Shown, Of   string
	When, After, Sure, Still, EveryUnit string
	InUnit, Reckoned                    string
	Units                               []string
}

// timeUnits are minutes per unit.
var timeUnits = map[string]float64{"minutes": 1, "hours": 60, "days": 1440}

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return figure(float64(n))
}

// inUnit is minutes in the largest unit that keeps it plain.
func inUnit(min float64) (string, string) {
	switch {
	case min >= 2880 && math.Mod(min, 1440) == 0:
		return figure(min / 1440), "days"
	case min >= 120 && math.Mod(min, 60) == 0:
		return figure(min / 60), "hours"
	}
	return figure(min), "minutes"
}

func newSoakForm(v *casework.SoakBoard) SoakForm {
	u := v.Usual
	f := SoakForm{Pattern: u.Pattern, Seen: whole(u.Seen), Times: whole(u.Times), Shown: whole(u.Shown), Of: whole(u.Of), When: u.When, After: figure(u.AfterMin),
		Sure: figure(100 * u.Sure), Reckoned: percent(v.Still), Units: []string{"minutes", "hours", "days"}}
	if u.Sure == 0 {
		f.Sure = "95"
	}
	f.Every, f.EveryUnit = inUnit(u.EveryMin)
	f.In, f.InUnit = inUnit(u.InMin)
	if u.Still != nil {
		f.Still = figure(math.Round(1e4**u.Still) / 100)
	}
	return f
}

func (s *Server) soakPage(r *http.Request) (*soakPage, error) {
	v, err := s.bench.Soak(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return s.newSoakPage(s.base(r, "Is it fixed?", ""), v), nil
}

func (s *Server) newSoakPage(b Base, v *casework.SoakBoard) *soakPage {
	p := &soakPage{Base: b, V: v, Path: casePath(v.Case), Graph: soakPlot(v), Form: newSoakForm(v), Style: s.static.path("proof.css"), Script: s.static.path("proof.js")}
	if v.Tally != nil {
		p.RunSeconds = int(math.Round(v.Tally.RunMin * 60))
		p.Run = fmt.Sprintf("%d:%02d:%02d", p.RunSeconds/3600, p.RunSeconds/60%60, p.RunSeconds%60) // as static/proof.js writes it
	}
	return p
}

// soakShow shows how far the proof has got.
func (s *Server) soakShow(w http.ResponseWriter, r *http.Request) error {
	p, err := s.soakPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "soak", p)
}

// soakPlan takes down how the symptom showed.
func (s *Server) soakPlan(w http.ResponseWriter, r *http.Request) error {
	p, err := s.soakPage(r)
	if err != nil {
		return err
	}
	in, err := p.Form.enter(r)
	if err == nil {
		in.By = by(r)
		if _, err = s.bench.PlanSoak(r.Context(), p.V.Case, in); err == nil {
			return goTo(w, r, p.Path+"/soak")
		}
	}
	return s.again(w, err, "soak", &p.Base, p)
}

func (f *SoakForm) enter(r *http.Request) (casework.SoakPlanning, error) {
	var in casework.SoakPlanning
	text := func(key string) string { return strings.TrimSpace(r.PostFormValue(key)) }
	f.Pattern, f.When = text("pattern"), text("when")
	f.Every, f.Seen, f.Times, f.In, f.Shown, f.Of = text("every"), text("seen"), text("times"), text("in"), text("shown"), text("of")
	f.After, f.Sure, f.Still, f.EveryUnit, f.InUnit = text("after"), text("sure"), text("still"), text("every-unit"), text("in-unit")
	in.Pattern, in.When = f.Pattern, f.When
	var every, within, after, sure float64
	still, err := number(r, "still", "the chance that it is still there")
	if err != nil {
		return in, err
	}
	counts := map[string]*int{}
	switch f.Pattern {
	case "on average":
		counts["seen"] = &in.Seen
	case "in a time":
		counts["times"] = &in.Times
	case "of starts":
		counts["shown"], counts["of"] = &in.Shown, &in.Of
	}
	for _, x := range []struct {
		key, what string
		to        *float64
	}{{"every", "the time between showings", &every}, {"in", "the time they took", &within}, {"after", "the running time after which it shows", &after}, {"sure", "how sure you want to be", &sure}} {
		if *x.to, err = orZero(r, x.key, x.what); err != nil {
			return in, err
		}
	}
	for key, to := range counts {
		v, err := orZero(r, key, "a number of times")
		if err != nil {
			return in, err
		}
		if v < 0 || v > 1e6 || v != math.Trunc(v) {
			return in, refusal("a number of times cannot be "+clip(text(key)), "write a whole number")
		}
		*to = int(v)
	}
	if f.Pattern == "on average" {
		in.EveryMin = every * orOne(timeUnits[f.EveryUnit])
	}
	if f.Pattern == "in a time" {
		in.InMin = within * orOne(timeUnits[f.InUnit])
	}
	if f.When == "late" {
		in.AfterMin = after
	}
	in.Sure = sure / 100
	if still != nil {
		v := *still / 100
		in.Still = &v
	}
	return in, nil
}

func orOne(v float64) float64 {
	if v == 0 {
		return 1
	}
	return v
}

// soakRecord takes down what happened in the soak.
func (s *Server) soakRecord(w http.ResponseWriter, r *http.Request) error {
	p, err := s.soakPage(r)
	if err != nil {
		return err
	}
	in := casework.Soaking{By: by(r), What: r.PostFormValue("what"), Heat: r.PostFormValue("heat")}
	for _, f := range formList(r, "shows") {
		in.Answers = append(in.Answers, casework.Answer{Finding: f, Text: "yes"})
	}
	rec, err := s.bench.RecordSoak(r.Context(), p.V.Case, in)
	switch {
	case err != nil:
		return s.again(w, err, "soak", &p.Base, p)
	case in.What == "recurred":
		return written(w, r, rec)
	}
	return goTo(w, r, p.Path+"/soak")
}

// testList takes down points of the test list.
func (s *Server) testList(w http.ResponseWriter, r *http.Request) error {
	p, err := s.soakPage(r)
	if err != nil {
		return err
	}
	in := casework.GoingOver{By: by(r)}
	for _, t := range p.V.Tests {
		d := casework.PointDone{Point: t.ID, Result: r.PostFormValue("r." + t.ID), Words: strings.TrimSpace(r.PostFormValue("w." + t.ID))}
		if d.Result != t.Result || d.Words != t.Words && d.Result != "" {
			in.Points = append(in.Points, d)
		}
	}
	if len(in.Points) == 0 {
		return goTo(w, r, p.Path+"/soak#list")
	}
	if _, err := s.bench.GoOver(r.Context(), p.V.Case, in); err != nil {
		return s.again(w, err, "soak", &p.Base, p)
	}
	return goTo(w, r, p.Path+"/soak#list")
}
