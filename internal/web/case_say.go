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
