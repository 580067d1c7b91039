package web

import "net/http"

// reworkRoutes are the pages of work at the board.
func (s *Server) reworkRoutes() []route {
	return []route{
		{"GET /heat", s.heatAsk},
		{"GET /heat/limits", s.heatLimits},
		{"GET /heat/picture", s.heatFile},

		{"GET /case/{case}/rework", s.reworkShow},
		{"GET /case/{case}/rework/steps", s.stepsShow},
		{"POST /case/{case}/rework/steps", s.stepTick},
		{"POST /case/{case}/rework/off", s.takeOff},
		{"POST /case/{case}/rework/back", s.putBack},
		{"POST /case/{case}/rework/way", s.wayRecord},
		{"GET /case/{case}/photo/{photo}", s.photoShow},
		{"POST /case/{case}/photo/{photo}", s.photoTag},
		{"GET /case/{case}/compare", s.photoCompare},
		{"GET /case/{case}/placement", s.placementShow},
		{"GET /case/{case}/power-up", s.powerUpShow},
		{"GET /photo/{photo}", s.photoFile},
	}
}

// installUploads registers what takes more than a form may send.
func (s *Server) installUploads(mux *http.ServeMux) {
	mux.Handle("POST /shelf/list", s.guardRaw(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-store")
		r.Body = http.MaxBytesReader(w, r.Body, mostList)
		if err := s.listAdd(w, r); err != nil {
			s.fail(w, r, err)
		}
	})))
	mux.Handle("POST /case/{case}/photos", s.guardRaw(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-store")
		r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
		if err := s.photoAdd(w, r); err != nil {
			s.fail(w, r, err)
		}
	})))
	mux.Handle("POST /learnt/take-over", s.upload(mostShared, s.learntTake))
	mux.Handle("POST /take-along/unpack", s.upload(mostPacked, s.packTake))
	mux.Handle("POST /take-along/open-data", s.upload(mostShared, s.openDataTake))
}

// upload guards what takes a file of at most so many bytes.
func (s *Server) upload(most int64, do handler) http.Handler {
	return s.guardRaw(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-store")
		r.Body = http.MaxBytesReader(w, r.Body, most)
		if err := do(w, r); err != nil {
			s.fail(w, r, err)
		}
	}))
}

// A Board is what every page of work at the board has.
type Board struct {
	Base
	Style, Script string
	Path          string // of the case; "" without one
	CaseTitle     string
	Hub           bool // it is the page the others belong to
}

func (s *Server) board(r *http.Request, title string) Board {
	return Board{Base: s.base(r, title, ""), Style: s.static.path("rework.css"), Script: s.static.path("rework.js")}
}
