package web

import (
	"net/http"

	"fettler/internal/casework"
)

// liveSay takes down whether this bench works inside with the power on, and goes back to the
// case it was asked at.
func (s *Server) liveSay(w http.ResponseWriter, r *http.Request) error {
	said := r.PostFormValue("live")
	if said != "yes" {
		said = "no"
	}
	if err := s.sayLive(r, said); err != nil {
		return err
	}
	if id := r.PostFormValue("case"); id != "" {
		if err := s.liveHere(r, id, said == "no"); err != nil {
			return err
		}
		return goTo(w, r, casePath(id)+"#next")
	}
	return goTo(w, r, "/settings?saved=1")
}

// liveHere makes it hold for a case too that has a word of its own on it.
func (s *Server) liveHere(r *http.Request, id string, never bool) error {
	v, err := s.bench.View(r.Context(), id)
	if err != nil || v.Settings.NoLive == never {
		return err
	}
	_, err = s.bench.Settle(r.Context(), id, casework.Settling{By: casework.By{Who: by(r).Who}, Settled: casework.Settled{NoLive: &never}})
	return err
}

// sayLive writes it down, "yes" or "no"; anything else was not asked.
func (s *Server) sayLive(r *http.Request, said string) error {
	if said != "yes" && said != "no" {
		return nil
	}
	never := said == "no"
	b := by(r)
	b.Seen = 0
	_, err := s.bench.Settle(r.Context(), casework.BenchCase, casework.Settling{By: b, Settled: casework.Settled{NoLive: &never}})
	return err
}

// liveNotSaid says that nobody has said it for this bench. What cannot be read is not asked.
func (s *Server) liveNotSaid(r *http.Request) bool {
	now, err := s.bench.BenchSettings(r.Context())
	return err == nil && !now.LiveSaid
}

// asksLive says that a case is the place to ask it: it has not been said, and here it
// would make a difference.
func asksLive(v *casework.View) bool {
	return v.Limits.Live == casework.LiveNotSaid && v.Limits.Barred > 0 && v.Next != nil
}
