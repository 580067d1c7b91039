package web

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"

	"fettler/internal/casework"
)

// Base is what every page has.
type Base struct {
	Title   string // of the page
	Section string // of the head's links: "bench", "notes", "settings", "help" or ""
	CSS, JS string // addresses
	Gallery bool
	Problem *problem // what was wrong with what was just sent
}

// pageTitles are the headings of pages that are not named for what they show.
var pageTitles = map[string]string{
	"assemble": "Assemble a device",
	"bench":    "The bench",
	"close":    "Close the case",
	"help":     "Help and cautions",
	"look":     "What shows from outside",
	"moves":    "All moves",
	"parts":    "Parts ordered or bought",
	"settings": "Settings of this case",
	"sheet":    "Case sheet",
	"take-in":  "Take in a device",
	"write":    "Write a note",
	"test":     "Try the whole device",
}

func (s *Server) base(_ *http.Request, title, section string) Base {
	return Base{Title: title, Section: section, CSS: s.static.path("bench.css"), JS: s.static.path("bench.js"), Gallery: s.o.Gallery}
}

// render writes a page. Nothing is sent before the whole page could be made.
func (s *Server) render(w http.ResponseWriter, status int, name string, page any) error {
	t := s.pages[name]
	if t == nil {
		return fmt.Errorf("web: there is no page %q", name)
	}
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, "layout", page); err != nil {
		return fmt.Errorf("web: page %q: %w", name, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err := b.WriteTo(w)
	if err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}

// again shows a form once more with what was wrong with it, if the error is
// about what was entered. Other errors are handed on.
func (s *Server) again(w http.ResponseWriter, err error, name string, b *Base, page any) error {
	switch casework.CodeOf(err) {
	case casework.BadInput, casework.Doubtful, casework.Ambiguous, casework.NotFound, casework.NoNote, casework.Changed:
	default:
		return err
	}
	p := explain(err)
	if p.Status == http.StatusNotFound { // the page is there, what it names is not
		p.Status = http.StatusUnprocessableEntity
	}
	b.Problem = &p
	return s.render(w, p.Status, name, page)
}

func casePath(id string, more ...string) string {
	path := "/case/" + url.PathEscape(id)
	for _, m := range more {
		path += "/" + url.PathEscape(m)
	}
	return path
}

// goTo redirects after a POST.
func goTo(w http.ResponseWriter, r *http.Request, path string) error {
	http.Redirect(w, r, path, http.StatusSeeOther)
	return nil
}

// written redirects to the case, which then says what was written down.
func written(w http.ResponseWriter, r *http.Request, rec casework.Receipt) error {
	return goTo(w, r, fmt.Sprintf("%s?done=%d", casePath(rec.Case), rec.Seq))
}
