package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"fettler/internal/casework"
)

type whatIfPage struct {
	Inquiry
	W        *casework.WhatIf // nil until something is supposed
	Lines    []SuspectLine    // as they would be; Before is now
	Symptoms []FieldForm
	Checks   []SupposedCheck // the most telling first
	Record   string          // where it is written down if it is so
}

// A SupposedCheck is a check whose answers can be supposed.
type SupposedCheck struct {
	Step   casework.Step
	Fields []FieldForm
	Open   bool
}

// A Supposing is an outcome with where to see what it would change.
type Supposing struct {
	Label string
	P     float64
	Where string
}

// supposeURL is where to see what answers would change, or with do a test that
// fails or a repair.
func supposeURL(id, do string, told []casework.Told) string {
	q := url.Values{}
	for _, t := range told {
		q.Add("a", t.Finding+"="+t.Text)
	}
	if do != "" {
		q.Set("do", do)
	}
	return casePath(id, "what-if") + "?" + q.Encode()
}

// supposes are the outcomes of the next move.
func supposes(v *casework.View) []Supposing {
	var out []Supposing
	results, _, _ := v.Next.Read()
	for _, r := range results {
		s := Supposing{Label: r.Words, P: r.P}
		switch {
		case v.Next.Kind == "check" && !slices.ContainsFunc(r.Told, func(t casework.Told) bool { return t.Text == "" }):
			s.Where = supposeURL(v.Header.Case, "", r.Told)
		case v.Next.Kind == "test" && !r.Works:
			s.Where = supposeURL(v.Header.Case, "test", nil)
		case v.Next.Kind == "repair":
			s.Where = supposeURL(v.Header.Case, "repair:"+v.Next.ID, nil)
		default:
			continue
		}
		out = append(out, s)
	}
	return out
}

// whatIfShow shows what the answers in the address would change. It writes nothing down.
func (s *Server) whatIfShow(w http.ResponseWriter, r *http.Request) error {
	q, err := s.inquiry(r, "What if …?")
	if err != nil {
		return err
	}
	p := newWhatIfPage(q)
	deeds := p.supposed(r)
	if len(deeds) > 0 {
		if p.W, err = s.bench.WhatIf(r.Context(), q.V.Header.Case, deeds...); err != nil {
			return s.again(w, err, "what-if", &p.Base, p)
		}
		p.fill()
	}
	return s.render(w, http.StatusOK, "what-if", p)
}

// whatIfAsk takes the form and goes to the address of what it supposes.
func (s *Server) whatIfAsk(w http.ResponseWriter, r *http.Request) error {
	q, err := s.inquiry(r, "What if …?")
	if err != nil {
		return err
	}
	p := newWhatIfPage(q)
	answers := enterAll(r, p.Symptoms)
	for i := range p.Checks {
		answers = append(answers, enterAll(r, p.Checks[i].Fields)...)
	}
	if len(answers) == 0 {
		return s.again(w, refusal("nothing is supposed yet", "choose an answer to at least one question"), "what-if", &p.Base, p)
	}
	var told []casework.Told
	for _, a := range answers {
		told = append(told, casework.Told{Finding: a.Finding, Text: a.Text})
	}
	return goTo(w, r, supposeURL(q.V.Header.Case, "", told)+"#would")
}

func newWhatIfPage(q Inquiry) *whatIfPage {
	p := &whatIfPage{Inquiry: q, Symptoms: newFields(q.V.Symptoms)}
	listed := map[string]bool{}
	add := func(x casework.Step, open bool) {
		if !listed[x.ID] && len(x.Fields) > 0 {
			listed[x.ID] = true
			c := SupposedCheck{Step: x, Fields: newFields(x.Fields), Open: open}
			p.Checks = append(p.Checks, c)
		}
	}
	for i, c := range q.V.Ranking {
		if c.Kind == "check" {
			add(c.Step, i == 0)
		}
	}
	for _, c := range q.V.Checks {
		add(c, false)
	}
	return p
}

// supposed reads the address: answers, and with do a test that fails or a repair.
func (p *whatIfPage) supposed(r *http.Request) []casework.Deed {
	var deeds []casework.Deed
	switch kind, id, _ := strings.Cut(r.FormValue("do"), ":"); kind {
	case "test":
		deeds = append(deeds, casework.Testing{})
	case "repair":
		deeds = append(deeds, casework.Repairing{Repair: id})
	}
	var answers []casework.Answer
	for _, a := range r.Form["a"] {
		finding, text, _ := strings.Cut(a, "=")
		answers = append(answers, casework.Answer{Finding: finding, Text: text})
		p.choose(finding, text)
	}
	if len(answers) > 0 {
		deeds = append(deeds, casework.Suppose(p.V, answers)...)
	}
	return deeds
}

// choose puts an answer into the form.
func (p *whatIfPage) choose(finding, text string) {
	put := func(fields []FieldForm) bool {
		i := slices.IndexFunc(fields, func(f FieldForm) bool { return f.Finding == finding })
		if i < 0 {
			return false
		}
		fields[i].Value = text
		if n, of, ok := strings.Cut(text, " of "); ok && fields[i].Kind == "sign" {
			fields[i].Value, fields[i].Times, fields[i].Of = "sometimes", n, of
		}
		return true
	}
	put(p.Symptoms)
	for i := range p.Checks {
		if put(p.Checks[i].Fields) {
			p.Checks[i].Open = true
			p.Record = casePath(p.V.Header.Case, "check", p.Checks[i].Step.ID)
		}
	}
}

// fill lays out what would be.
func (p *whatIfPage) fill() {
	p.Lines, _ = suspectLines(p.W.Would)
}

// Same says that the same thing would be advised.
func (p *whatIfPage) Same() bool {
	was, would := p.W.Was, p.W.Would.Next
	return was != nil && would != nil && was.Kind == would.Kind && was.ID == would.ID
}
