package web

import (
	"net/http"

	"fettler/internal/casework"
)

type closePage struct {
	Base
	V        *casework.View
	Path     string
	Verdicts []VerdictChoice
	Suspects []ClosingSuspect
	Kg       string
	End      *casework.Ending // what closing would say; nil in the gallery
	Remark   string
	Barrier  string
}

// A VerdictChoice is one way to end, with what it means.
type VerdictChoice struct {
	Verdict casework.Verdict
	Means   string
	Chosen  bool
}

// A ClosingSuspect is a fault that may be named as the one.
type ClosingSuspect struct {
	casework.Suspect
	Chosen bool
}

var verdictMeans = map[casework.Verdict]string{
	casework.Fixed:        "It works and goes back into use.",
	casework.NotWorthIt:   "Going on would cost more than it is worth; it goes to a collection point.",
	casework.PassedOn:     "Somebody else takes it on as it is.",
	casework.KeptForParts: "It stays here as a donor.",
}

func newClosePage(b Base, v *casework.View, verdict casework.Verdict, was []string) *closePage {
	p := &closePage{Base: b, V: v, Path: casePath(v.Header.Case)}
	for _, x := range casework.Verdicts() {
		p.Verdicts = append(p.Verdicts, VerdictChoice{x, verdictMeans[x], x == verdict})
	}
	chosen := map[string]bool{}
	for _, w := range was {
		chosen[w] = true
	}
	for i, x := range v.Suspects {
		// what was there when it came is what counts, also if it has been repaired
		if i < 2*suspectsShown || x.Arrival >= 0.05 || chosen[x.Mode] {
			p.Suspects = append(p.Suspects, ClosingSuspect{x, chosen[x.Mode]})
		}
	}
	return p
}

// closeForm asks how the case ends.
func (s *Server) closeForm(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := newClosePage(s.base(r, pageTitles["close"], ""), v, casework.Verdict(r.FormValue("verdict")), nil)
	if p.End, err = s.bench.Ending(r.Context(), v.Header.Case); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "close", p)
}

// closeRecord ends a case.
func (s *Server) closeRecord(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	in := casework.Closing{By: by(r), Verdict: casework.Verdict(r.PostFormValue("verdict")), Was: formList(r, "was"), Remark: r.PostFormValue("remark"), Barrier: r.PostFormValue("barrier")}
	p := newClosePage(s.base(r, pageTitles["close"], ""), v, in.Verdict, in.Was)
	p.Kg, p.Remark, p.Barrier = r.PostFormValue("kg"), in.Remark, in.Barrier
	if p.End, err = s.bench.Ending(r.Context(), v.Header.Case); err != nil {
		return err
	}
	if in.Kg, err = number(r, "kg", "the mass"); err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.Close(r.Context(), v.Header.Case, in); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "close", &p.Base, p)
}
