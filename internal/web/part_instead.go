package web

import (
	"net/http"
	"net/url"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
)

type insteadPage struct {
	PartsPage
	Ask    partdesk.InsteadAsk
	Pieces string
	Kinds  []string
	Duties []string
	Cases  []casework.Listed
	I      *partdesk.Instead
	Pole   *PoleDrawing
	Empty  bool         // nothing is on the shelf at all
	Repair string       // the repair one came from
	Wanted []WantedPart // what the repair takes, where the page was come to from one
	Ways   []WantedPart // how the old part can be written
}

// A WantedPart is a part to ask for.
type WantedPart struct {
	partdesk.RepairPart
	Path string // with it as the old part
	Now  bool
}

// insteadWays show how a part is written, one for each way of writing.
var insteadWays = []string{"electrolytic 470 µF 25 V 105 °C", "film capacitor 100 nF 63 V pitch 5 mm", "X2 capacitor 0.1 µF 275 V AC", "fusible resistor 10 Ω 1 W", "rectifier 600 V 3 A 75 ns",
	"N-channel MOSFET 600 V 7 A 0.6 Ω gate charge 38 nC TO-220", "regulator 5 V 1 A input 35 V TO-220", "relay coil 24 V contacts 250 V 16 A", "fuse T3.15AH250V", "thermal fuse 157 °C 10 A 250 V AC"}

func ways(keep string) []WantedPart {
	var out []WantedPart
	for _, w := range insteadWays {
		out = append(out, WantedPart{RepairPart: partdesk.RepairPart{Item: w}, Path: "/parts/instead?part=" + url.QueryEscape(w) + keep})
	}
	return out
}

// wanted takes the part from the case's bench note, where the page was come to from a repair.
// Of several, one is chosen on the page.
func (s *Server) wanted(r *http.Request, p *insteadPage) error {
	p.Ways = ways(p.keep())
	repair := r.FormValue("repair")
	if repair == "" || p.Ask.Case == "" {
		return nil
	}
	all, err := s.parts.RepairParts(r.Context(), p.Ask.Case, repair)
	if err != nil {
		return err
	}
	p.Repair = repair
	var known []partdesk.RepairPart
	for _, x := range all {
		if x.Whole {
			known = append(known, x)
		}
	}
	if p.Ask.Text == "" && len(known) == 1 {
		p.Ask.Text, p.Pieces = known[0].Part, itoa(known[0].Count)
		p.Ask.Pieces = known[0].Count
	}
	for _, x := range all {
		q := url.Values{"part": {x.Part}, "pieces": {itoa(x.Count)}, "case": {p.Ask.Case}, "repair": {repair}}
		p.Wanted = append(p.Wanted, WantedPart{x, "/parts/instead?" + q.Encode(), x.Part != "" && x.Part == p.Ask.Text})
	}
	return nil
}

// partInstead says what will do instead of a part.
func (s *Server) partInstead(w http.ResponseWriter, r *http.Request) error {
	base, err := s.partsPage(r, "What will do instead", "/parts/instead")
	if err != nil {
		return err
	}
	p := &insteadPage{PartsPage: base, Kinds: partdesk.Kinds(), Duties: partdesk.Duties(), Pieces: r.FormValue("pieces")}
	p.Ask = partdesk.InsteadAsk{Text: strings.TrimSpace(r.FormValue("part")), Kind: r.FormValue("kind"), Duty: r.FormValue("duty"), Working: r.FormValue("working"), Pieces: atoi(p.Pieces), Case: r.FormValue("case"), Have: strings.TrimSpace(r.FormValue("have")), Refused: r.FormValue("refused") == "yes"}
	if p.Cases, err = s.openCases(r); err != nil {
		return err
	}
	if err := s.wanted(r, p); err != nil {
		return err
	}
	if p.Ask.Text == "" {
		return s.render(w, http.StatusOK, "part-instead", p)
	}
	i, err := s.parts.Instead(r.Context(), p.Ask)
	if err != nil {
		return s.again(w, err, "part-instead", &p.Base, p)
	}
	p.take(i)
	return s.render(w, http.StatusOK, "part-instead", p)
}

func (p *insteadPage) take(i *partdesk.Instead) {
	p.I, p.Empty = i, true
	if i.Polarity != nil {
		d := drawPole(*i.Polarity)
		p.Pole = &d
	}
	for _, c := range i.Counts {
		p.Empty = p.Empty && c.Lines == 0
	}
}

// openCases are the cases that are not closed.
func (s *Server) openCases(r *http.Request) ([]casework.Listed, error) {
	all, err := s.bench.List(r.Context())
	var out []casework.Listed
	for _, l := range all {
		if l.Open() {
			out = append(out, l)
		}
	}
	return out, err
}
