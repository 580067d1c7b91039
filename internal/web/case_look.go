package web

import (
	"fmt"
	"net/http"

	"fettler/internal/casework"
)

type lookPage struct {
	Base
	V       *casework.View
	Path    string
	Action  string
	Fields  []FieldForm
	Repairs []casework.Entry // repairs before which it may have held
	Before  int
	Correct int // event put right, 0 for a new one
}

func newLookPage(b Base, v *casework.View) *lookPage {
	path := casePath(v.Header.Case)
	return &lookPage{Base: b, V: v, Path: path, Action: path + "/look", Fields: newFields(v.Symptoms), Repairs: repairsDone(v)}
}

// repairsDone are the repairs that count, latest first.
func repairsDone(v *casework.View) []casework.Entry {
	var out []casework.Entry
	for i := len(v.Timeline) - 1; i >= 0; i-- {
		if e := v.Timeline[i]; e.Kind == casework.KindRepaired && !e.Void {
			out = append(out, e)
		}
	}
	return out
}

// caseLookForm lists every symptom of the device.
func (s *Server) caseLookForm(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "look", newLookPage(s.base(r, pageTitles["look"], ""), v))
}

// caseLook records symptoms: from that list, or from a single question.
func (s *Server) caseLook(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := newLookPage(s.base(r, pageTitles["look"], ""), v)
	answers := enterAll(r, p.Fields)
	p.Before, err = eventNumber(r.PostFormValue("before"))
	if err == nil {
		var rec casework.Receipt
		rec, err = s.bench.Notice(r.Context(), v.Header.Case, casework.Noticing{By: by(r), Answers: answers, Before: p.Before})
		if err == nil {
			return s.afterLook(w, r, rec)
		}
	}
	return s.again(w, err, "look", &p.Base, p)
}

// afterLook goes on to the next thing to be asked back, if this answered one.
func (s *Server) afterLook(w http.ResponseWriter, r *http.Request, rec casework.Receipt) error {
	if n, err := eventNumber(r.PostFormValue("heard")); err == nil && n > 0 {
		return goTo(w, r, fmt.Sprintf("%s?heard=%d&done=%d#said", casePath(rec.Case), n, rec.Seq))
	}
	return written(w, r, rec)
}
