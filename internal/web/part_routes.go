package web

import (
	"net/http"
	"net/url"
	"strings"

	"fettler/internal/casework"
)

// partRoutes are the pages about parts, the shelf and what to buy.
func (s *Server) partRoutes() []route {
	return []route{
		{"GET /parts", s.partRead},
		{"GET /parts/bands", s.partBands},
		{"GET /parts/instead", s.partInstead},
		{"GET /parts/electrolytic", s.partCap},
		{"GET /parts/combine", s.partCombine},
		{"GET /parts/discharge", s.partDischarge},

		{"GET /shelf", s.shelfList},
		{"POST /shelf", s.shelfAdd},
		{"GET /shelf/line/{line}", s.shelfLine},
		{"POST /shelf/line/{line}", s.shelfWrite},
		{"POST /shelf/undo", s.shelfUndo},
		{"GET /shelf/log", s.shelfLog},
		{"GET /shelf/list", s.listForm},
		{"POST /shelf/list/{list}", s.listTake},
		{"GET /shelf/list.csv", s.listWrite},
		{"GET /shelf/labels", s.labelSheet},
		{"GET /shopping", s.shoppingShow},
		{"GET /shopping.txt", s.shoppingText},

		{"GET /case/{case}/offers", s.offersShow},
		{"POST /case/{case}/offers", s.offersRecord},
		{"GET /case/{case}/salvage", s.salvageForm},
		{"POST /case/{case}/salvage", s.salvageRecord},
	}
}

// A PartsPage is what every page about parts has.
type PartsPage struct {
	Base
	Style string
	Here  string // which of the pages it is
	Links []PartsLink
	From  *casework.Listed // the case one came from, nil none
}

// A PartsLink leads to another page about parts.
type PartsLink struct {
	Path, Name string
	Now        bool
}

var partsLinks = []PartsLink{
	{"/parts", "Read a marking", false}, {"/parts/bands", "Colour bands", false}, {"/parts/instead", "What will do instead", false}, {"/parts/electrolytic", "Electrolytics", false},
	{"/parts/combine", "Make a value", false}, {"/parts/discharge", "Empty a capacitor", false}, {"/shelf", "The shelf", false}, {"/shopping", "Shopping list", false},
}

// partsPage is a page about parts; where it was come to from a case, the links keep it.
func (s *Server) partsPage(r *http.Request, title, here string) (PartsPage, error) {
	p := s.partsPageInto(s.base(r, title, "parts"), here)
	id := r.FormValue("case")
	if id == "" {
		return p, nil
	}
	all, err := s.bench.List(r.Context())
	if err != nil {
		return p, err
	}
	for i := range all {
		if all[i].Case == id {
			p.From = &all[i]
		}
	}
	for i, l := range p.Links {
		if p.From != nil && strings.HasPrefix(l.Path, "/parts") {
			p.Links[i].Path += "?case=" + url.QueryEscape(id)
		}
	}
	return p, nil
}

// keep is the end of an address that keeps the case.
func (p *PartsPage) keep() string {
	if p.From == nil {
		return ""
	}
	return "&case=" + url.QueryEscape(p.From.Case)
}

// Case is the case one came from, "" none.
func (p *PartsPage) Case() string {
	if p.From == nil {
		return ""
	}
	return p.From.Case
}

func (s *Server) partsPageInto(b Base, here string) PartsPage {
	p := PartsPage{Base: b, Style: s.static.path("parts.css"), Here: here}
	for _, l := range partsLinks {
		l.Now = l.Path == here
		p.Links = append(p.Links, l)
	}
	return p
}
