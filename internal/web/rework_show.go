package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

type reworkPage struct {
	Board
	V        *casework.BoardWork
	Families []casework.ReworkFamily
	Sorts    []string
	Off      struct{ Sort, What, Where, Count string } // as entered
	Photo    struct{ Caption, Side, Stage string }
	Sides    []string
	Stages   []string
	Ways     []WayForm
	Pairs    []photoPair
}

// A WayForm is a polarised part in a form.
type WayForm struct {
	casework.Polar
	I          int // in its form
	Directions []string
}

func wayForms(list []casework.Polar) []WayForm {
	out := make([]WayForm, len(list))
	for i, p := range list {
		out[i] = WayForm{Polar: p, I: i, Directions: casework.Directions()}
	}
	return out
}

// reworkShow is the hub of work at the board: steps, screws, pictures, which way round.
func (s *Server) reworkShow(w http.ResponseWriter, r *http.Request) error {
	p, err := s.reworkPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "rework", p)
}

func (s *Server) reworkPage(r *http.Request) (*reworkPage, error) {
	v, err := s.bench.BoardWork(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return newReworkPage(s.board(r, "Work at the board"), v), nil
}

func newReworkPage(b Board, v *casework.BoardWork) *reworkPage {
	b.Path, b.CaseTitle, b.Hub = casePath(v.Case), v.Title, true
	p := &reworkPage{Board: b, V: v, Families: casework.ReworkFamilies(), Sorts: casework.RemovedSorts(), Sides: casework.BoardSides(), Stages: casework.Stages(),
		Ways: wayForms(v.Polar), Pairs: pairsOf(v)}
	p.Photo.Side, p.Photo.Stage = nextPicture(v)
	return p
}

// nextPicture is the side and the stage of which there is no picture yet, both sides before
// the repair first; nothing if there is one of each.
func nextPicture(v *casework.BoardWork) (side, stage string) {
	for _, stage := range casework.Stages() {
		for _, side := range casework.BoardSides() {
			if !slices.ContainsFunc(v.Photos, func(p casework.PhotoInfo) bool { return p.Side == side && p.Stage == stage }) {
				return side, stage
			}
		}
	}
	return "", ""
}

// backTo redirects to the hub.
func backTo(w http.ResponseWriter, r *http.Request, id, anchor string) error {
	return goTo(w, r, casePath(id, "rework")+anchor)
}

// takeOff records what was taken off.
func (s *Server) takeOff(w http.ResponseWriter, r *http.Request) error {
	p, err := s.reworkPage(r)
	if err != nil {
		return err
	}
	p.Off.Sort, p.Off.What, p.Off.Where, p.Off.Count = r.PostFormValue("sort"), r.PostFormValue("what"), r.PostFormValue("where"), strings.TrimSpace(r.PostFormValue("count"))
	n := 1
	if p.Off.Count != "" {
		if n, err = strconv.Atoi(p.Off.Count); err != nil || n < 1 {
			err = refusal("“"+clip(p.Off.Count)+"” is no number of things", "write it in digits, 1 or more")
		}
	}
	if err == nil {
		if _, err = s.bench.Remove(r.Context(), p.V.Case, casework.Removing{By: by(r), Sort: p.Off.Sort, What: p.Off.What, Where: p.Off.Where, Count: n}); err == nil {
			return backTo(w, r, p.V.Case, "#off")
		}
	}
	return s.again(w, err, "rework", &p.Base, p)
}

// putBack records that something is back.
func (s *Server) putBack(w http.ResponseWriter, r *http.Request) error {
	p, err := s.reworkPage(r)
	if err != nil {
		return err
	}
	event, err := eventNumber(r.PostFormValue("event"))
	n := 0
	if err == nil {
		n, err = eventNumber(strings.TrimSpace(r.PostFormValue("count")))
	}
	if err == nil {
		if _, err = s.bench.Refit(r.Context(), p.V.Case, casework.Refitting{By: by(r), Removed: event, Count: n}); err == nil {
			return backTo(w, r, p.V.Case, "#off")
		}
	}
	return s.again(w, err, "rework", &p.Base, p)
}

type stepsPage struct {
	Board
	Job     casework.ReworkJob
	Closed  bool
	Family  casework.ReworkFamily
	Next    string // step to do now
	HeatAt  string // where to ask how hot
	Here    string // address of the page
	Ways    []WayForm
	Unasked bool // of one of them it is not noted how it sits
}

// stepsShow is the steps for one part, to tick.
func (s *Server) stepsShow(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.BoardWork(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	j, err := s.bench.ReworkJobOf(r.Context(), v.Case, r.FormValue("family"), strings.TrimSpace(r.FormValue("part")))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "steps", newStepsPage(s.board(r, ""), v, j))
}

func newStepsPage(b Board, v *casework.BoardWork, j casework.ReworkJob) *stepsPage {
	family, part := j.Family, j.Part
	p := &stepsPage{Board: b, Job: j, Closed: v.Closed}
	for _, f := range casework.ReworkFamilies() {
		if f.ID == family {
			p.Family = f
		}
	}
	p.Path, p.CaseTitle, p.Title = casePath(v.Case), v.Title, j.Title
	if part != "" {
		p.Title = part + ": " + j.Title
	}
	if n := j.Next(); n != nil {
		p.Next = n.ID
	}
	p.HeatAt = "/heat?" + url.Values{"case": {v.Case}, "part": {part}}.Encode()
	p.Ways, p.Here = wayForms(j.Polar), stepsPath(v.Case, family, part)
	for _, x := range j.Polar {
		p.Unasked = p.Unasked || x.Before == nil
	}
	return p
}

func stepsPath(id, family, part string) string {
	return casePath(id, "rework", "steps") + "?" + url.Values{"family": {family}, "part": {part}}.Encode()
}

// stepTick ticks a step, or takes the tick away.
func (s *Server) stepTick(w http.ResponseWriter, r *http.Request) error {
	id, family, part, step := r.PathValue("case"), r.PostFormValue("family"), strings.TrimSpace(r.PostFormValue("part")), r.PostFormValue("step")
	_, err := s.bench.Step(r.Context(), id, casework.Stepping{By: by(r), Family: family, Part: part, Step: step, Undone: r.PostFormValue("done") != "yes"})
	if err != nil {
		return err
	}
	if j, err := s.bench.ReworkJobOf(r.Context(), id, family, part); err == nil && j.Next() != nil && r.PostFormValue("done") == "yes" {
		step = j.Next().ID // on to the next one
	}
	return goTo(w, r, stepsPath(id, family, part)+"#step-"+url.PathEscape(step))
}
