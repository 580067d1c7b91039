package web

import (
	"net/http"

	"fettler/internal/casework"
)

type whyPage struct {
	Inquiry
	Because *casework.Because
	Minds   *casework.Minds // nil where there is nothing to plan
	Doubts  []MindLine      // would bring another suspect to the top
	Turns   []MindLine      // would change what to do
}

// A MindLine is an outcome that would change something, with where to see it.
type MindLine struct {
	casework.Mind
	Suppose string // where to see what it would change
	Where   string // where it is looked at
}

// mindsShown is how many outcomes are listed.
const mindsShown = 12

// whyShow shows what every finding does to every suspect, and what would change one's mind.
func (s *Server) whyShow(w http.ResponseWriter, r *http.Request) error {
	q, err := s.inquiry(r, "Why")
	if err != nil {
		return err
	}
	id := q.V.Header.Case
	because, err := s.bench.Because(r.Context(), id)
	if err != nil {
		return err
	}
	var minds *casework.Minds
	if q.V.Next != nil {
		if minds, err = s.bench.Minds(r.Context(), id); err != nil {
			return err
		}
	}
	return s.render(w, http.StatusOK, "why", newWhyPage(q, because, minds))
}

func newWhyPage(q Inquiry, because *casework.Because, minds *casework.Minds) *whyPage {
	p := &whyPage{Inquiry: q, Because: because, Minds: minds}
	if minds != nil {
		p.Doubts, p.Turns = mindLines(q.V, minds.Suspects), mindLines(q.V, minds.Moves)
	}
	return p
}

func mindLines(v *casework.View, list []casework.Mind) []MindLine {
	var out []MindLine
	for _, m := range list[:min(len(list), mindsShown)] {
		l := MindLine{Mind: m, Suppose: supposeURL(v.Header.Case, "", []casework.Told{m.Told}), Where: casePath(v.Header.Case, "look")}
		if m.Check != nil {
			l.Where = casePath(v.Header.Case, "check", m.Check.ID)
		}
		out = append(out, l)
	}
	return out
}
