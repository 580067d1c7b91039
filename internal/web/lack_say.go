package web

import "net/http"

// lackSay takes down that something the next move needs is not here.
func (s *Server) lackSay(w http.ResponseWriter, r *http.Request) error {
	rec, err := s.bench.Lack(r.Context(), r.PathValue("case"), r.PostFormValue("tool"), by(r))
	if err != nil {
		return err
	}
	return written(w, r, rec)
}
