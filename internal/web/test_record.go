package web

import (
	"net/http"

	"fettler/internal/casework"
)

type testPage struct {
	Base
	V       *casework.View
	Path    string
	Action  string
	Card    *casework.Card
	Showed  []FieldForm // symptoms it showed before
	Others  []FieldForm
	Works   string // yes, no or not said
	Minutes string
	Open    bool
	Step    *casework.Step // with what can hurt; nil without a note
	Correct int
}

func newTestPage(b Base, v *casework.View) *testPage {
	path := casePath(v.Header.Case)
	p := &testPage{Base: b, V: v, Path: path, Action: path + "/test", Card: cardOf(v, "test", ""), Step: &casework.Step{Around: v.Header.Hazards}}
	if p.Card != nil {
		p.Step = &p.Card.Step
	}
	showed := map[string]bool{}
	for _, k := range v.Known {
		if !k.Denied {
			showed[k.Finding] = true
		}
	}
	for _, f := range v.Symptoms {
		if showed[f.Finding] {
			p.Showed = append(p.Showed, newField(f))
		} else {
			p.Others = append(p.Others, newField(f))
		}
	}
	return p
}

// testForm asks what a trial of the whole device showed.
func (s *Server) testForm(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "test", newTestPage(s.base(r, pageTitles["test"], ""), v))
}

// testRecord records a trial.
func (s *Server) testRecord(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := newTestPage(s.base(r, pageTitles["test"], ""), v)
	in, err := p.enter(r)
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.RecordTest(r.Context(), v.Header.Case, in); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "test", &p.Base, p)
}

func (p *testPage) enter(r *http.Request) (casework.Testing, error) {
	p.Works, p.Minutes, p.Open = r.PostFormValue("works"), r.PostFormValue("minutes"), r.PostFormValue("open") == "yes"
	in := casework.Testing{By: by(r), Works: p.Works == "yes", Open: p.Open}
	in.Answers = append(enterAll(r, p.Showed), enterAll(r, p.Others)...)
	if p.Works != "yes" && p.Works != "no" {
		return in, refusal("it is not said whether it works", "choose “It works” or “Something is still wrong”")
	}
	if in.Works {
		in.Answers = nil // what was ticked under "still wrong" before minds changed
	}
	var err error
	in.Minutes, err = number(r, "minutes", "the minutes")
	return in, err
}
