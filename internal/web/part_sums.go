package web

import (
	"net/http"
	"strings"

	"fettler/internal/partdesk"
)

type combinePage struct {
	PartsPage
	Ask      partdesk.CombineAsk
	Elements []string
	C        *partdesk.Combined
	Most     int
}

// partCombine makes a value from what is at hand.
func (s *Server) partCombine(w http.ResponseWriter, r *http.Request) error {
	base, err := s.partsPage(r, "Make a value", "/parts/combine")
	if err != nil {
		return err
	}
	p := &combinePage{PartsPage: base, Elements: partdesk.CombineElements()}
	p.Most = 3
	if n := atoi(r.FormValue("most")); n >= 1 && n <= 4 {
		p.Most = n
	}
	p.Ask = partdesk.CombineAsk{Element: r.FormValue("of"), Value: strings.TrimSpace(r.FormValue("value")), Rating: r.FormValue("rating"), Parts: p.Most, Typed: r.FormValue("typed"), NoShelf: r.FormValue("noshelf") == "yes"}
	if p.Ask.Element == "" {
		p.Ask.Element = p.Elements[0]
	}
	if p.Ask.Value == "" {
		return s.render(w, http.StatusOK, "part-combine", p)
	}
	if p.C, err = s.parts.Combine(r.Context(), p.Ask); err != nil {
		return s.again(w, err, "part-combine", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-combine", p)
}

type dischargePage struct {
	PartsPage
	Ask  partdesk.ChargeAsk
	C    *partdesk.Charge
	Plot *Plot
}

// partDischarge says what a capacitor holds and how to empty it.
func (s *Server) partDischarge(w http.ResponseWriter, r *http.Request) error {
	get := func(k string) string { return strings.TrimSpace(r.FormValue(k)) }
	base, err := s.partsPage(r, "Empty a capacitor", "/parts/discharge")
	if err != nil {
		return err
	}
	p := &dischargePage{PartsPage: base}
	p.Ask = partdesk.ChargeAsk{Farad: get("farad"), Volts: get("volts"), Seconds: get("seconds"), Ohms: get("ohms"), Plug: get("plug") == "yes", Bleed: get("bleed")}
	if p.Ask.Farad+p.Ask.Volts == "" {
		return s.render(w, http.StatusOK, "part-discharge", p)
	}
	if err := p.take(); err != nil {
		return s.again(w, err, "part-discharge", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-discharge", p)
}

// take answers the question, with a picture.
func (p *dischargePage) take() error {
	var err error
	if p.C, err = partdesk.Discharge(p.Ask); err != nil {
		return err
	}
	if p.Plot = newPlot(p.C.CurveS, p.C.Volts*1.02, "seconds", "volts left", map[string][]float64{"volts": p.C.CurveV}, []string{"volts"}); p.Plot != nil {
		p.Plot.Alt = "The voltage falls quickly at first and slowly at the end"
		p.Plot.mark(0, p.C.ToOneVolt, p.C.Seconds, figureShort(p.C.EndAt)+" V")
	}
	return nil
}

func figureShort(v float64) string {
	return strings.TrimSuffix(figure(float64(int(v*10+0.5))/10), ".0")
}
