package web

import (
	"bytes"
	"errors"
	"io"
	"net/http"
	"strconv"

	"fettler/internal/casework"
)

// learntRoutes are the pages of what closed cases teach.
func (s *Server) learntRoutes() []route {
	return []route{
		{"GET /learnt", s.learntShow},
		{"GET /learnt/share", s.learntShare},
		{"POST /learnt/switch", s.learntSwitch},
		{"POST /learnt/carbon", s.learntCarbon},
		{"POST /learnt/undo", s.learntUndo},
	}
}

// mostShared is the largest file of another bench taken here; the command line takes larger ones.
const mostShared = 64 << 20

type learntPage struct {
	Base
	Style        string
	V            *casework.Learnt
	Calibrations []CalibrationCard
	Costs        []CostCard
	NetPlot      *Graph
	KgPlot       *Graph
	Currency     string
	Carbon       string
	Source       string
	Took         bool
}

// A CalibrationCard is one sort of stated chances, drawn.
type CalibrationCard struct {
	casework.Calibrated
	Graph *Graph
}

// A CostCard is one currency's misses, drawn.
type CostCard struct {
	casework.CostMiss
	MoneyPlot, MinutePlot *Graph
}

func (s *Server) learntPage(r *http.Request) (*learntPage, error) {
	v, err := s.bench.Learnt(r.Context())
	if err != nil {
		return nil, err
	}
	now, err := s.bench.BenchSettings(r.Context())
	if err != nil {
		return nil, err
	}
	p := newLearntPage(s.base(r, "What we learnt", "learnt"), v)
	p.Style, p.Carbon, p.Source = s.static.path("proof.css"), figure(now.Carbon), now.CarbonSource
	return p, nil
}

func newLearntPage(b Base, v *casework.Learnt) *learntPage {
	p := &learntPage{Base: b, V: v}
	for _, c := range v.Calibration {
		p.Calibrations = append(p.Calibrations, CalibrationCard{c, calibrationPlot(c)})
	}
	for _, c := range v.Costs {
		p.Costs = append(p.Costs, CostCard{c, costPlot(c.Money.Pairs, c.Currency), costPlot(c.Minutes.Pairs, "minutes")})
	}
	if len(v.Savings.Money) > 0 {
		p.Currency = v.Savings.Money[0].Currency
		for _, m := range v.Savings.Money {
			if m.Worth+m.Spent > v.Savings.Money[0].Worth+v.Savings.Money[0].Spent {
				p.Currency = m.Currency
			}
		}
		p.NetPlot = runningPlot(v.Savings.Months, func(m casework.SavedMonth) float64 { return netOf(m, p.Currency) }, "saved, "+p.Currency)
	}
	p.KgPlot = runningPlot(v.Savings.Months, func(m casework.SavedMonth) float64 { return m.Kg }, "kept from the bin, kg")
	return p
}

// learntShow shows what closed cases have taught.
func (s *Server) learntShow(w http.ResponseWriter, r *http.Request) error {
	p, err := s.learntPage(r)
	if err != nil {
		return err
	}
	p.Took = r.FormValue("took") != ""
	return s.render(w, http.StatusOK, "learnt", p)
}

// learntShare is the file for other benches.
func (s *Server) learntShare(w http.ResponseWriter, r *http.Request) error {
	var b bytes.Buffer
	if err := s.bench.ShareLessons(r.Context(), &b); err != nil {
		return err
	}
	return s.download(w, "closed-cases.jsonl", "application/jsonl", b.Bytes())
}

// download sends a file to be kept.
func (s *Server) download(w http.ResponseWriter, name, kind string, data []byte) error {
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	h.Set("Content-Length", strconv.Itoa(len(data)))
	if _, err := w.Write(data); err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}

// learntSwitch says whether to reckon with closed cases.
func (s *Server) learntSwitch(w http.ResponseWriter, r *http.Request) error {
	on := r.PostFormValue("learn") == "yes"
	if _, err := s.bench.Settle(r.Context(), casework.BenchCase, casework.Settling{By: by(r), Settled: casework.Settled{Learn: &on}}); err != nil {
		return err
	}
	return goTo(w, r, "/learnt")
}

// learntCarbon sets the factor for CO₂ with its source.
func (s *Server) learntCarbon(w http.ResponseWriter, r *http.Request) error {
	p, err := s.learntPage(r)
	if err != nil {
		return err
	}
	p.Carbon, p.Source = r.PostFormValue("carbon"), r.PostFormValue("source")
	factor, err := orZero(r, "carbon", "the factor")
	if err == nil {
		_, err = s.bench.Settle(r.Context(), casework.BenchCase, casework.Settling{By: by(r), Settled: casework.Settled{Carbon: &factor, CarbonSource: &p.Source}})
	}
	if err != nil {
		return s.again(w, err, "learnt", &p.Base, p)
	}
	return goTo(w, r, "/learnt#saved")
}

// learntUndo takes out again what was taken over.
func (s *Server) learntUndo(w http.ResponseWriter, r *http.Request) error {
	n, err := eventNumber(r.PostFormValue("event"))
	if err == nil && n == 0 {
		err = refusal("it is not said what to take out", "go back and choose one")
	}
	if err == nil {
		_, err = s.bench.Undo(r.Context(), casework.BenchCase, n, by(r))
	}
	if err != nil {
		return err
	}
	return goTo(w, r, "/learnt#others")
}

// learntTake takes over what another bench has learnt. The form is read as it
// comes, so nothing is put on the disk on the way.
func (s *Server) learntTake(w http.ResponseWriter, r *http.Request) error {
	p, err := s.learntPage(r)
	if err != nil {
		return err
	}
	file, err := sentFile(r)
	if err == nil {
		_, err = s.bench.TakeOver(r.Context(), file, by(r))
	}
	if err != nil {
		return s.again(w, err, "learnt", &p.Base, p)
	}
	return goTo(w, r, "/learnt?took=yes#others")
}

// sentFile is the file in a form that has one, as it comes.
func sentFile(r *http.Request) (io.Reader, error) {
	nothing := refusal("no file was sent", "choose a file, then send it")
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, nothing
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil, nothing
		}
		if err != nil {
			return nil, &casework.Error{Code: casework.BadInput, Text: "the file did not arrive whole", Next: "send it once more", Err: err}
		}
		if part.FormName() == "file" {
			if part.FileName() == "" {
				return nil, nothing
			}
			return part, nil
		}
	}
}

func netOf(m casework.SavedMonth, currency string) float64 {
	for _, n := range m.Net {
		if n.Currency == currency {
			return n.Net
		}
	}
	return 0
}
