package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
)

type repairPage struct {
	Base
	V        *casework.View
	Path     string
	Action   string
	Step     casework.Step  // empty for a repair the note does not know
	Card     *casework.Card // nil if not ranked
	Warnings []casework.Warning
	What     string
	Money    string
	Minutes  string
	Correct  int
	Ways     []WayForm // polarised parts that go in new
	Style    string
	NoShelf  bool // the parts are not taken from the shelf
	Meant    bool
	AskMeant string // what to tick to write it down all the same
}

func newRepairPage(b Base, v *casework.View, id string) (*repairPage, error) {
	path := casePath(v.Header.Case)
	p := &repairPage{Base: b, V: v, Path: path, Action: path + "/repair"}
	p.Title = "Another repair"
	if id == "" {
		return p, nil
	}
	var err error
	if p.Step, err = stepOf(v.Repairs, id, "repair"); err != nil {
		return nil, err
	}
	p.Title, p.Action, p.Card = p.Step.Title, casePath(v.Header.Case, "repair", id), cardOf(v, "repair", id)
	for _, x := range v.Warnings {
		if x.Repair == id {
			p.Warnings = append(p.Warnings, x)
		}
	}
	return p, nil
}

// repairForm shows how a repair is done; without a repair it asks what was done.
func (s *Server) repairForm(w http.ResponseWriter, r *http.Request) error {
	p, err := s.repairPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "repair", p)
}

func (s *Server) repairPage(r *http.Request) (*repairPage, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	p, err := newRepairPage(s.base(r, "", ""), v, r.PathValue("repair"))
	if err == nil && p.Step.ID != "" {
		var list []casework.Polar
		list, err = s.bench.Polarised(r.Context(), v.Header.Case, p.Step.ID)
		p.Ways, p.Style = wayForms(list), s.static.path("rework.css")
	}
	return p, err
}

// repairRecord records a repair done.
func (s *Server) repairRecord(w http.ResponseWriter, r *http.Request) error {
	p, err := s.repairPage(r)
	if err != nil {
		return err
	}
	in, err := p.enter(r)
	if err == nil {
		err = s.askWays(r, p)
	}
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.RecordRepair(r.Context(), p.V.Header.Case, in); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "repair", &p.Base, p)
}

func (p *repairPage) enter(r *http.Request) (casework.Repairing, error) {
	p.What, p.Money, p.Minutes = strings.TrimSpace(r.PostFormValue("what")), r.PostFormValue("money"), r.PostFormValue("minutes")
	p.NoShelf = r.PostForm.Has("asked-shelf") && r.PostFormValue("shelf") != "yes"
	in := casework.Repairing{By: by(r), Repair: p.Step.ID, What: p.What, NoShelf: p.NoShelf}
	var err error
	if in.Money, err = number(r, "money", "the money"); err != nil {
		return in, err
	}
	in.Minutes, err = number(r, "minutes", "the minutes")
	return in, err
}
