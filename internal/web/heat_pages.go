package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"fettler/internal/heatdesk"
	"fettler/internal/report"
)

type heatPage struct {
	Board
	Ask     heatdesk.Ask
	Words   heatdesk.Words
	Rows    []NearRow
	State   *heatdesk.State
	Seconds int // since the reckoning began
	Answer  *heatdesk.Answer
	Picture report.HeatDrawing
	Case    string
	Again   string // this question's address
	Steps   string // address of the steps that go with it
}

// A NearRow is a neighbour in the form.
type NearRow struct {
	I int
	heatdesk.Near
	Distance string // as entered
}

// nearRows are so many neighbours in the form.
const nearRows = 6

// heatPatience is how long a page waits for an answer before it says that it is being reckoned.
const heatPatience = 1500 * time.Millisecond

// heatAsk is the form, and once it is sent the answer. The whole question is in the
// address, so a page can be looked at again, sent on, and refreshed until the answer is there.
func (s *Server) heatAsk(w http.ResponseWriter, r *http.Request) error {
	p := newHeatPage(s.board(r, "Heat at the board"), heatdesk.Usual())
	p.Case = r.FormValue("case")
	if p.Case != "" {
		v, err := s.bench.BoardWork(r.Context(), p.Case)
		if err != nil {
			return err
		}
		p.Path, p.CaseTitle = casePath(p.Case), v.Title
	}
	if r.FormValue("ask") == "" {
		if part := strings.TrimSpace(r.FormValue("part")); part != "" {
			p.Ask.Part = part
		}
		return s.render(w, http.StatusOK, "heat", p)
	}
	p.Again = r.URL.RequestURI()
	err := p.enter(r)
	if err == nil {
		var st heatdesk.State
		if st, err = s.heat.Soon(r.Context(), p.Ask, heatPatience); err == nil {
			p.take(st)
			if !st.Ready {
				w.Header().Set("Refresh", "2")
			}
			return s.render(w, http.StatusOK, "heat", p)
		}
	}
	return s.again(w, err, "heat", &p.Base, p)
}

func newHeatPage(b Board, a heatdesk.Ask) *heatPage {
	p := &heatPage{Board: b, Ask: a, Words: heatdesk.Vocabulary()}
	p.fillRows()
	return p
}

func (p *heatPage) fillRows() {
	p.Rows = nil
	for i := range nearRows {
		row := NearRow{I: i}
		if i < len(p.Ask.Neighbours) {
			row.Near = p.Ask.Neighbours[i]
			row.Distance = figure(row.Near.Distance)
		}
		p.Rows = append(p.Rows, row)
	}
}

func (p *heatPage) take(st heatdesk.State) {
	p.State, p.Answer, p.Seconds = &st, st.Answer, int(st.Takes.Seconds())
	if st.Answer != nil {
		p.Picture = report.DrawHeat(st.Answer.Picture)
		if _, query, ok := strings.Cut(p.Again, "?"); ok {
			for i := range p.Picture.Moments {
				p.Picture.Moments[i].Save = fmt.Sprintf("/heat/picture?%s&moment=%d", query, i)
			}
		}
		if p.Case != "" && st.Answer.Family != "" {
			p.Steps = stepsPath(p.Case, st.Answer.Family, st.Answer.Ask.Part)
		}
	}
}

// enter reads the question from the address.
func (p *heatPage) enter(r *http.Request) error {
	a := &p.Ask
	for _, x := range []struct {
		key, what string
		to        *float64
	}{
		{"width", "the width of the board", &a.Width}, {"height", "the height of the board", &a.Height}, {"thickness", "its thickness", &a.Thickness},
		{"air", "the temperature of the air", &a.Air}, {"nozzle", "the nozzle", &a.Nozzle}, {"distance", "the distance of the nozzle", &a.Distance}, {"flow", "the flow", &a.Flow},
		{"tip", "the temperature of the tip", &a.Tip}, {"watts", "the power of the iron", &a.Watts}, {"preheat", "the preheater", &a.Preheat},
	} {
		if err := asked(r, x.key, x.what, x.to); err != nil {
			return err
		}
	}
	layers, year := float64(a.Layers), float64(a.Year)
	if err := asked(r, "layers", "the layers", &layers); err != nil {
		return err
	}
	if err := asked(r, "year", "the year", &year); err != nil {
		return err
	}
	a.Layers, a.Year = int(min(max(layers, -1), 1e6)), int(min(max(year, -1), 1e6))
	for key, to := range map[string]*string{"copper": &a.Copper, "place": &a.Place, "part": &a.Part, "package": &a.Package, "tool": &a.Tool, "tipkind": &a.TipKind, "alloy": &a.Alloy, "marking": &a.Marking} {
		if r.Form.Has(key) {
			*to = strings.TrimSpace(r.FormValue(key))
		}
	}
	for key, to := range map[string]*bool{"plane": &a.Plane, "grounded": &a.Grounded, "keep": &a.Keep, "flooded": &a.Flooded, "nopreheat": &a.NoPreheat} {
		*to = r.FormValue(key) == "yes"
	}
	return p.enterNear(r)
}

// enterNear reads the neighbours; a row with neither kind nor distance is left out.
func (p *heatPage) enterNear(r *http.Request) error {
	p.Ask.Neighbours = []heatdesk.Near{}
	p.fillRows()
	for i := range p.Rows {
		row := &p.Rows[i]
		key := func(k string) string { return strings.TrimSpace(r.FormValue(k + strconv.Itoa(i))) }
		row.Name, row.Kind, row.Side, row.Distance = key("nn"), key("nk"), key("ns"), key("nd")
	}
	for i, row := range p.Rows {
		if row.Kind == "" && row.Distance == "" && row.Name == "" {
			continue
		}
		name := row.Name
		if name == "" {
			name = "neighbour " + strconv.Itoa(i+1)
		}
		if row.Kind == "" {
			return refusal("it is not said what "+name+" is", "choose its kind")
		}
		n := row.Near
		if err := asked(r, "nd"+strconv.Itoa(i), "the distance of "+name, &n.Distance); err != nil {
			return err
		}
		p.Ask.Neighbours = append(p.Ask.Neighbours, n)
	}
	return nil
}

// asked reads a figure of a question; what is left out stays.
func asked(r *http.Request, key, what string, to *float64) error {
	text := strings.TrimSpace(r.FormValue(key))
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(decimalComma.ReplaceAllString(text, "$1.$2"), 64)
	if err != nil || v != v || v > 1e9 || v < -1e9 {
		return refusal(fmt.Sprintf("%s cannot be read as a figure: %q", what, clip(text)), "write it in digits, such as 1.6")
	}
	*to = v
	return nil
}

type limitsPage struct {
	Board
	T       *heatdesk.Tables
	Year    string
	Marking string
}

// heatLimits is the tables of alloys and of what parts stand.
func (s *Server) heatLimits(w http.ResponseWriter, r *http.Request) error {
	p := &limitsPage{Board: s.board(r, "Alloys and limits"), Year: strings.TrimSpace(r.FormValue("year")), Marking: strings.TrimSpace(r.FormValue("marking"))}
	year := 0.0
	err := asked(r, "year", "the year", &year)
	if err == nil {
		p.T, err = heatdesk.AlloysAndLimits(p.Year != "" || p.Marking != "", int(year), p.Marking)
	}
	if err == nil {
		return s.render(w, http.StatusOK, "limits", p)
	}
	tables, tableErr := heatdesk.AlloysAndLimits(false, 0, "")
	if tableErr != nil {
		return tableErr
	}
	p.T = tables
	return s.again(w, err, "limits", &p.Base, p)
}
