package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
	"fettler/internal/shelf"
)

// A ShelfBase is what every page about the shelf has.
type ShelfBase struct {
	PartsPage
	More string // style sheet of these pages
	Done string // just written down
	Undo int    // event to take it back
	Back string // where undoing it leads; "" the shelf
}

func (s *Server) shelfBase(r *http.Request, title, here string) ShelfBase {
	return s.shelfBaseInto(s.base(r, title, "parts"), here)
}

func (s *Server) shelfBaseInto(b Base, here string) ShelfBase {
	return ShelfBase{PartsPage: s.partsPageInto(b, here), More: s.static.path("shelf.css")}
}

type shelfPage struct {
	ShelfBase
	Ask     shelf.Ask
	P       *shelf.List
	New     casework.Stocking
	Count   string
	Kinds   []string
	Origins []string
	Query   string // of this page
	Before  string // address of the page before
	After   string
	Labels  string
}

// shelfList shows the shelf, page by page, and the form to add to it.
func (s *Server) shelfList(w http.ResponseWriter, r *http.Request) error {
	p, err := s.shelfPage(r)
	if err != nil {
		return err
	}
	p.New.Name = strings.TrimSpace(r.FormValue("name"))
	return s.render(w, http.StatusOK, "shelf", p)
}

func (s *Server) shelfPage(r *http.Request) (*shelfPage, error) {
	q := r.URL.Query()
	p := &shelfPage{ShelfBase: s.shelfBase(r, "The shelf", "/shelf"), Kinds: partdesk.Kinds(), Origins: casework.PartOrigins()}
	p.Ask = shelf.Ask{Text: strings.TrimSpace(q.Get("text")), Place: q.Get("place"), Gone: q.Get("gone") == "yes", Page: atoi(q.Get("page"))}
	var err error
	if p.P, err = s.bench.Shelf(r.Context(), p.Ask); err != nil {
		return nil, err
	}
	if p.P.Page > 1 {
		p.Before = p.at(p.P.Page - 1)
	}
	if p.P.Page < p.P.Pages {
		p.After = p.at(p.P.Page + 1)
	}
	p.Labels = "/shelf/labels?what=parts&" + p.query(0).Encode()
	p.Query = p.query(p.P.Page).Encode()
	return p, s.shelfDone(r, &p.ShelfBase)
}

// shelfDone notes on the page what was just written, and whether it can be taken back.
func (s *Server) shelfDone(r *http.Request, p *ShelfBase) error {
	n := atoi(r.URL.Query().Get("done"))
	if n == 0 {
		return nil
	}
	log, err := s.bench.ShelfLog(r.Context(), "", 30)
	for _, e := range log {
		if e.Event == n {
			p.Done = e.Words
			if e.CanUndo {
				p.Undo = n
			}
		}
	}
	return err
}

func (p *shelfPage) query(page int) url.Values {
	q := url.Values{}
	if p.Ask.Text != "" {
		q.Set("text", p.Ask.Text)
	}
	if p.Ask.Place != "" {
		q.Set("place", p.Ask.Place)
	}
	if p.Ask.Gone {
		q.Set("gone", "yes")
	}
	if page > 1 {
		q.Set("page", itoa(page))
	}
	return q
}

func (p *shelfPage) at(page int) string { return "/shelf?" + p.query(page).Encode() }

// shelfAdd puts parts on the shelf.
func (s *Server) shelfAdd(w http.ResponseWriter, r *http.Request) error {
	p, err := s.shelfPage(r)
	if err != nil {
		return err
	}
	get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
	p.New = casework.Stocking{By: by(r), Name: get("name"), Kind: get("kind"), Place: get("place"), From: get("from"), Board: get("board"), Note: get("note")}
	p.Count = get("count")
	n := 1.0
	if p.Count != "" {
		err = asked(r, "count", "the number of pieces", &n)
	}
	if err == nil && n != float64(int(n)) {
		err = refusal("there are no broken pieces", "give a whole number")
	}
	p.New.Count = int(n)
	if err == nil {
		var rec casework.ShelfReceipt
		if rec, err = s.bench.Stock(r.Context(), p.New); err == nil {
			return goTo(w, r, fmt.Sprintf("/shelf?done=%d", rec.Event))
		}
	}
	return s.again(w, err, "shelf", &p.Base, p)
}

// shelfUndo takes back what was written about the shelf.
func (s *Server) shelfUndo(w http.ResponseWriter, r *http.Request) error {
	n, err := eventNumber(r.PostFormValue("event"))
	if err != nil {
		return err
	}
	rec, err := s.bench.UndoShelf(r.Context(), n, by(r))
	if err != nil {
		return err
	}
	if line := r.PostFormValue("line"); line != "" {
		return goTo(w, r, fmt.Sprintf("/shelf/line/%s?done=%d", url.PathEscape(line), rec.Event))
	}
	return goTo(w, r, shelfBack(r.PostFormValue("back"), rec.Event))
}

// shelfBack is the page of the shelf one came from, which then says what was written down.
func shelfBack(query string, event int) string {
	q, err := url.ParseQuery(query)
	if err != nil {
		q = nil
	}
	out := url.Values{"done": {itoa(event)}}
	for _, k := range []string{"text", "place", "gone", "page"} {
		if v := q.Get(k); v != "" {
			out.Set(k, v)
		}
	}
	return "/shelf?" + out.Encode()
}

type linePage struct {
	ShelfBase
	L      *shelf.Shown
	Log    []casework.ShelfEntry
	Cases  []casework.Listed
	Places []shelf.Place
	Count  string
	Place  string

	Origins []string
}

// shelfLine shows one line with what was written about it.
func (s *Server) shelfLine(w http.ResponseWriter, r *http.Request) error {
	p, err := s.linePage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "shelf-line", p)
}

func (s *Server) linePage(r *http.Request) (*linePage, error) {
	l, err := s.bench.ShelfLine(r.Context(), r.PathValue("line"))
	if err != nil {
		return nil, err
	}
	p := &linePage{ShelfBase: s.shelfBase(r, l.Name, "/shelf"), L: l, Origins: casework.PartOrigins()}
	if p.Log, err = s.bench.ShelfLog(r.Context(), l.ID, 40); err != nil {
		return nil, err
	}
	if p.Cases, err = s.openCases(r); err != nil {
		return nil, err
	}
	all, err := s.bench.Shelf(r.Context(), shelf.Ask{Most: 1})
	if err != nil {
		return nil, err
	}
	p.Places = all.Places
	p.Back = l.ID
	return p, s.shelfDone(r, &p.ShelfBase)
}

// shelfWrite records that pieces were used, counted or moved.
func (s *Server) shelfWrite(w http.ResponseWriter, r *http.Request) error {
	p, err := s.linePage(r)
	if err != nil {
		return err
	}
	p.Count, p.Place = strings.TrimSpace(r.PostFormValue("count")), strings.TrimSpace(r.PostFormValue("place"))
	n := 1.0
	if p.Count != "" {
		err = asked(r, "count", "the number of pieces", &n)
	}
	if err == nil && (n != float64(int(n)) || p.Count == "" && r.PostFormValue("do") == "count") {
		err = refusal("that is no number of pieces", "give a whole number")
	}
	var rec casework.ShelfReceipt
	if err == nil {
		switch r.PostFormValue("do") {
		case "use":
			rec, err = s.bench.UseLine(r.Context(), casework.Using{By: by(r), Line: p.L.ID, Count: int(n), Case: r.PostFormValue("case")})
		case "count":
			rec, err = s.bench.CountLine(r.Context(), casework.Counting{By: by(r), Line: p.L.ID, Count: int(n)})
		case "rename":
			get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
			rec, err = s.bench.RenameLine(r.Context(), casework.Renaming{By: by(r), Line: p.L.ID, Name: get("name"), From: get("from"), Board: get("board"), Note: get("note")})
		case "move":
			rec, err = s.bench.MoveLine(r.Context(), casework.Moving{By: by(r), Line: p.L.ID, Place: p.Place, Off: r.PostFormValue("off") == "yes"})
		default:
			err = refusal("nothing was chosen", "use, count or move")
		}
	}
	if err == nil && r.PostForm.Has("back") {
		return goTo(w, r, shelfBack(r.PostFormValue("back"), rec.Event))
	}
	if err == nil {
		return goTo(w, r, fmt.Sprintf("/shelf/line/%s?done=%d", url.PathEscape(p.L.ID), rec.Event))
	}
	return s.again(w, err, "shelf-line", &p.Base, p)
}

type shelfLogPage struct {
	ShelfBase
	Log []casework.ShelfEntry
}

// shelfLog shows what was written about the shelf.
func (s *Server) shelfLog(w http.ResponseWriter, r *http.Request) error {
	p := &shelfLogPage{ShelfBase: s.shelfBase(r, "What was written about the shelf", "/shelf")}
	var err error
	if p.Log, err = s.bench.ShelfLog(r.Context(), "", 200); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "shelf-log", p)
}
