package web

import (
	"net/http"

	"fettler/internal/casework"
)

type aheadPage struct {
	Inquiry
	R *casework.Rehearsed
}

// aheadShow says how far it may go: chance, money, time, and when to stop. It takes its time.
func (s *Server) aheadShow(w http.ResponseWriter, r *http.Request) error {
	q, err := s.inquiry(r, "If you go on")
	if err != nil {
		return err
	}
	p := &aheadPage{Inquiry: q}
	if p.R, err = s.bench.Rehearse(r.Context(), q.V.Header.Case, 0); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "ahead", p)
}

// A Band is a figure with its spread, drawn on a measure 1000 units long.
type Band struct{ Low, Mid, High int }

// newBand lays a spread on a measure that reaches a little beyond its end.
func newBand(s casework.Spread) Band {
	most := 1.15 * s.High
	if most <= 0 {
		return Band{}
	}
	at := func(v float64) int { return max(0, min(1000, int(1000*v/most+0.5))) }
	return Band{at(s.Low), at(s.Mean), at(s.High)}
}

// Wide is the band's length; what is there at all can be seen.
func (b Band) Wide() int { return max(6, b.High-b.Low) }

// certain says that a spread is as good as one figure.
func certain(s casework.Spread, least float64) bool { return s.High-s.Low < least }
