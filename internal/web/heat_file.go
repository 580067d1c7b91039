package web

import (
	"net/http"
	"strconv"

	"fettler/internal/heatdesk"
	"fettler/internal/report"
)

// heatFile is a moment of the heat picture to keep or send on: the question of the page
// with the moment's number.
func (s *Server) heatFile(w http.ResponseWriter, r *http.Request) error {
	p := newHeatPage(s.board(r, ""), heatdesk.Usual())
	if err := p.enter(r); err != nil {
		return err
	}
	moment, err := strconv.Atoi(r.FormValue("moment"))
	if err != nil {
		moment = -1
	}
	st, err := s.heat.Soon(r.Context(), p.Ask, heatPatience)
	if err != nil {
		return err
	}
	if !st.Ready {
		return refusal("the picture is still being reckoned", "ask for it again in some seconds")
	}
	svg := report.HeatSVG(st.Answer, moment)
	if svg == "" {
		return missing("there is no such moment", "go back to the heat at the board")
	}
	w.Header().Set("Content-Type", "image/svg+xml; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="heat.svg"`)
	_, err = w.Write([]byte(svg))
	if err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}
