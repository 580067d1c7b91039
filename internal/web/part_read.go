package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"fettler/internal/partdesk"
)

type readPage struct {
	PartsPage
	Ask   partdesk.MarkAsk
	Kinds []string
	Techs []string
	Marks *MarksRead
	Poles []PoleDrawing
	Draw  *BandDrawing // of the bands read
}

func (p *readPage) take(m *partdesk.Marks) {
	p.Marks = newMarksRead(m, p.keep())
	if len(m.Bands) > 0 {
		p.Draw = drawBands(m.Bands, -1)
	}
}

// MarksRead is readings as they are shown: the likelier ones, and the rest to be opened.
type MarksRead struct {
	Top, More []MarkRead
	Count     int
	Rest      float64
}

// A MarkRead is one reading with where it leads to.
type MarkRead struct {
	partdesk.Mark
	Why     string   // the first reason
	Reasons []string // the others
	Pole    *PoleDrawing
	Instead string // address
	Stock   string // address
}

// leastMark is how plausible a reading must be to be shown at once; the first is in any case.
const leastMark = 0.05

func newMarksRead(m *partdesk.Marks, keep string) *MarksRead {
	out := &MarksRead{Count: len(m.Readings), Rest: m.Rest}
	drawn := map[string]bool{}
	for i, x := range m.Readings {
		r := MarkRead{Mark: x, Instead: "/parts/instead?part=" + url.QueryEscape(x.As) + keep, Stock: "/shelf?name=" + url.QueryEscape(x.As) + "#new"}
		if len(x.Reasons) > 0 {
			r.Why, r.Reasons = x.Reasons[0], x.Reasons[1:]
		}
		if x.Polarity != nil && !drawn[x.Polarity.Words] {
			d := drawPole(*x.Polarity)
			r.Pole, drawn[x.Polarity.Words] = &d, true
		}
		if i == 0 || x.Plausibility >= leastMark {
			out.Top = append(out.Top, r)
		} else {
			out.More = append(out.More, r)
		}
	}
	return out
}

// partRead reads a marking in all ways. The question is in the address.
func (s *Server) partRead(w http.ResponseWriter, r *http.Request) error {
	base, err := s.partsPage(r, "Read a marking", "/parts")
	if err != nil {
		return err
	}
	p := &readPage{PartsPage: base, Kinds: partdesk.Kinds(), Techs: partdesk.Techs()}
	p.Ask = partdesk.MarkAsk{Text: strings.TrimSpace(r.FormValue("mark")), Kind: r.FormValue("kind"), Tech: r.FormValue("tech"), Burnt: r.FormValue("burnt") == "yes", Year: time.Now().Year()}
	p.Poles = drawPoles(partdesk.Poles())
	if p.Ask.Text == "" {
		return s.render(w, http.StatusOK, "part-read", p)
	}
	m, err := partdesk.ReadMarking(p.Ask)
	if err != nil {
		return s.again(w, err, "part-read", &p.Base, p)
	}
	p.take(m)
	return s.render(w, http.StatusOK, "part-read", p)
}

type bandsPage struct {
	PartsPage
	Draw    *BandDrawing
	At      int // band being picked
	Counts  []BandCount
	Palette []BandPick
	Marks   *MarksRead
	Burnt   bool
	Turn    string // address with the burnt box turned
	None    bool   // no band chosen yet
	Clear   string
}

// A BandCount is so many bands.
type BandCount struct {
	N    int
	Path string
	Now  bool
}

// A BandPick is a colour of the palette.
type BandPick struct {
	partdesk.BandColour
	Path string
	Now  bool
}

// blank is a band not chosen yet.
const blank = "-"

// partBands lets colours be picked band by band. Every state is an address, so it
// works as plain links.
func (s *Server) partBands(w http.ResponseWriter, r *http.Request) error {
	base, err := s.partsPage(r, "Colour bands", "/parts/bands")
	if err != nil {
		return err
	}
	p := &bandsPage{PartsPage: base, Burnt: r.FormValue("burnt") == "yes"}
	if err := p.show(r.FormValue("bands"), atoi(r.FormValue("at"))); err != nil {
		return s.again(w, err, "part-bands", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-bands", p)
}

// show draws the bands of an address, and reads them once all are chosen.
func (p *bandsPage) show(text string, at int) error {
	bands := bandList(text)
	p.At = min(at, len(bands)-1)
	p.Draw = drawBands(bands, p.At)
	p.Draw.Picks = true
	for i := range p.Draw.Bands {
		p.Draw.Bands[i].Path = p.path(bands, i)
	}
	for n := 3; n <= 6; n++ {
		p.Counts = append(p.Counts, BandCount{n, p.path(resized(bands, n), min(p.At, n-1)), n == len(bands)})
	}
	for _, c := range partdesk.BandColours() {
		with := slices.Clone(bands)
		name := c.Name
		if c.Code == "?" {
			name = "?"
		}
		with[p.At] = name
		p.Palette = append(p.Palette, BandPick{c, p.path(with, nextBlank(with, p.At)), bands[p.At] == name})
	}
	p.Clear = p.path(resized(nil, len(bands)), 0)
	turned := *p
	turned.Burnt = !p.Burnt
	p.Turn = turned.path(bands, p.At)
	if p.None = slices.Contains(bands, blank); p.None {
		return nil
	}
	m, err := partdesk.ReadMarking(partdesk.MarkAsk{Text: strings.Join(bands, " "), Burnt: p.Burnt})
	if err != nil {
		return err
	}
	p.Marks = newMarksRead(m, p.keep())
	return nil
}

// bandList reads the colours of an address; what is no colour is blank.
func bandList(text string) []string {
	var out []string
	for _, b := range strings.Split(text, ",") {
		if b != blank && !isColour(b) {
			continue
		}
		out = append(out, b)
	}
	if len(out) < 3 {
		return resized(out, 4)
	}
	return resized(out, min(len(out), 6))
}

func isColour(s string) bool {
	for _, c := range partdesk.BandColours() {
		if c.Name == s || s == "?" {
			return true
		}
	}
	return false
}

func resized(bands []string, n int) []string {
	out := append([]string(nil), bands[:min(n, len(bands))]...)
	for len(out) < n {
		out = append(out, blank)
	}
	return out
}

// nextBlank is the first band not chosen after at, else the one after it.
func nextBlank(bands []string, at int) int {
	for i := range bands {
		if j := (at + 1 + i) % len(bands); bands[j] == blank {
			return j
		}
	}
	return min(at+1, len(bands)-1)
}

// path is the address of the page with these bands, of which the one at is picked next.
func (p *bandsPage) path(bands []string, at int) string {
	q := url.Values{"bands": {strings.Join(bands, ",")}, "at": {itoa(at)}}
	if p.Burnt {
		q.Set("burnt", "yes")
	}
	if p.From != nil {
		q.Set("case", p.From.Case)
	}
	return "/parts/bands?" + q.Encode() + "#pick"
}
