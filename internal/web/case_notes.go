package web

import (
	"net/http"

	"fettler/internal/casework"
)

// caseOpenUp records how far the device is open.
func (s *Server) caseOpenUp(w http.ResponseWriter, r *http.Request) error {
	rec, err := s.bench.OpenUp(r.Context(), r.PathValue("case"), casework.OpeningUp{By: by(r), Access: r.PostFormValue("access")})
	if err != nil {
		return err
	}
	return written(w, r, rec)
}

// caseRemark records a remark.
func (s *Server) caseRemark(w http.ResponseWriter, r *http.Request) error {
	text := r.PostFormValue("text")
	rec, err := s.bench.Remark(r.Context(), r.PathValue("case"), casework.Remarking{By: by(r), Text: text, Private: r.PostFormValue("private") == "yes"})
	if err != nil {
		p, perr := s.casePage(r)
		if perr != nil {
			return err
		}
		p.Remark = text
		return s.again(w, err, "case", &p.Base, p)
	}
	return written(w, r, rec)
}

// caseUndo makes an event no longer count.
func (s *Server) caseUndo(w http.ResponseWriter, r *http.Request) error {
	n, err := eventNumber(r.PostFormValue("event"))
	if err != nil {
		return err
	}
	rec, err := s.bench.Undo(r.Context(), r.PathValue("case"), n, by(r))
	if err != nil {
		return err
	}
	return written(w, r, rec)
}

// caseReopen takes a closed case up again.
func (s *Server) caseReopen(w http.ResponseWriter, r *http.Request) error {
	rec, err := s.bench.Reopen(r.Context(), r.PathValue("case"), casework.Reopening{By: by(r), Why: r.PostFormValue("why")})
	if err != nil {
		return err
	}
	return written(w, r, rec)
}
