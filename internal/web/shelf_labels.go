package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/label"
)

type labelPage struct {
	ShelfBase
	What   string // one of casework.LabelPlaces …
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
	texts, err := s.bench.Labels(r.Context(), casework.LabelAsk{What: p.What, Text: p.Text, Place: p.Place, Own: p.Own})
	if err != nil {
		return err
	}
	var labels []label.Label
	for _, t := range texts {
		l := label.Label{Code: t.Words, Title: t.Title, Lines: t.Lines}
		if p.Code == "link" {
			l.Code = "http://" + p.Host + t.Path
		}
		labels = append(labels, l)
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
