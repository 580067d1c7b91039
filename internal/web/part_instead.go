package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
)

type insteadPage struct {
	PartsPage
	Ask    casework.InsteadAsk
	Pieces string
	Kinds  []string
	Duties []string
	Cases  []casework.Listed
	I      *casework.Instead
	Near   bool // a near miss is among what is shown
}

// partInstead says what will do instead of a part.
func (s *Server) partInstead(w http.ResponseWriter, r *http.Request) error {
	p := &insteadPage{PartsPage: s.partsPage(r, "What will do instead", "/parts/instead"), Kinds: casework.PartKinds(), Duties: casework.Duties(), Pieces: r.FormValue("pieces")}
	p.Ask = casework.InsteadAsk{Text: strings.TrimSpace(r.FormValue("part")), Kind: r.FormValue("kind"), Duty: r.FormValue("duty"), Working: r.FormValue("working"), Pieces: atoi(p.Pieces), Case: r.FormValue("case"), Refused: r.FormValue("refused") == "yes"}
	var err error
	if p.Cases, err = s.openCases(r); err != nil {
		return err
	}
	if p.Ask.Text == "" {
		return s.render(w, http.StatusOK, "part-instead", p)
	}
	if p.I, err = s.bench.Instead(r.Context(), p.Ask); err != nil {
		return s.again(w, err, "part-instead", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "part-instead", p)
}

// openCases are the cases that are not closed.
func (s *Server) openCases(r *http.Request) ([]casework.Listed, error) {
	all, err := s.bench.List(r.Context())
	var out []casework.Listed
	for _, l := range all {
		if l.State != casework.Done {
			out = append(out, l)
		}
	}
	return out, err
}
