package web

import (
	"net/http"

	"fettler/internal/casework"
)

// aheadRoutes are the pages on the decision: how far it may go, the map of moves, why, what if.
func (s *Server) aheadRoutes() []route {
	return []route{
		{"GET /case/{case}/ahead", s.aheadShow},
		{"GET /case/{case}/map", s.mapShow},
		{"GET /case/{case}/why", s.whyShow},
		{"GET /case/{case}/what-if", s.whatIfShow},
		{"POST /case/{case}/what-if", s.whatIfAsk},
	}
}

// An Inquiry is what every one of these pages has.
type Inquiry struct {
	Base
	Style string
	V     *casework.View
	Path  string // of the case
}

func (s *Server) inquiry(r *http.Request, title string) (Inquiry, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return Inquiry{}, err
	}
	return s.inquiryInto(s.base(r, title, ""), v), nil
}

func (s *Server) inquiryInto(b Base, v *casework.View) Inquiry {
	return Inquiry{Base: b, Style: s.static.path("ahead.css"), V: v, Path: casePath(v.Header.Case)}
}
