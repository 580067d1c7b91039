package web

import (
	"encoding/base64"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/quantity"
)

type settingsPage struct {
	Base
	V          *casework.View // nil for the settings of the whole bench
	Back       string
	Action     string
	Fields     []MoneyField
	Currency   string
	Currencies []string
	NoLive     bool
	Live       string // what was said of it: "yes" for never, "no", or nothing
	Trained    bool
	Tools      []Tick // instruments; ticked: lacking
	Hazards    []Tick // ticked: refused
	OtherTools string
	Who        string
	Saved      bool
}

// A MoneyField is a figure among the settings.
type MoneyField struct {
	Key   string
	Title string
	Means string
	Unit  string
	Value string
	now   float64
	put   func(*casework.Settled, *float64)
}

// A Tick is a box to tick.
type Tick struct {
	Name string
	Text string
	On   bool
}

// moneyFields are the figures, with what they do to the advice.
func moneyFields(s casework.Settings) []MoneyField {
	cur := s.Currency
	return []MoneyField{
		{"rate", "My own time", "What an hour of your time costs; 0 if it is for pleasure. Quick moves gain by it.", cur + " an hour", money6(s.Rate), s.Rate,
			func(p *casework.Settled, v *float64) { p.Rate = v }},
		{"worth", "Worth when it works", "What the working device is worth to whoever uses it. Nothing dearer than that pays.", cur, money6(s.Worth), s.Worth,
			func(p *casework.Settled, v *float64) { p.Worth = v }},
		{"budget", "Budget for parts", "The most to spend; 0 for no limit.", cur, money6(s.Budget), s.Budget,
			func(p *casework.Settled, v *float64) { p.Budget = v }},
		{"scrap", "Worth as it is", "What the broken one still brings or saves when you stop.", cur, money6(s.Scrap), s.Scrap,
			func(p *casework.Settled, v *float64) { p.Scrap = v }},
		{"day-rate", "A day of waiting", "What each day of waiting for parts costs; 0 if nobody minds.", cur + " a day", money6(s.DayRate), s.DayRate,
			func(p *casework.Settled, v *float64) { p.DayRate = v }},
		{"premium", "Avoiding a hazard", "What it is worth to do one dangerous move less.", cur + " a move", money6(s.Premium), s.Premium,
			func(p *casework.Settled, v *float64) { p.Premium = v }},
	}
}

func money6(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// newSettingsPage lays out settings. For the whole bench what depends on the device is left out.
func newSettingsPage(b Base, now casework.Settings, tools []string) *settingsPage {
	p := &settingsPage{Base: b, Fields: moneyFields(now), Currency: now.Currency, Currencies: quantity.Currencies(), NoLive: now.NoLive, Trained: now.Trained}
	switch {
	case now.NoLive:
		p.Live = "yes"
	case now.LiveSaid:
		p.Live = "no"
	}
	known := map[string]bool{}
	for _, t := range tools {
		known[t] = true
		p.Tools = append(p.Tools, Tick{Name: t, On: slices.Contains(now.Lacks, t)})
	}
	var others []string
	for _, t := range now.Lacks {
		if !known[t] {
			others = append(others, t)
		}
	}
	p.OtherTools = strings.Join(others, ", ")
	for _, k := range note.HazardKinds() {
		p.Hazards = append(p.Hazards, Tick{k.Name, k.Caution, slices.Contains(now.Refuse, k.Name)})
	}
	return p
}

// settingsForm shows the settings of the whole bench.
func (s *Server) settingsForm(w http.ResponseWriter, r *http.Request) error {
	p, _, err := s.benchSettingsPage(r)
	if err != nil {
		return err
	}
	p.Saved = r.FormValue("saved") != ""
	return s.render(w, http.StatusOK, "settings", p)
}

func (s *Server) benchSettingsPage(r *http.Request) (*settingsPage, casework.Settings, error) {
	now, err := s.bench.BenchSettings(r.Context())
	if err != nil {
		return nil, now, err
	}
	p := newSettingsPage(s.base(r, "Settings of the bench", "settings"), now, s.tools())
	p.Back, p.Action = "/", "/settings"
	p.Fields = slices.DeleteFunc(p.Fields, func(f MoneyField) bool { return f.Key == "worth" || f.Key == "scrap" })
	p.Who = by(r).Who
	return p, now, nil
}

// caseSettingsForm shows the settings of one case.
func (s *Server) caseSettingsForm(w http.ResponseWriter, r *http.Request) error {
	p, _, err := s.caseSettingsPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "settings", p)
}

func (s *Server) caseSettingsPage(r *http.Request) (*settingsPage, casework.Settings, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, casework.Settings{}, err
	}
	p := newSettingsPage(s.base(r, pageTitles["settings"], ""), v.Settings, toolsOf(v))
	p.V, p.Back = v, casePath(v.Header.Case)
	p.Action = p.Back + "/settings"
	return p, v.Settings, nil
}

// toolsOf lists the instruments this case's steps call for.
func toolsOf(v *casework.View) []string {
	var out []string
	for _, steps := range [][]casework.Step{v.Checks, v.Repairs} {
		for _, x := range steps {
			out = append(out, x.Tools()...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// settings changes the settings of the whole bench.
func (s *Server) settings(w http.ResponseWriter, r *http.Request) error {
	p, now, err := s.benchSettingsPage(r)
	if err != nil {
		return err
	}
	p.Who = strings.TrimSpace(r.PostFormValue("who"))
	change, err := p.enter(r, now)
	if err == nil && !unchanged(change) {
		_, err = s.bench.Settle(r.Context(), casework.BenchCase, casework.Settling{By: by(r), Settled: change})
	}
	if err != nil {
		return s.again(w, err, "settings", &p.Base, p)
	}
	http.SetCookie(w, &http.Cookie{Name: whoCookie, Value: cookieValue(clip(p.Who)), Path: "/", HttpOnly: true,
		SameSite: http.SameSiteLaxMode, MaxAge: 400 * 24 * 3600})
	return goTo(w, r, "/settings?saved=1")
}

// caseSettings changes the settings of one case.
func (s *Server) caseSettings(w http.ResponseWriter, r *http.Request) error {
	p, now, err := s.caseSettingsPage(r)
	if err != nil {
		return err
	}
	change, err := p.enter(r, now)
	if err == nil && unchanged(change) {
		return goTo(w, r, p.Back)
	}
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.Settle(r.Context(), p.V.Header.Case, casework.Settling{By: by(r), Settled: change}); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "settings", &p.Base, p)
}

func unchanged(p casework.Settled) bool { return p == casework.Settled{} }

// enter takes what was sent into the page and returns what differs from now.
func (p *settingsPage) enter(r *http.Request, now casework.Settings) (casework.Settled, error) {
	var out casework.Settled
	var first error
	for i := range p.Fields {
		f := &p.Fields[i]
		f.Value = strings.TrimSpace(r.PostFormValue(f.Key))
		v, err := number(r, f.Key, "“"+f.Title+"”")
		if err != nil && first == nil {
			first = err
		}
		if v != nil && *v != f.now {
			f.put(&out, v)
		}
	}
	if c := strings.TrimSpace(r.PostFormValue("currency")); c != "" && c != now.Currency {
		out.Currency, p.Currency = &c, c
	}
	if said := r.PostFormValue("no-live"); said == "yes" || said == "no" {
		p.Live, p.NoLive = said, said == "yes"
		if p.NoLive != now.NoLive || !now.LiveSaid {
			out.NoLive = &p.NoLive
		}
	}
	if p.Trained = r.PostFormValue("trained") == "yes"; p.Trained != now.Trained {
		out.Trained = &p.Trained
	}
	p.OtherTools = r.PostFormValue("other-tools")
	lacks := ticked(p.Tools, formList(r, "lacks"))
	for _, t := range strings.Split(p.OtherTools, ",") {
		if t = strings.TrimSpace(t); t != "" {
			lacks = append(lacks, t)
		}
	}
	if !sameSet(lacks, now.Lacks) {
		out.Lacks = &lacks
	}
	if refuse := ticked(p.Hazards, formList(r, "refuse")); !sameSet(refuse, now.Refuse) {
		out.Refuse = &refuse
	}
	return out, first
}

// ticked sets the boxes and returns the names of those on.
func ticked(boxes []Tick, on []string) []string {
	out := []string{}
	for i := range boxes {
		if boxes[i].On = slices.Contains(on, boxes[i].Name); boxes[i].On {
			out = append(out, boxes[i].Name)
		}
	}
	return out
}

func sameSet(a, b []string) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

// A cookie takes few characters; a name may have any.
func cookieValue(s string) string { return base64.RawURLEncoding.EncodeToString([]byte(s)) }

func cookieName(v string) string {
	b, err := base64.RawURLEncoding.DecodeString(v)
	if err != nil {
		return ""
	}
	return clip(string(b))
}
