package web

import (
	"errors"
	"fmt"
	"io"
	"math"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// mostUpload is a picture and the little that comes with it.
const mostUpload = casework.MostPhotoBytes + 256<<10

// photoAdd takes a picture. The form is read as it comes, so nothing is put on the disk on the way.
func (s *Server) photoAdd(w http.ResponseWriter, r *http.Request) error {
	p, err := s.reworkPage(r)
	if err != nil {
		return err
	}
	shot, err := s.photoForm(r, p)
	if err == nil {
		_, err = s.bench.Shoot(r.Context(), p.V.Case, shot)
	}
	var big *http.MaxBytesError
	switch {
	case err == nil:
		return backTo(w, r, p.V.Case, "#pictures")
	case errors.As(err, &big):
		err = refusal(fmt.Sprintf("the picture has more than %d MB", casework.MostPhotoBytes/1_000_000), "send a smaller one")
	}
	return s.again(w, err, "rework", &p.Base, p)
}

// photoForm reads the fields, which stand before the file, and leaves the file to be read.
func (s *Server) photoForm(r *http.Request, p *reworkPage) (casework.Shot, error) {
	parts, err := r.MultipartReader() // before anything else reads the form
	if err != nil {
		return casework.Shot{}, refusal("no picture was sent", "choose a picture or shoot one, then send it")
	}
	shot := casework.Shot{By: by(r)}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return shot, refusal("no picture was sent", "choose a picture or shoot one, then send it")
		}
		if err != nil {
			return shot, &casework.Error{Code: casework.BadInput, Text: "the picture did not arrive whole", Next: "send it once more", Err: err}
		}
		if part.FormName() == "file" {
			if part.FileName() == "" {
				return shot, refusal("no picture was chosen", "choose a picture or shoot one, then send it")
			}
			shot.File, shot.Caption, shot.Side, shot.Stage = part, p.Photo.Caption, p.Photo.Side, p.Photo.Stage
			return shot, nil
		}
		if err := p.photoField(part); err != nil {
			return shot, err
		}
	}
}

func (p *reworkPage) photoField(part *multipart.Part) error {
	text, err := io.ReadAll(io.LimitReader(part, 4096))
	if err != nil {
		return &casework.Error{Code: casework.BadInput, Text: "the picture did not arrive whole", Next: "send it once more", Err: err}
	}
	switch v := strings.TrimSpace(string(text)); part.FormName() {
	case "caption":
		p.Photo.Caption = v
	case "side":
		p.Photo.Side = v
	case "stage":
		p.Photo.Stage = v
	}
	return nil
}

// photoFile is a picture itself. Its name is that of its content, so it can be kept.
func (s *Server) photoFile(w http.ResponseWriter, r *http.Request) error {
	data, err := s.bench.PhotoTurned(r.Context(), r.PathValue("photo"), turnOf(r))
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "image/jpeg")
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("Content-Length", strconv.Itoa(len(data)))
	_, err = w.Write(data)
	if err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}

type photoPage struct {
	Board
	V        *casework.BoardWork
	Photo    casework.PhotoInfo
	Picture  Picture
	Sizes    []int
	W, H     int // of the picture to tap on, CSS pixels
	Mirror   bool
	Turn     int // degrees clockwise that the picture is shown turned by
	Views    []photoView
	Sorts    []casework.PolarSort
	Dirs     []string
	Tags     []casework.TagInfo
	Closed   bool
	In       struct{ Mark, Sort, Points, Words string }
	AllMarks []string
}

// A photoView is a link to the picture shown in another way.
type photoView struct{ Title, Where string }

// views are the ways to look at a picture that are not the present one.
func (p *photoPage) views(id string) []photoView {
	at := func(turn int, mirror bool) string {
		q := url.Values{}
		if turn != 0 {
			q.Set("turn", strconv.Itoa(turn))
		}
		if mirror {
			q.Set("mirror", "yes")
		}
		if len(q) == 0 {
			return casePath(id, "photo", p.Photo.Hash) + "#tap"
		}
		return casePath(id, "photo", p.Photo.Hash) + "?" + q.Encode() + "#tap"
	}
	other := "Seen through the board"
	if p.Mirror {
		other = "Not mirrored"
	}
	out := []photoView{{"Turn right", at((p.Turn+90)%360, p.Mirror)}, {"Turn left", at((p.Turn+270)%360, p.Mirror)}, {other, at(p.Turn, !p.Mirror)}}
	if p.Turn != 0 || p.Mirror {
		out = append(out, photoView{"As it was taken", at(0, false)})
	}
	return out
}

var tapSizes = []int{280, 640, 1280, 2400}

// photoShow is a picture with its marks, to tap designators on.
func (s *Server) photoShow(w http.ResponseWriter, r *http.Request) error {
	p, err := s.photoPage(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "photo", p)
}

func (s *Server) photoPage(r *http.Request) (*photoPage, error) {
	v, err := s.bench.BoardWork(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	return newPhotoPage(s.board(r, ""), v, r.PathValue("photo"), r.FormValue("size"), turnOf(r), r.FormValue("mirror") == "yes")
}

func newPhotoPage(b Board, v *casework.BoardWork, hash, size string, turn int, mirror bool) (*photoPage, error) {
	for _, ph := range v.Photos {
		if ph.Hash != hash {
			continue
		}
		p := &photoPage{Board: b, V: v, Photo: ph, Sizes: tapSizes, W: tapSizes[1], Turn: turn, Mirror: mirror, Sorts: casework.PolarSorts(), Dirs: casework.Directions(), Closed: v.Closed}
		p.Path, p.CaseTitle, p.Title = casePath(v.Case), v.Title, capital(photoName(ph))
		p.Picture, p.Views = pictureOf(ph, v.Tags, turn, mirror), p.views(v.Case)
		if n, err := strconv.Atoi(size); err == nil && n >= 100 && n <= 4000 {
			p.W = n
		}
		p.H = max(1, int(math.Round(float64(p.W)*float64(p.Picture.H)/float64(p.Picture.W))))
		for _, t := range v.Tags {
			if t.Photo == hash {
				t.Points = casework.Turned(t.Points, turn)
				p.Tags = append(p.Tags, t)
			}
		}
		for _, x := range v.Polar {
			p.AllMarks = append(p.AllMarks, x.Mark)
		}
		return p, nil
	}
	return nil, missing("this case has no such picture", "go back to the work at the board")
}

// photoTag puts a designator where the picture was tapped, or where the figures say.
func (s *Server) photoTag(w http.ResponseWriter, r *http.Request) error {
	p, err := s.photoPage(r)
	if err != nil {
		return err
	}
	p.In.Mark, p.In.Sort, p.In.Points, p.In.Words = r.PostFormValue("mark"), r.PostFormValue("sort"), r.PostFormValue("points"), r.PostFormValue("words")
	x, y, err := tapped(r)
	if err == nil {
		x, y = turned(x, y, (360-p.Turn)%360) // kept as the picture was taken
		d := casework.Tagging{By: by(r)}
		d.Tagged = casework.Tagged{Photo: p.Photo.Hash, Mark: p.In.Mark, Sort: p.In.Sort, X: x, Y: y, Points: casework.Turned(p.In.Points, -p.Turn), Words: p.In.Words}
		if _, err = s.bench.Tag(r.Context(), p.V.Case, d); err == nil {
			q := url.Values{}
			if r.PostFormValue("size") != "" {
				q.Set("size", strconv.Itoa(p.W))
			}
			if p.Turn != 0 {
				q.Set("turn", strconv.Itoa(p.Turn))
			}
			to := url.URL{Path: casePath(p.V.Case, "photo", p.Photo.Hash), RawQuery: q.Encode(), Fragment: "tap"}
			return goTo(w, r, to.String())
		}
	}
	return s.again(w, err, "photo", &p.Base, p)
}

// tapped is the place as fractions: of a tap on a picture w × h CSS pixels, or of figures in per cent.
func tapped(r *http.Request) (x, y float64, err error) {
	keyed := r.PostFormValue("at.x") == "0" && r.PostFormValue("at.y") == "0" // the picture was pressed by a key
	if r.PostFormValue("at.x") == "" || keyed {
		across, err := number(r, "across", "the place across")
		if err != nil {
			return 0, 0, err
		}
		down, err := number(r, "down", "the place down")
		if err != nil {
			return 0, 0, err
		}
		if across == nil || down == nil {
			return 0, 0, refusal("it is not said where on the picture the part is", "tap on the part, or give the place in per cent across and down")
		}
		return *across / 100, *down / 100, nil
	}
	var v [4]float64
	for i, key := range []string{"at.x", "at.y", "w", "h"} {
		if v[i], err = strconv.ParseFloat(r.PostFormValue(key), 64); err != nil || math.IsNaN(v[i]) {
			return 0, 0, refusal("the tap did not come through", "tap on the part once more")
		}
	}
	if v[2] < 1 || v[3] < 1 {
		return 0, 0, refusal("the tap did not come through", "tap on the part once more")
	}
	return min(max(v[0]/v[2], 0), 1), min(max(v[1]/v[3], 0), 1), nil
}
