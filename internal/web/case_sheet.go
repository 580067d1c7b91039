package web

import (
	"net/http"

	"fettler/internal/casework"
)

type sheetPage struct {
	Base
	V     *casework.View
	Path  string
	Lines []SuspectLine
}

// caseSheet is the case on paper.
func (s *Server) caseSheet(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "sheet", newSheetPage(s.base(r, pageTitles["sheet"], ""), v))
}

func newSheetPage(b Base, v *casework.View) *sheetPage {
	first, more := suspectLines(v)
	lines := append(append([]SuspectLine{}, first...), more...)
	return &sheetPage{Base: b, V: v, Path: casePath(v.Header.Case), Lines: lines[:min(len(lines), 10)]}
}
