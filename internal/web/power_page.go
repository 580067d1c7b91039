package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
)

type powerPage struct {
	Board
	Ask      casework.PowerAsk
	Feeds    []string
	Watts    string
	Micro    string // µF of the largest capacitor
	Plan     *casework.FirstPower
	Leftover string
	Turned   string
	Closed   bool // nothing is described for it
}

// powerUpShow says how to give a device its first power after work on it.
func (s *Server) powerUpShow(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("case")
	v, err := s.bench.BoardWork(r.Context(), id)
	if err != nil {
		return err
	}
	p := &powerPage{Board: s.board(r, "First power"), Feeds: casework.PowerFeeds()}
	p.Path, p.CaseTitle = casePath(id), v.Title
	if p.Ask, err = s.bench.PowerAskOf(r.Context(), id); err != nil {
		return err
	}
	warn := casework.View{Out: v.Out, Turned: v.Turned}
	p.Leftover, p.Turned = warn.Leftover(), warn.Backwards()
	if p.Plan, err = s.bench.PowerUp(r.Context(), id, p.Ask); err == nil && p.Plan.Refused != "" {
		p.Closed = true
		return s.render(w, http.StatusOK, "power", p)
	}
	p.Plan = nil
	p.Micro = figure(round3(p.Ask.Farad * 1e6))
	if r.FormValue("ask") == "" {
		return s.render(w, http.StatusOK, "power", p)
	}
	err = p.enter(r)
	if err == nil {
		p.Plan, err = s.bench.PowerUp(r.Context(), id, p.Ask)
	}
	if err != nil {
		return s.again(w, err, "power", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "power", p)
}

func (p *powerPage) enter(r *http.Request) error {
	p.Ask.Feed = r.FormValue("feed")
	p.Watts, p.Micro = strings.TrimSpace(r.FormValue("watts")), strings.TrimSpace(r.FormValue("micro"))
	micro := 0.0
	p.Ask.Charge = 0
	for _, x := range []struct {
		key, what string
		to        *float64
	}{{"watts", "the power", &p.Ask.Watts}, {"volts", "the voltage", &p.Ask.Volts}, {"micro", "the capacitance", &micro}, {"charge", "the voltage across it", &p.Ask.Charge}} {
		if err := asked(r, x.key, x.what, x.to); err != nil {
			return err
		}
	}
	p.Ask.Farad = micro * 1e-6
	if p.Watts == "" {
		return refusal("it is not said how much power the device takes", "take it from the type plate, in watts")
	}
	return nil
}

// round3 keeps three figures of what is above zero.
func round3(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	scale := 1.0
	for x := v; x < 100; x *= 10 {
		scale *= 10
	}
	return float64(int64(v*scale+0.5)) / scale
}
