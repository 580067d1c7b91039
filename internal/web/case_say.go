package web

import (
	"fmt"
	"net/http"

	"fettler/internal/casework"
)

// caseSay takes free text and shows what it was read as.
func (s *Server) caseSay(w http.ResponseWriter, r *http.Request) error {
	text := r.PostFormValue("text")
	h, err := s.bench.Say(r.Context(), r.PathValue("case"), casework.Saying{By: by(r), Text: text})
	if err != nil {
		p, perr := s.casePage(r)
		if perr != nil {
			return err
		}
		p.Say = text
		return s.again(w, err, "case", &p.Base, p)
	}
	return goTo(w, r, fmt.Sprintf("%s?heard=%d#said", casePath(h.Case), h.Seq))
}

// caseUnsay takes away one thing that a text was read as.
func (s *Server) caseUnsay(w http.ResponseWriter, r *http.Request) error {
	n, err := eventNumber(r.PostFormValue("heard"))
	if err != nil {
		return err
	}
	rec, err := s.bench.Unsay(r.Context(), r.PathValue("case"), n, r.PostFormValue("finding"), by(r))
	if err != nil {
		return err
	}
	return goTo(w, r, fmt.Sprintf("%s?heard=%d&done=%d#said", casePath(rec.Case), n, rec.Seq))
}
