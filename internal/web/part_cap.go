package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
)

type capPage struct {
	PartsPage
	Ask    partdesk.CapAsk
	Prior  string
	Grades []string
	Cases  []casework.Listed
	Answer *partdesk.CapAnswer
	Path   string // of the case
	Life   partdesk.LifeAsk
	Lasts  *partdesk.LifeAnswer
	Plot   *Plot
	Fields []LifeField
	More   []LifeField // ripple, size and voltage
	Opened bool        // one of those was given
}

// A LifeField is a figure of the form about life.
type LifeField struct {
	Key, Label, Unit string
	Value            string
	to               *float64
}

// partCap judges a measured electrolytic, and says how long one lasts. Both questions
// are in the address.
func (s *Server) partCap(w http.ResponseWriter, r *http.Request) error {
	get := func(k string) string { return strings.TrimSpace(r.FormValue(k)) }
	base, err := s.partsPage(r, "Electrolytic capacitors", "/parts/electrolytic")
	if err != nil {
		return err
	}
	p := &capPage{PartsPage: base, Grades: partdesk.CapGrades(), Prior: get("prior"), Life: partdesk.UsualLife()}
	p.Ask = partdesk.CapAsk{Marked: get("marked"), Volts: get("volts"), Measured: get("measured"), ESR: get("esr"), Limit: get("limit"), Hertz: get("hertz"), Grade: get("grade"), In: get("in") == "yes", Case: get("case")}
	p.lifeFields()
	if p.Cases, err = s.openCases(r); err != nil {
		return err
	}
	if check := get("check"); check != "" && p.Ask.Marked+p.Ask.Volts == "" {
		if p.Ask.Marked, p.Ask.Volts, err = s.parts.CapOfCheck(r.Context(), p.Ask.Case, check); err != nil {
			return err
		}
	}
	if get("ask") == "life" {
		err = p.lasts(r)
	} else if p.Ask.Measured+p.Ask.ESR != "" || get("ask") != "" {
		err = s.judge(r, p)
	}
	if err != nil {
		return s.again(w, err, "part-cap", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-cap", p)
}

func (s *Server) judge(r *http.Request, p *capPage) error {
	if p.Prior != "" {
		v := 0.0
		if err := asked(r, "prior", "the chance before measuring", &v); err != nil {
			return err
		}
		v /= 100
		p.Ask.Prior = &v
	}
	var err error
	p.Answer, err = s.parts.JudgeCap(r.Context(), p.Ask)
	if p.Ask.Case != "" {
		p.Path = casePath(p.Ask.Case)
	}
	return err
}

func (p *capPage) lifeFields() {
	l := &p.Life
	p.Fields = []LifeField{
		{"hours", "Endurance of the old one", "h", "", &l.Hours}, {"rated", "stated for", "°C", "", &l.RatedC}, {"newhours", "Endurance of the better one", "h", "", &l.NewHours}, {"newrated", "stated for", "°C", "", &l.NewRatedC},
		{"air", "Air around it", "°C", "", &l.AmbientC}, {"ripple", "Ripple current", "A rms", "", &l.Ripple}, {"oldesr", "ESR", "Ω", "", &l.ESR}, {"newesr", "ESR of the better one", "Ω", "", &l.NewESR},
		{"d", "Diameter", "mm", "", &l.DiameterMM}, {"h", "Height", "mm", "", &l.HeightMM},
		{"working", "Voltage it sees", "V", "", &l.WorkingVolts}, {"ratedv", "Rated voltage", "V", "", &l.RatedVolts}, {"power", "Voltage exponent", "", "", &l.Exponent},
	}
	p.fill()
}

// fewFields are the figures that everybody can give.
const fewFields = 5

func (p *capPage) fill() {
	all := append(p.Fields, p.More...)
	for i := range all {
		all[i].Value = ""
		if v := *all[i].to; v != 0 {
			all[i].Value = figure(v)
			p.Opened = p.Opened || i >= fewFields
		}
	}
	p.Fields, p.More = all[:fewFields:fewFields], all[fewFields:]
}

// lasts takes the question about life, and answers it.
func (p *capPage) lasts(r *http.Request) error {
	for _, f := range append(p.Fields, p.More...) {
		if r.Form.Has(f.Key) && strings.TrimSpace(r.FormValue(f.Key)) == "" {
			*f.to = 0
		}
		if err := asked(r, f.Key, strings.ToLower(f.Label[:1])+f.Label[1:], f.to); err != nil {
			return err
		}
	}
	p.fill()
	return p.reckon()
}

// reckon answers how long it lasts, with a picture.
func (p *capPage) reckon() error {
	var err error
	if p.Lasts, err = partdesk.CapLife(p.Life); err != nil {
		return err
	}
	var x, old, better []float64
	for _, pt := range p.Lasts.Points {
		x, old, better = append(x, pt.AmbientC), append(old, pt.OldYears), append(better, pt.NewYears)
	}
	p.Plot = newPlot(x, 15.5, "air around it, °C", "years, day and night", map[string][]float64{"old": old, "better": better}, []string{"old", "better"})
	if p.Plot != nil {
		p.Plot.mark(x[0], x[len(x)-1], p.Life.AmbientC, "yours")
		p.Plot.Alt = p.Lasts.Words
	}
	return nil
}
