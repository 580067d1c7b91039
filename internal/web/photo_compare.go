package web

import (
	"io"
	"net/http"
	"strings"

	"fettler/internal/casework"
)

// A photoPair is a side of the board before and after.
type photoPair struct {
	Side          string
	Before, After casework.PhotoInfo
	Where         string
}

// pairsOf finds for each side the latest picture from before and from after.
func pairsOf(v *casework.BoardWork) []photoPair {
	var out []photoPair
	for _, side := range append(casework.BoardSides(), "") {
		p := photoPair{Side: side}
		for _, ph := range v.Photos {
			switch {
			case ph.Side != side:
			case ph.Stage == "before":
				p.Before = ph
			case ph.Stage == "after":
				p.After = ph
			}
		}
		if p.Before.Hash != "" && p.After.Hash != "" {
			p.Where = casePath(v.Case, "compare") + "?before=" + p.Before.Hash + "&after=" + p.After.Hash
			out = append(out, p)
		}
	}
	return out
}

type comparePage struct {
	Board
	Before, After Picture
	Polar         []casework.Polar
}

// photoCompare lays the board after over the board before.
func (s *Server) photoCompare(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.BoardWork(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := &comparePage{Board: s.board(r, "Before and after"), Polar: v.Polar}
	p.Path, p.CaseTitle = casePath(v.Case), v.Title
	found := 0
	for _, ph := range v.Photos {
		if ph.Hash == r.FormValue("before") {
			p.Before = pictureOf(ph, v.Tags, 0, false)
			found |= 1
		}
		if ph.Hash == r.FormValue("after") {
			p.After = pictureOf(ph, v.Tags, 0, false)
			found |= 2
		}
	}
	if found != 3 {
		return missing("this case has no such two pictures", "go back to the work at the board and choose a pair")
	}
	return s.render(w, http.StatusOK, "compare", p)
}

type placementPage struct {
	Board
	V        *casework.BoardWork
	Pictures []Picture
	Text     string
}

// placementShow is the sheet that goes with the parts.
func (s *Server) placementShow(w http.ResponseWriter, r *http.Request) error {
	v, err := s.bench.BoardWork(r.Context(), r.PathValue("case"))
	if err != nil {
		return err
	}
	p := newPlacementPage(s.board(r, "Placement sheet"), v)
	if r.FormValue("as") == "text" {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		_, err := io.WriteString(w, p.Text)
		return err
	}
	return s.render(w, http.StatusOK, "placement", p)
}

func newPlacementPage(b Board, v *casework.BoardWork) *placementPage {
	b.Path, b.CaseTitle = casePath(v.Case), v.Title
	p := &placementPage{Board: b, V: v}
	tagged := map[string]bool{}
	for _, t := range v.Tags {
		tagged[t.Photo] = true
	}
	for _, ph := range v.Photos {
		if tagged[ph.Hash] && ph.Stage != "after" {
			p.Pictures = append(p.Pictures, pictureOf(ph, v.Tags, 0, false))
		}
	}
	lines := []string{"Placement, " + v.Title + " (case " + v.Case + ")"}
	for _, x := range v.Placement {
		lines = append(lines, x.Words)
	}
	p.Text = strings.Join(lines, "\n") + "\n"
	return p
}
