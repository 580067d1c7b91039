package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

type mapPage struct {
	Inquiry
	R      *casework.Rehearsed
	Root   *casework.Spot
	Draw   *moveMap
	Levels []LevelChoice
}

// A LevelChoice is how many moves ahead the map may show.
type LevelChoice struct {
	N     int
	Shown bool
}

// mapChoices are the levels offered; more cannot be read.
var mapChoices = []int{2, 3, 4}

// mapShow draws the next moves as a tree, and tells the same as a list.
func (s *Server) mapShow(w http.ResponseWriter, r *http.Request) error {
	q, err := s.inquiry(r, "Map of moves")
	if err != nil {
		return err
	}
	levels := 3
	if text := r.FormValue("levels"); text != "" {
		if levels, err = strconv.Atoi(text); err != nil || levels < 1 {
			return missing(fmt.Sprintf("a map of %q levels cannot be drawn", clip(text)), "take 2, 3 or 4")
		}
	}
	x, err := s.bench.Rehearse(r.Context(), q.V.Header.Case, 0)
	if err != nil {
		return err
	}
	root, err := x.Map(levels)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "map", newMapPage(q, x, root, levels))
}

func newMapPage(q Inquiry, x *casework.Rehearsed, root *casework.Spot, levels int) *mapPage {
	p := &mapPage{Inquiry: q, R: x, Root: root, Draw: drawMap(root, q.V.Header.Currency)}
	for _, n := range mapChoices {
		p.Levels = append(p.Levels, LevelChoice{n, n == levels})
	}
	return p
}

// spotDoes says what is done at a place of the map.
func spotDoes(s *casework.Spot) string {
	switch {
	case s.Works:
		return "It works: close the case"
	case s.Rest:
		return "less likely, not drawn"
	}
	return capital(s.Title)
}

// spotTakes is the small print of a place: minutes, money, days.
func spotTakes(s *casework.Spot, currency string) string {
	if s.Works || s.Rest || s.Kind == "stop" {
		return ""
	}
	if s.Minutes == 0 { // not laid out any further
		return ""
	}
	out := minutes(s.Minutes)
	if s.Money > 0 {
		out += ", " + money(s.Money, currency)
	}
	if s.Days > 0 {
		out += ", " + quantity.Days(math.Round(s.Days))
	}
	return out
}
