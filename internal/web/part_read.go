package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"

	"fettler/internal/casework"
)

type readPage struct {
	PartsPage
	Ask   casework.MarkAsk
	Kinds []string
	Techs []string
	Marks *casework.Marks
	Poles []PoleDrawing
	Draw  *BandDrawing // of the bands read
}

// partRead reads a marking in all ways. The question is in the address.
func (s *Server) partRead(w http.ResponseWriter, r *http.Request) error {
	p := &readPage{PartsPage: s.partsPage(r, "Read a marking", "/parts"), Kinds: casework.PartKinds(), Techs: casework.PartTechs()}
	p.Ask = casework.MarkAsk{Text: strings.TrimSpace(r.FormValue("mark")), Kind: r.FormValue("kind"), Tech: r.FormValue("tech"), Burnt: r.FormValue("burnt") == "yes", Year: time.Now().Year()}
	p.Poles = drawPoles(casework.Poles())
	if p.Ask.Text == "" {
		return s.render(w, http.StatusOK, "part-read", p)
	}
	var err error
	if p.Marks, err = casework.ReadMarking(p.Ask); err != nil {
		return s.again(w, err, "part-read", &p.Base, p)
	}
	if len(p.Marks.Bands) > 0 {
		p.Draw = drawBands(p.Marks.Bands, -1)
	}
	return s.render(w, http.StatusOK, "part-read", p)
}

type bandsPage struct {
	PartsPage
	Draw    *BandDrawing
	At      int // band being picked
	Count   int
	Counts  []BandCount
	Palette []BandPick
	Marks   *casework.Marks
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
	casework.BandColour
	Path string
	Now  bool
}

// blank is a band not chosen yet.
const blank = "-"

// partBands lets colours be picked band by band. Every state is an address, so it
// works as plain links.
func (s *Server) partBands(w http.ResponseWriter, r *http.Request) error {
	p := &bandsPage{PartsPage: s.partsPage(r, "Colour bands", "/parts/bands"), Burnt: r.FormValue("burnt") == "yes"}
	bands := bandList(r.FormValue("bands"))
	p.Count, p.At = len(bands), 0
	p.At = min(atoi(r.FormValue("at")), len(bands)-1)
	p.Draw = drawBands(bands, p.At)
	for i := range p.Draw.Bands {
		p.Draw.Bands[i].Path = bandsPath(bands, i, p.Burnt)
	}
	for n := 3; n <= 6; n++ {
		p.Counts = append(p.Counts, BandCount{n, bandsPath(resized(bands, n), min(p.At, n-1), p.Burnt), n == len(bands)})
	}
	for _, c := range casework.BandColours() {
		with := append([]string(nil), bands...)
		name := c.Name
		if c.Code == "?" {
			name = "?"
		}
		with[p.At] = name
		p.Palette = append(p.Palette, BandPick{c, bandsPath(with, nextBlank(with, p.At), p.Burnt), bands[p.At] == name})
	}
	p.Turn, p.Clear = bandsPath(bands, p.At, !p.Burnt), bandsPath(resized(nil, len(bands)), 0, p.Burnt)
	for _, b := range bands {
		if b == blank {
			p.None = true
		}
	}
	if p.None {
		return s.render(w, http.StatusOK, "part-bands", p)
	}
	var err error
	if p.Marks, err = casework.ReadMarking(casework.MarkAsk{Text: strings.Join(bands, " "), Burnt: p.Burnt}); err != nil {
		return s.again(w, err, "part-bands", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-bands", p)
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
	for _, c := range casework.BandColours() {
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

func bandsPath(bands []string, at int, burnt bool) string {
	q := url.Values{"bands": {strings.Join(bands, ",")}, "at": {itoa(at)}}
	if burnt {
		q.Set("burnt", "yes")
	}
	return "/parts/bands?" + q.Encode() + "#pick"
}
