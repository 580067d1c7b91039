package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
)

// findRoutes are the pages on which cases are found again.
func (s *Server) findRoutes() []route {
	return []route{
		{"GET /find", s.findShow},
	}
}

type findPage struct {
	Base
	Style string
	Text  string
	Asked bool
	Hits  []casework.Hit
}

// findShow finds cases by words.
func (s *Server) findShow(w http.ResponseWriter, r *http.Request) error {
	p := &findPage{Base: s.base(r, "Find a case", "find"), Style: s.static.path("proof.css"), Text: strings.TrimSpace(r.FormValue("q"))}
	if p.Text == "" {
		return s.render(w, http.StatusOK, "find", p)
	}
	p.Asked = true
	var err error
	if p.Hits, err = s.bench.Search(r.Context(), p.Text); err != nil {
		return s.again(w, err, "find", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "find", p)
}
