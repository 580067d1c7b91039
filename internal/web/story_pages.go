package web

import (
	"bytes"
	"net/http"

	"fettler/internal/casework"
	"fettler/internal/report"
)

// storyRoutes are the pages of a case told to others.
func (s *Server) storyRoutes() []route {
	return []route{
		{"GET /case/{case}/story", s.storyShow},
		{"GET /case/{case}/story/write", s.storyWrite},
		{"GET /case/{case}/story/{file}", s.storyFile},
	}
}

type storyPage struct {
	Base
	Style  string
	V      *casework.View
	Path   string
	Story  *report.Story
	Photos int
}

func telling(r *http.Request) casework.Telling {
	return casework.Telling{Label: r.FormValue("label") == "yes", Words: r.FormValue("words") == "yes", Private: r.FormValue("private") == "yes"}
}

// storyShow shows what can be given away, and how it begins.
func (s *Server) storyShow(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	a, err := s.bench.Account(r.Context(), v.Header.Case, casework.Telling{})
	if err != nil {
		return err
	}
	p := &storyPage{Base: s.base(r, "Write it up", ""), V: v, Path: casePath(v.Header.Case), Style: s.static.path("proof.css"), Photos: len(a.Photos)}
	if p.Story, err = report.New(r.Context(), a, nil); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "story", p)
}

// starter is the case as the beginning of a bench note.
func (s *Server) starter(r *http.Request, id string) ([]byte, error) {
	v, err := s.bench.View(r.Context(), id)
	if err != nil {
		return nil, err
	}
	a, err := s.bench.Account(r.Context(), id, casework.Telling{})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = report.Starter(&b, v, a)
	return b.Bytes(), err
}

// storyWrite opens the beginning of a bench note where notes are written.
func (s *Server) storyWrite(w http.ResponseWriter, r *http.Request) error {
	text, err := s.starter(r, r.PathValue("case"))
	if err != nil {
		return err
	}
	p := s.newWritePage(r, string(text))
	if err := s.look(r, p); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "write", p)
}

// storyFile is the story in one of its forms.
func (s *Server) storyFile(w http.ResponseWriter, r *http.Request) error {
	id, file := r.PathValue("case"), r.PathValue("file")
	if file == "note.yaml" {
		text, err := s.starter(r, id)
		if err != nil {
			return err
		}
		return s.download(w, id+"-note.yaml", "application/yaml; charset=utf-8", text)
	}
	a, err := s.bench.Account(r.Context(), id, telling(r))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	var photos report.Photos
	if len(a.Photos) > 0 {
		photos = s.bench
	}
	story, err := report.New(r.Context(), a, photos)
	if err != nil {
		return err
	}
	kind := ""
	switch file {
	case "story.html":
		kind, err = "text/html; charset=utf-8", story.HTML(&b)
	case "story.md":
		kind, err = "text/markdown; charset=utf-8", story.Markdown(&b)
	case "story.zip":
		kind, err = "application/zip", story.MarkdownZip(&b)
	case "story.pdf":
		kind, err = "application/pdf", story.PDF(&b)
	default:
		return missing("there is no such form of the story", "go back and choose one")
	}
	if err != nil {
		return err
	}
	return s.download(w, id+"-"+file, kind, b.Bytes())
}
