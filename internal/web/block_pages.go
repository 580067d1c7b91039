package web

import (
	"html/template"
	"net/http"

	"fettler/internal/note"
	"fettler/internal/notedesk"
)

type blocksPage struct {
	Base
	Blocks []note.BlockInfo
}

// blockList shows the blocks that devices are made of.
func (s *Server) blockList(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "blocks", &blocksPage{s.base(r, "Blocks", "notes"), s.desk.Blocks()})
}

type blockPage struct {
	Base
	B       *notedesk.Block
	Style   string
	Picture template.HTML
	Saved   string
}

// blockRead shows one block: what can fail, how it shows, how to check, what the repair takes.
func (s *Server) blockRead(w http.ResponseWriter, r *http.Request) error {
	b, m, err := s.desk.Block(r.PathValue("block"))
	if err != nil {
		return err
	}
	p := &blockPage{Base: s.base(r, capital(b.Title), "notes"), B: b, Style: s.static.path("notes.css"), Picture: drawn(m), Saved: r.FormValue("saved")}
	return s.render(w, http.StatusOK, "block", p)
}
