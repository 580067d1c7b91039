package web

import (
	"fmt"
	"net/http"
	"slices"
)

type galleryPage struct {
	Base
	Screens []screen
}

// A screen is a page in one state, with invented data.
type screen struct {
	Name  string
	About string
	page  string // template
	make  func(b Base) any
}

// galleryList lists the screens.
func (s *Server) galleryList(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "gallery", &galleryPage{Base: s.base(r, "Gallery", "gallery"), Screens: s.screens(r)})
}

// galleryShow shows one.
func (s *Server) galleryShow(w http.ResponseWriter, r *http.Request) error {
	all := s.screens(r)
	i := slices.IndexFunc(all, func(x screen) bool { return x.Name == r.PathValue("screen") })
	if i < 0 {
		return missing(fmt.Sprintf("the gallery has no screen %q", clip(r.PathValue("screen"))), "take one from its list")
	}
	title := pageTitles[all[i].page]
	if title == "" {
		title = "Gallery: " + all[i].About
	}
	return s.render(w, http.StatusOK, all[i].page, all[i].make(s.base(r, title, "gallery")))
}
