package web

import (
	"net/http"

	"fettler/internal/note"
)

type helpPage struct {
	Base
	Hazards []note.HazardKind
	Version string
}

// help says how the bench is worked and what can hurt.
func (s *Server) help(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "help", s.helpPage(r))
}

func (s *Server) helpPage(r *http.Request) *helpPage {
	return &helpPage{Base: s.base(r, pageTitles["help"], "help"), Hazards: note.HazardKinds(), Version: s.o.Version}
}
