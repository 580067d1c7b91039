package web

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/label"
)

type labelPage struct {
	ShelfBase
	What   string // "places", "lines", "cases", "bags" or "own"
	Text   string
	Place  string
	Own    string
	Code   string // "words" or "link"
	First  string // the first label of the sheet that is still there
	Paper  string // one of sheetKinds
	Margin string
	Host   string
	Count  int
	Kinds  []sheetKind
	Sheets []template.HTML
}

// A sheetKind is how many labels a sheet of A4 has.
type sheetKind struct {
	Name          string
	Words         string
	Columns, Rows int
}

var sheetKinds = []sheetKind{{"3x8", "24 on a sheet, 3 × 8", 3, 8}, {"2x6", "12 on a sheet, 2 × 6: large", 2, 6}, {"4x10", "40 on a sheet, 4 × 10: small", 4, 10}}

// mostLabelled bounds the lines on one print.
const mostLabelled = 500

// labelSheet makes labels to print: of places, lines of the shelf, devices, bags of screws, or own words.
func (s *Server) labelSheet(w http.ResponseWriter, r *http.Request) error {
	get := func(k string) string { return strings.TrimSpace(r.FormValue(k)) }
	p := &labelPage{ShelfBase: s.shelfBase(r, "Labels to print", "/shelf"), What: get("what"), Text: get("text"), Place: get("place"), Own: get("own"), Code: get("code"), First: get("first"), Paper: get("paper"), Margin: get("margin"), Host: r.Host, Kinds: sheetKinds}
	if p.Code == "" {
		p.Code = "words"
	}
	if p.What == "" {
		return s.render(w, http.StatusOK, "shelf-labels", p)
	}
	err := s.printLabels(r, p)
	if err != nil {
		return s.again(w, err, "shelf-labels", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "shelf-labels", p)
}

func (s *Server) printLabels(r *http.Request, p *labelPage) error {
	labels, err := s.labels(r.Context(), p)
	if err == nil && len(labels) == 0 {
		err = refusal("there is nothing to label", "choose something else, or put something on the shelf first")
	}
	if err != nil {
		return err
	}
	paper, err := p.paper(r)
	if err != nil {
		return err
	}
	sheets, err := label.Sheets(labels, paper)
	if err != nil {
		return refusal(err.Error(), "print words instead of the link, larger labels, or fewer at once")
	}
	p.Count = len(labels)
	for _, x := range sheets {
		p.Sheets = append(p.Sheets, template.HTML(x)) // made by package label, which escapes what it is handed
	}
	return nil
}

// paper is the sheet that lies in the printer.
func (p *labelPage) paper(r *http.Request) (label.Paper, error) {
	at := slices.IndexFunc(sheetKinds, func(k sheetKind) bool { return k.Name == p.Paper })
	if at < 0 {
		at = 0
	}
	out := label.Paper{Width: 210, Height: 297, Columns: sheetKinds[at].Columns, Rows: sheetKinds[at].Rows, Margin: 8}
	first := 1.0
	if err := asked(r, "first", "the first free label", &first); err != nil {
		return out, err
	}
	if most := out.Columns * out.Rows; first != float64(int(first)) || first < 1 || int(first) > most {
		return out, refusal(fmt.Sprintf("there is no label %s on such a sheet", p.First), fmt.Sprintf("count row by row, from 1 to %d", most))
	}
	out.Used = int(first) - 1
	return out, asked(r, "margin", "the margin", &out.Margin)
}

// code is what the QR code holds: a link to this bench, or words that say the same without it.
func (p *labelPage) code(path string, words ...string) string {
	if p.Code == "link" {
		return "http://" + p.Host + path
	}
	var out []string
	for _, w := range words {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return cut(strings.Join(out, " · "), 120)
}

// cut shortens to at most n bytes, not in the middle of a letter.
func cut(s string, n int) string {
	if len(s) > n {
		s = strings.TrimSpace(strings.ToValidUTF8(s[:n], ""))
	}
	return s
}

// labels are what was chosen.
func (s *Server) labels(ctx context.Context, p *labelPage) ([]label.Label, error) {
	switch p.What {
	case "places", "lines":
		page, err := s.bench.Shelf(ctx, casework.ShelfAsk{Text: p.Text, Place: p.Place, Most: mostLabelled})
		if err != nil {
			return nil, err
		}
		if p.What == "places" {
			return p.ofPlaces(page), nil
		}
		return p.ofLines(page), nil
	case "cases", "bags":
		return s.labelsOfCases(ctx, p)
	case "own":
		return p.ofOwn(), nil
	}
	return nil, refusal("nothing was chosen", "say what to label")
}

func (p *labelPage) ofPlaces(page *casework.ShelfPage) []label.Label {
	var out []label.Label
	for _, x := range page.Places {
		if p.Place == "" || x.Place == p.Place {
			out = append(out, label.Label{Code: p.code("/shelf?place="+url.QueryEscape(x.Place), x.Place), Title: x.Place, Lines: []string{count(x.Lines, "sort of part", "sorts of parts")}})
		}
	}
	return out
}

func (p *labelPage) ofLines(page *casework.ShelfPage) []label.Label {
	var out []label.Label
	for _, l := range page.Lines {
		from := l.From
		if l.Board != "" {
			from += ": " + l.Board
		}
		out = append(out, label.Label{Code: p.code("/shelf/line/"+url.PathEscape(l.ID), l.ID, l.Name, l.Place), Title: l.Name, Lines: []string{l.ID, l.Place, from}})
	}
	return out
}

// labelsOfCases are one for each device on the bench, or one for each bag of what was taken off it.
func (s *Server) labelsOfCases(ctx context.Context, p *labelPage) ([]label.Label, error) {
	all, err := s.bench.List(ctx)
	if err != nil {
		return nil, err
	}
	var out []label.Label
	for _, l := range all {
		if l.State == casework.Done || p.Text != "" && l.Case != p.Text {
			continue
		}
		if p.What == "cases" {
			out = append(out, label.Label{Code: p.code(casePath(l.Case), l.Case, l.Title, "taken in "+day(l.Opened)), Title: l.Title, Lines: []string{l.Case, l.Kind, "taken in " + day(l.Opened)}})
			continue
		}
		v, err := s.bench.View(ctx, l.Case)
		if err != nil {
			return nil, err
		}
		out = append(out, p.ofBags(v)...)
	}
	return out, nil
}

// ofBags are the bags that screws of a case lie in, and one more to write on.
func (p *labelPage) ofBags(v *casework.View) []label.Label {
	var order []string
	in := map[string][]string{}
	for _, o := range v.Out {
		if _, seen := in[o.Where]; !seen {
			order = append(order, o.Where)
		}
		in[o.Where] = append(in[o.Where], o.Words())
	}
	h := v.Header
	path := casePath(h.Case, "rework")
	var out []label.Label
	for _, where := range order {
		title := "Off " + h.Title
		if where != "" {
			title = where + ": off " + h.Title
		}
		out = append(out, label.Label{Code: p.code(path, h.Case, h.Title, where, strings.Join(in[where], ", ")), Title: title, Lines: append([]string{h.Case}, in[where]...)})
	}
	return append(out, label.Label{Code: p.code(path, h.Case, h.Title, "screws"), Title: "Screws of " + h.Title, Lines: []string{h.Case, "from: ______________"}})
}

func (p *labelPage) ofOwn() []label.Label {
	var out []label.Label
	for _, line := range strings.Split(p.Own, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			title, rest, _ := strings.Cut(line, ";")
			title, rest = strings.TrimSpace(title), strings.TrimSpace(rest)
			if title == "" {
				title, rest = rest, ""
			}
			out = append(out, label.Label{Code: p.code("/shelf?place="+url.QueryEscape(title), title, rest), Title: title, Lines: []string{rest}})
		}
	}
	return out
}
