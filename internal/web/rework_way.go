package web

import (
	"fmt"
	"net/http"
	"strings"

	"fettler/internal/casework"
)

// wayRecord records which way round parts sit: as many as the form names.
func (s *Server) wayRecord(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("case")
	if err := s.ways(r, id, r.PostFormValue("when")); err != nil {
		return err
	}
	if repair := r.PostFormValue("repair"); repair != "" {
		return goTo(w, r, casePath(id, "repair", repair)+"#way")
	}
	if family := r.PostFormValue("family"); family != "" {
		return goTo(w, r, stepsPath(id, family, strings.TrimSpace(r.PostFormValue("part")))+"#way")
	}
	return backTo(w, r, id, "#way")
}

// mostWays bounds the parts of one form.
const mostWays = 200

// ways writes down the directions a form names for mark.0, mark.1 …
func (s *Server) ways(r *http.Request, id, when string) error {
	for i := range mostWays {
		key := func(name string) string { return strings.TrimSpace(r.PostFormValue(fmt.Sprintf("%s.%d", name, i))) }
		mark := key("mark")
		if mark == "" {
			return nil
		}
		if key("points") == "" || key("points") == key("was") && key("words") == "" {
			continue
		}
		d := casework.Orienting{By: by(r)}
		d.Oriented = casework.Oriented{Mark: mark, Sort: key("sort"), Side: key("side"), When: when, Points: key("points"), Words: key("words")}
		if _, err := s.bench.Orient(r.Context(), id, d); err != nil {
			return err
		}
	}
	return nil
}

// askWays asks, before a repair is written down, which way round the polarised
// parts sit now, and compares. What is not noted, or not as before, has to be
// said to be meant.
func (s *Server) askWays(r *http.Request, p *repairPage) error {
	if len(p.Ways) == 0 {
		return nil
	}
	if err := s.ways(r, p.V.Header.Case, "after"); err != nil {
		return err
	}
	list, err := s.bench.Polarised(r.Context(), p.V.Header.Case, p.Step.ID)
	if err != nil {
		return err
	}
	p.Ways = wayForms(list)
	wrong, open := casework.Unsettled(list)
	p.Meant = r.PostFormValue("meant") == "yes"
	switch {
	case p.Meant:
		return nil
	case len(wrong) > 0:
		p.AskMeant = "It is meant so: write the repair down"
		return refusal(strings.Join(wrong, "; "), "do not power it: look at the board again, then put the entry right here, or tick that it is meant so")
	case len(open) > 0:
		p.AskMeant = "It cannot be noted: write the repair down without"
		return refusal("it is not noted which way round "+strings.Join(open, ", ")+" was and is", "say where the mark points, before and as fitted, or tick below that it cannot be noted")
	}
	return nil
}
