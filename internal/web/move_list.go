package web

import (
	"net/http"

	"fettler/internal/casework"
)

type movesPage struct {
	Base
	V       *casework.View
	Path    string
	Can     []Line // best first
	Blocked []Line
	Done    []Line // checks and repairs not ranked: done already, or nothing to gain
}

// moveList shows everything that can be done, best first.
func (s *Server) moveList(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "moves", newMovesPage(s.base(r, pageTitles["moves"], ""), v))
}

func newMovesPage(b Base, v *casework.View) *movesPage {
	p := &movesPage{Base: b, V: v, Path: casePath(v.Header.Case)}
	ranked := map[[2]string]bool{}
	for _, c := range v.Ranking {
		ranked[[2]string{c.Kind, c.ID}] = true
		l := line(v, c)
		if c.Blocked != "" {
			p.Blocked = append(p.Blocked, l)
		} else {
			p.Can = append(p.Can, l)
		}
	}
	rest := func(kind string, steps []casework.Step) {
		for _, x := range steps {
			if !ranked[[2]string{kind, x.ID}] {
				p.Done = append(p.Done, line(v, casework.Card{Step: x, Kind: kind}))
			}
		}
	}
	rest("check", v.Checks)
	rest("repair", v.Repairs)
	return p
}
