package web

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"

	"fettler/internal/casework"
)

type listPage struct {
	ShelfBase
	D      *casework.ListDraft
	Fields []string
	Where  string
}

// listForm asks for a list.
func (s *Server) listForm(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "shelf-list", &listPage{ShelfBase: s.shelfBase(r, "Take over a list", "/shelf")})
}

// mostList is a list and the little that comes with it.
const mostList = 33 << 20

// listAdd reads a list, uploaded or pasted, and shows what it holds. Nothing is written yet.
func (s *Server) listAdd(w http.ResponseWriter, r *http.Request) error {
	p := &listPage{ShelfBase: s.shelfBase(r, "Take over a list", "/shelf")}
	data, name, err := readList(r)
	if err == nil {
		var d *casework.ListDraft
		if d, err = s.bench.OpenList(data, name, nil); err == nil {
			p.show(d)
			return s.render(w, http.StatusOK, "shelf-list", p)
		}
	}
	return s.again(w, err, "shelf-list", &p.Base, p)
}

func (p *listPage) show(d *casework.ListDraft) {
	p.D, p.Fields, p.Where = d, casework.ListFields(), "/shelf/list/"+d.Token
}

// readList reads the file, or the box if no file was chosen.
func readList(r *http.Request) ([]byte, string, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, "", refusal("no list was sent", "choose a file or paste the list")
	}
	var pasted []byte
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		var data []byte
		if err == nil {
			data, err = io.ReadAll(part)
		}
		var big *http.MaxBytesError
		switch {
		case errors.As(err, &big):
			return nil, "", refusal(fmt.Sprintf("the list has more than %d MB", mostList>>20-1), "cut it in parts")
		case err != nil:
			return nil, "", refusal("the list did not arrive whole", "send it once more")
		case part.FormName() == "file" && part.FileName() != "" && len(data) > 0:
			return data, part.FileName(), nil
		case part.FormName() == "text":
			pasted = data
		}
	}
	if len(bytes.TrimSpace(pasted)) == 0 {
		return nil, "", refusal("no list was sent", "choose a file or paste the list")
	}
	return pasted, "", nil
}

// listTake takes the list, or shows it again with other columns.
func (s *Server) listTake(w http.ResponseWriter, r *http.Request) error {
	p := &listPage{ShelfBase: s.shelfBase(r, "Take over a list", "/shelf")}
	columns := slices.Clone(formList(r, "column"))
	d, err := s.bench.TryList(r.PathValue("list"), columns)
	if err != nil {
		return s.again(w, err, "shelf-list", &p.Base, p)
	}
	p.show(d)
	if r.PostFormValue("do") != "take" {
		return s.render(w, http.StatusOK, "shelf-list", p)
	}
	rec, err := s.bench.TakeList(r.Context(), d.Token, columns, r.PostFormValue("without") == "yes", by(r))
	if err != nil {
		return s.again(w, err, "shelf-list", &p.Base, p)
	}
	return goTo(w, r, fmt.Sprintf("/shelf?done=%d", rec.Event))
}

// listWrite gives the shelf as CSV.
func (s *Server) listWrite(w http.ResponseWriter, r *http.Request) error {
	var b bytes.Buffer
	if err := s.bench.ExportShelf(r.Context(), &b); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="shelf.csv"`)
	_, err := b.WriteTo(w)
	return err
}
