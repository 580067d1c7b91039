package web

import (
	"net/http"
	"slices"
	"strings"

	"fettler/internal/casework"
)

type partsPage struct {
	Base
	V       *casework.View
	Path    string
	Action  string
	Choices []PartsChoice
	What    string
	Money   string
	Days    string
	Here    bool
	Correct int
}

// A PartsChoice is a repair that needs parts.
type PartsChoice struct {
	casework.Step
	Chosen bool
}

// newPartsPage offers the repairs that need parts, those of the likelier suspects first.
func newPartsPage(b Base, v *casework.View, chosen []string) *partsPage {
	path := casePath(v.Header.Case)
	p := &partsPage{Base: b, V: v, Path: path, Action: path + "/parts"}
	ranks := map[string]int{}
	for i, c := range v.Ranking {
		if c.Kind == "repair" {
			ranks[c.ID] = i + 1
		}
	}
	for _, x := range v.Repairs {
		if len(x.Buys) == 0 {
			continue
		}
		p.Choices = append(p.Choices, PartsChoice{Step: x, Chosen: slices.Contains(chosen, x.ID)})
	}
	slices.SortStableFunc(p.Choices, func(a, b PartsChoice) int {
		ra, rb := ranks[a.ID], ranks[b.ID]
		switch {
		case a.Chosen != b.Chosen:
			if a.Chosen {
				return -1
			}
			return 1
		case ra == 0 || rb == 0:
			return rb - ra
		}
		return ra - rb
	})
	for _, c := range p.Choices {
		if c.Chosen {
			p.Money, p.Days = coins(c.Step.Money), figure(c.Step.Days)
		}
	}
	return p
}

// partsForm asks what was ordered or bought; with ?repair= for that repair.
func (s *Server) partsForm(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "parts", newPartsPage(s.base(r, pageTitles["parts"], ""), v, r.URL.Query()["repair"]))
}

// partsRecord records an order.
func (s *Server) partsRecord(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := newPartsPage(s.base(r, pageTitles["parts"], ""), v, formList(r, "repair"))
	in, err := p.enter(r)
	if err == nil {
		var rec casework.Receipt
		if rec, err = s.bench.Order(r.Context(), v.Header.Case, in); err == nil {
			return written(w, r, rec)
		}
	}
	return s.again(w, err, "parts", &p.Base, p)
}

func (p *partsPage) enter(r *http.Request) (casework.Ordering, error) {
	p.What, p.Money, p.Days = strings.TrimSpace(r.PostFormValue("what")), r.PostFormValue("money"), r.PostFormValue("days")
	p.Here = r.PostFormValue("here") == "yes"
	in := casework.Ordering{By: by(r), Repairs: formList(r, "repair"), What: p.What, Here: p.Here}
	var err error
	if in.Money, err = orZero(r, "money", "the money"); err != nil {
		return in, err
	}
	in.Days, err = orZero(r, "days", "the days")
	return in, err
}

// partsArrive records that an order has come.
func (s *Server) partsArrive(w http.ResponseWriter, r *http.Request) error {
	n, err := eventNumber(r.PostFormValue("order"))
	if err != nil {
		return err
	}
	rec, err := s.bench.Arrive(r.Context(), r.PathValue("case"), casework.Arriving{By: by(r), Order: n})
	if err != nil {
		return err
	}
	return written(w, r, rec)
}

// formList is every value sent under a key.
func formList(r *http.Request, key string) []string {
	if err := r.ParseForm(); err != nil {
		return nil
	}
	return r.PostForm[key]
}
