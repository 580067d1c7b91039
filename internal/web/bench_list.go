package web

import (
	"net/http"

	"fettler/internal/casework"
)

type benchPage struct {
	Base
	TakeIn takeInEntry
	Open   []casework.Listed
	Closed []casework.Listed
}

// benchList shows the cases and the form to take in another device.
func (s *Server) benchList(w http.ResponseWriter, r *http.Request) error {
	list, err := s.bench.List(r.Context())
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "bench", s.benchPage(r, list, takeInEntry{}))
}

func (s *Server) benchPage(r *http.Request, list []casework.Listed, in takeInEntry) *benchPage {
	in.AskLive = s.liveNotSaid(r)
	p := &benchPage{Base: s.base(r, pageTitles["bench"], "bench"), TakeIn: in}
	for _, l := range list {
		if l.State == casework.Done {
			p.Closed = append(p.Closed, l)
		} else {
			p.Open = append(p.Open, l)
		}
	}
	return p
}
