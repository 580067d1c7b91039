package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// A correction is the entry form of an event once more, with what it says now.
type correction struct {
	name string // of the page
	page any
	base *Base
	// deed makes what the form sends into the deed that should have been recorded.
	deed func(r *http.Request) (casework.Deed, error)
}

type textPage struct {
	Base
	V       *casework.View
	Path    string
	Action  string
	Event   int
	Kind    casework.Kind
	Text    string
	Label   string
	Age     string
	Device  string
	Devices []casework.Device
	Owner   casework.Owner
	Worth   string
	Private bool // a remark for this bench alone
}

// amends tells the kinds of event there is a form for.
func amends(k casework.Kind) bool {
	switch k {
	case casework.KindOpened, casework.KindSaid, casework.KindNoticed, casework.KindChecked, casework.KindRepaired, casework.KindTested,
		casework.KindOrdered, casework.KindRemarked:
		return true
	}
	return boardKind(k)
}

// correctForm shows the form of an event to be put right.
func (s *Server) correctForm(w http.ResponseWriter, r *http.Request) error {
	c, _, _, err := s.correction(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, c.name, c.page)
}

// correct puts an event right.
func (s *Server) correct(w http.ResponseWriter, r *http.Request) error {
	c, v, n, err := s.correction(r)
	if err != nil {
		return err
	}
	d, err := c.deed(r)
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.Correct(r.Context(), v.Header.Case, n, d); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, c.name, c.base, c.page)
}

func (s *Server) correction(r *http.Request) (*correction, *casework.View, int, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, nil, 0, err
	}
	n, err := eventNumber(r.PathValue("event"))
	if err != nil {
		return nil, nil, 0, err
	}
	e := entryOf(v, n)
	switch {
	case e == nil:
		return nil, nil, 0, missing(fmt.Sprintf("this case has no event %d", n), "take one of those it lists")
	case !e.CanAmend || !amends(e.Kind):
		return nil, nil, 0, refusal(fmt.Sprintf("event %d (%s) cannot be put right here", n, e.Words), "undo it and record the right thing")
	}
	c, err := s.correctionOf(r, v, e)
	return c, v, n, err
}

func (s *Server) correctionOf(r *http.Request, v *casework.View, e *casework.Entry) (*correction, error) {
	action := casePath(v.Header.Case, "correct", strconv.Itoa(e.Event))
	b := s.base(r, "Put right: "+e.Words, "")
	ctx := r.Context()
	switch e.Kind {
	case casework.KindNoticed:
		return s.correctNoticed(ctx, b, v, e, action)
	case casework.KindChecked:
		return s.correctChecked(ctx, b, v, e, action)
	case casework.KindRepaired:
		return s.correctRepaired(ctx, b, v, e, action)
	case casework.KindTested:
		return s.correctTested(ctx, b, v, e, action)
	case casework.KindOrdered:
		return s.correctOrdered(ctx, b, v, e, action)
	}
	if boardKind(e.Kind) {
		return s.correctBoard(ctx, b, v, e, action)
	}
	return s.correctText(ctx, b, v, e, action)
}

func (s *Server) correctNoticed(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	var was casework.Noticed
	if err := s.payload(ctx, v, e.Event, &was); err != nil {
		return nil, err
	}
	p := newLookPage(b, v)
	p.Action, p.Correct, p.Before = action, e.Event, was.Before
	knowAll(p.Fields, was.Values)
	return &correction{"look", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		in := casework.Noticing{By: by(r), Answers: enterAll(r, p.Fields)}
		var err error
		p.Before, err = eventNumber(r.PostFormValue("before"))
		in.Before = p.Before
		return in, err
	}}, nil
}

func (s *Server) correctChecked(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	var was casework.Checked
	if err := s.payload(ctx, v, e.Event, &was); err != nil {
		return nil, err
	}
	p, err := newCheckPage(b, v, was.Check)
	if err != nil {
		return nil, err
	}
	p.Title, p.Action, p.Correct, p.Before, p.Minutes = b.Title, action, e.Event, was.Before, figure(was.Minutes)
	knowAll(p.Fields, was.Values)
	return &correction{"check", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		in, err := p.enter(r)
		return in, err
	}}, nil
}

func (s *Server) correctRepaired(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	var was casework.Repaired
	if err := s.payload(ctx, v, e.Event, &was); err != nil {
		return nil, err
	}
	p, err := newRepairPage(b, v, was.Repair)
	if err != nil {
		return nil, err
	}
	p.Title, p.Action, p.Correct, p.What, p.Money, p.Minutes = b.Title, action, e.Event, was.What, coins(was.Money), figure(was.Minutes)
	return &correction{"repair", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		in, err := p.enter(r)
		return in, err
	}}, nil
}

func (s *Server) correctTested(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	var was casework.Tested
	if err := s.payload(ctx, v, e.Event, &was); err != nil {
		return nil, err
	}
	p := newTestPage(b, v)
	p.Action, p.Correct, p.Works, p.Minutes, p.Open = action, e.Event, "no", figure(was.Minutes), was.Open
	if was.Works {
		p.Works = "yes"
	}
	knowAll(p.Showed, was.Values)
	knowAll(p.Others, was.Values)
	return &correction{"test", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		in, err := p.enter(r)
		return in, err
	}}, nil
}

func (s *Server) correctOrdered(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	var was casework.Ordered
	if err := s.payload(ctx, v, e.Event, &was); err != nil {
		return nil, err
	}
	p := newPartsPage(b, v, was.Repairs)
	p.Action, p.Correct, p.What, p.Money, p.Days, p.Here = action, e.Event, was.What, coins(was.Money), figure(was.Days), was.Here
	return &correction{"parts", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		in, err := p.enter(r)
		return in, err
	}}, nil
}

// correctText is for what is mostly words: the opening, what was said, a remark.
func (s *Server) correctText(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	p := &textPage{Base: b, V: v, Path: casePath(v.Header.Case), Action: action, Event: e.Event, Kind: e.Kind}
	switch e.Kind {
	case casework.KindOpened:
		return s.correctOpened(ctx, p)
	case casework.KindSaid:
		var was casework.Said
		if err := s.payload(ctx, v, e.Event, &was); err != nil {
			return nil, err
		}
		p.Text = was.Text
	default:
		var was casework.Remarked
		if err := s.payload(ctx, v, e.Event, &was); err != nil {
			return nil, err
		}
		p.Text, p.Private = was.Words()
	}
	return &correction{"text", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		p.Text = r.PostFormValue("text")
		if e.Kind == casework.KindSaid {
			return casework.Saying{By: by(r), Text: p.Text}, nil
		}
		p.Private = r.PostFormValue("private") == "yes"
		return casework.Remarking{By: by(r), Text: p.Text, Private: p.Private}, nil
	}}, nil
}

func (s *Server) correctOpened(ctx context.Context, p *textPage) (*correction, error) {
	var was casework.Opened
	if err := s.payload(ctx, p.V, p.Event, &was); err != nil {
		return nil, err
	}
	p.Title = "What it is and whose"
	p.Device, p.Label, p.Age, p.Devices = was.Device, was.Label, figure(was.Age), s.bench.Devices(ctx)
	if was.Private != nil {
		p.Owner = *was.Private
	}
	if was.Worth != nil {
		p.Worth = money6(*was.Worth)
	}
	return &correction{"text", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
		p.Device, p.Label, p.Age, p.Worth = get("device"), get("label"), get("age"), get("worth")
		p.Owner = casework.Owner{Name: get("owner"), Contact: get("contact")}
		in := casework.Opening{By: by(r), Device: p.Device, Category: was.Category, Label: p.Label, Owner: p.Owner, Demo: was.Demo}
		var err error
		if in.Age, err = orZero(r, "age", "the age"); err != nil {
			return nil, err
		}
		in.Worth, err = number(r, "worth", "the worth")
		return in, err
	}}, nil
}
