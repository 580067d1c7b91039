package web

import (
	"context"
	"errors"
	"net/http"

	"fettler/internal/casework"
)

// A problem is what a visitor reads when something does not work.
type problem struct {
	Status  int
	Title   string
	Text    string
	Next    string
	Choices []casework.Choice
	Doubt   bool   // it can be written down all the same: the page offers so
	Back    string // where to go on
	BackTo  string // name of that place
}

// explain maps an error to what a visitor reads: the only place that does.
func explain(err error) problem {
	var tooBig *http.MaxBytesError
	if errors.As(err, &tooBig) {
		return problem{Status: http.StatusRequestEntityTooLarge, Title: "That is too long", Text: "More was sent than can be written down at once.", Next: "Shorten it and send it again."}
	}
	var e *casework.Error
	if !errors.As(err, &e) {
		return problem{Status: http.StatusInternalServerError, Title: "Something broke in here",
			Text: "The bench could not show this page. Nothing you recorded is lost.", Next: "Go back and try again; if it happens again, tell whoever looks after this bench."}
	}
	p := problem{Text: sentence(e.Text), Next: sentence(e.Next), Choices: e.Choices}
	switch e.Code {
	case casework.BadInput:
		p.Status, p.Title = http.StatusUnprocessableEntity, "That does not fit"
	case casework.Doubtful:
		p.Status, p.Title, p.Doubt = http.StatusUnprocessableEntity, "Is that right?", true
	case casework.Ambiguous:
		p.Status, p.Title = http.StatusUnprocessableEntity, "Which one?"
	case casework.NotFound:
		p.Status, p.Title = http.StatusNotFound, "Not here"
	case casework.Changed:
		p.Status, p.Title = http.StatusConflict, "The case has moved on"
	case casework.Closed:
		p.Status, p.Title = http.StatusConflict, "The case is closed"
	case casework.NoNote:
		p.Status, p.Title = http.StatusUnprocessableEntity, "There is no bench note"
	case casework.StoreFail:
		p.Status, p.Title = http.StatusServiceUnavailable, "The journal cannot be reached"
	default:
		p.Status, p.Title = http.StatusInternalServerError, "Something broke in here"
	}
	return p
}

// refusal is an error a page finds in what was typed, before casework sees it.
func refusal(text, next string) error {
	return &casework.Error{Code: casework.BadInput, Text: text, Next: next}
}

func missing(text, next string) error {
	return &casework.Error{Code: casework.NotFound, Text: text, Next: next}
}

type errorPage struct {
	Base
	Problem problem
}

// fail answers with the page of an error.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if errors.Is(err, context.Canceled) && r.Context().Err() != nil {
		return // nobody waits for the answer
	}
	p := explain(err)
	if p.Status >= 500 {
		s.log.Error("a page failed", "method", r.Method, "path", r.URL.Path, "err", err)
		var e *casework.Error
		if errors.As(err, &e) && e.Err != nil {
			s.log.Error("its cause", "err", e.Err)
		}
	}
	p.Back, p.BackTo = "/", "the bench"
	if id := r.PathValue("case"); id != "" && p.Status != http.StatusNotFound {
		p.Back, p.BackTo = casePath(id), "the case"
	}
	page := &errorPage{Base: s.base(r, p.Title, ""), Problem: p}
	if err := s.render(w, p.Status, "error", page); err != nil {
		s.log.Error("the error page failed", "err", err)
		http.Error(w, p.Title, p.Status)
	}
}

func (s *Server) nowhere(w http.ResponseWriter, r *http.Request) error {
	return missing("there is no page here", "go back to the bench")
}
