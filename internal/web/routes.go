package web

import "net/http"

// Install registers every page on mux. The server does not own the mux.
func (s *Server) Install(mux *http.ServeMux) {
	for _, r := range s.routes() {
		mux.Handle(r.pattern, s.guard(r.do))
	}
	mux.Handle("GET /static/", s.guardRaw(s.static))
	s.installUploads(mux)
}

// A route is a pattern and what answers it.
type route struct {
	pattern string
	do      handler
}

func (s *Server) routes() []route {
	routes := []route{
		{"GET /{$}", s.benchList},
		{"GET /take-in", s.takeInForm},
		{"POST /take-in", s.takeIn},

		{"GET /case/{case}", s.caseShow},
		{"GET /case/{case}/sheet", s.caseSheet},
		{"POST /case/{case}/say", s.caseSay},
		{"POST /case/{case}/unsay", s.caseUnsay},
		{"GET /case/{case}/look", s.caseLookForm},
		{"POST /case/{case}/look", s.caseLook},
		{"GET /case/{case}/moves", s.moveList},
		{"GET /case/{case}/check/{check}", s.checkForm},
		{"POST /case/{case}/check/{check}", s.checkRecord},
		{"GET /case/{case}/repair/{repair}", s.repairForm},
		{"POST /case/{case}/repair/{repair}", s.repairRecord},
		{"GET /case/{case}/repair", s.repairForm},
		{"POST /case/{case}/repair", s.repairRecord},
		{"GET /case/{case}/test", s.testForm},
		{"POST /case/{case}/test", s.testRecord},
		{"GET /case/{case}/parts", s.partsForm},
		{"POST /case/{case}/parts", s.partsRecord},
		{"POST /case/{case}/arrive", s.partsArrive},
		{"POST /case/{case}/open-up", s.caseOpenUp},
		{"POST /case/{case}/remark", s.caseRemark},
		{"POST /case/{case}/undo", s.caseUndo},
		{"GET /case/{case}/correct/{event}", s.correctForm},
		{"POST /case/{case}/correct/{event}", s.correct},
		{"GET /case/{case}/settings", s.caseSettingsForm},
		{"POST /case/{case}/settings", s.caseSettings},
		{"GET /case/{case}/close", s.closeForm},
		{"POST /case/{case}/close", s.closeRecord},
		{"POST /case/{case}/reopen", s.caseReopen},

		{"GET /settings", s.settingsForm},
		{"POST /settings", s.settings},
		{"POST /settings/live", s.liveSay},
		{"POST /case/{case}/lack", s.lackSay},
		{"GET /notes", s.noteList},
		{"GET /notes/{note}", s.noteRead},
		{"GET /help", s.help},
		{"/", s.nowhere},
	}
	routes = append(routes, s.reworkRoutes()...)
	routes = append(routes, s.proofRoutes()...)
	routes = append(routes, s.learntRoutes()...)
	routes = append(routes, s.findRoutes()...)
	routes = append(routes, s.storyRoutes()...)
	routes = append(routes, s.alongRoutes()...)
	routes = append(routes, s.deskRoutes()...)
	routes = append(routes, s.aheadRoutes()...)
	routes = append(routes, s.partRoutes()...)
	if s.o.Gallery {
		routes = append(routes, route{"GET /gallery", s.galleryList}, route{"GET /gallery/{screen}", s.galleryShow})
	}
	return routes
}
