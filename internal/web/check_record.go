package web

import (
	"fmt"
	"net/http"
	"slices"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
)

type checkPage struct {
	Base
	V       *casework.View
	Path    string
	Action  string
	Step    casework.Step
	Card    *casework.Card // what it would tell, if it is ranked
	Fields  []FieldForm
	Minutes string
	Repairs []casework.Entry
	Before  int
	Correct int
}

// stepOf finds a check or repair of the note.
func stepOf(steps []casework.Step, id, what string) (casework.Step, error) {
	i := slices.IndexFunc(steps, func(x casework.Step) bool { return x.ID == id })
	if i < 0 {
		return casework.Step{}, missing(fmt.Sprintf("this device's note has no %s %q", what, clip(id)), "take one of those the case lists")
	}
	return steps[i], nil
}

// cardOf finds the ranked card of a move, nil if there is none.
func cardOf(v *casework.View, kind, id string) *casework.Card {
	for i := range v.Ranking {
		if c := &v.Ranking[i]; c.Kind == kind && c.ID == id {
			return c
		}
	}
	return nil
}

func newCheckPage(b Base, v *casework.View, id string) (*checkPage, error) {
	step, err := stepOf(v.Checks, id, "check")
	if err != nil {
		return nil, err
	}
	b.Title = step.Title
	p := &checkPage{Base: b, V: v, Path: casePath(v.Header.Case), Action: casePath(v.Header.Case, "check", id), Step: step,
		Card: cardOf(v, "check", id), Fields: newFields(step.Fields), Repairs: repairsDone(v)}
	return p, nil
}

// OfElectrolytics says that the check measures electrolytic capacitors with an ESR meter.
func (p *checkPage) OfElectrolytics() bool {
	return partdesk.OfElectrolytics(p.Step.Title, p.Step.With)
}

// checkForm shows how a check is done and takes down what it told.
func (s *Server) checkForm(w http.ResponseWriter, r *http.Request) error {
	p, err := s.checkPage(r)
	if err != nil {
		return err
	}
	if n, err := eventNumber(r.FormValue("before")); err == nil {
		p.Before = n
	}
	return s.render(w, http.StatusOK, "check", p)
}

func (s *Server) checkPage(r *http.Request) (*checkPage, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return newCheckPage(s.base(r, "", ""), v, r.PathValue("check"))
}

// checkRecord records a check done.
func (s *Server) checkRecord(w http.ResponseWriter, r *http.Request) error {
	p, err := s.checkPage(r)
	if err != nil {
		return err
	}
	in, err := p.enter(r)
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.RecordCheck(r.Context(), p.V.Header.Case, in); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "check", &p.Base, p)
}

// enter takes what was sent into the page and makes a deed of it.
func (p *checkPage) enter(r *http.Request) (casework.Checking, error) {
	in := casework.Checking{By: by(r), Check: p.Step.ID, Answers: enterAll(r, p.Fields)}
	p.Minutes = r.PostFormValue("minutes")
	var err error
	if in.Minutes, err = number(r, "minutes", "the minutes"); err != nil {
		return in, err
	}
	p.Before, err = eventNumber(r.PostFormValue("before"))
	in.Before = p.Before
	return in, err
}
