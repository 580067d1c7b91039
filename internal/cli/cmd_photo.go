package cli

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// photoCmd keeps a picture of the board.
type photoCmd struct {
	Args    []string `arg:"" optional:""`
	Side    string   `name:"side"`
	Stage   string   `name:"stage"`
	Caption string   `name:"caption"`
	About   int      `name:"about"`
}

const pictureNext = "name a JPEG, PNG or WebP of at most 40 MB"

const photoHow = "photo [CASE] FILE --side back --stage before"

func (c *photoCmd) run(ctx context.Context, s *session) (answer, error) {
	name, file, err := caseThen(c.Args, "picture", photoHow)
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, false)
	if err != nil {
		return nil, err
	}
	f, _, err := openFile(file, pictureNext)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	r, err := s.opened.Shoot(ctx, id, casework.Shot{By: s.by(), File: io.Reader(f), Caption: c.Caption, Side: c.Side, Stage: c.Stage, About: c.About})
	if err != nil {
		return nil, s.tryAgain(err, id)
	}
	return s.done(ctx, r, 1)
}

// tagCmd puts a designator on a picture.
type tagCmd struct {
	Args     []string `arg:"" optional:""`
	At       string   `name:"at" sep:"none"`
	Points   string   `name:"points"`
	Sort     string   `name:"sort"`
	Landmark string   `name:"landmark"`
}

const tagHow = `tag [CASE] PICTURE MARK --at 40,65, as in: fettler tag 1 C7 --at 40,65 --points left`

func (c *tagCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *tagCmd) words() (name, picture, mark string, err error) {
	switch len(c.Args) {
	case 2:
		return "", c.Args[0], c.Args[1], nil
	case 3:
		return c.Args[0], c.Args[1], c.Args[2], nil
	}
	return "", "", "", &usageError{text: "a picture and a designator are to be named", next: "type it as: fettler " + tagHow + "; fettler board numbers the pictures"}
}

func (c *tagCmd) aim() (string, error) {
	name, _, _, err := c.words()
	return name, err
}

func (c *tagCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	_, picture, mark, err := c.words()
	if err != nil {
		return nil, err
	}
	d := casework.Tagging{By: s.by()}
	d.Tagged = casework.Tagged{Mark: mark, Sort: c.Sort, Words: c.Landmark}
	if d.X, d.Y, err = readPlace(c.At); err != nil {
		return nil, err
	}
	if c.Points != "" {
		if d.Points = asDirection(c.Points); d.Points == "" {
			return nil, &usageError{text: fmt.Sprintf("%q is no direction", c.Points), next: "the directions are " + strings.Join(casework.Directions(), ", ")}
		}
	}
	v, err := look()
	if err != nil {
		return nil, err
	}
	w, err := s.opened.BoardWork(ctx, v.Header.Case)
	if err == nil {
		d.Photo, err = pickPhoto(w.Photos, picture)
	}
	return d, err
}

// readPlace reads "40,65": per cent across and down.
func readPlace(typed string) (x, y float64, err error) {
	a, b, ok := strings.Cut(strings.ReplaceAll(typed, "%", ""), ",")
	x, errX := strconv.ParseFloat(strings.TrimSpace(a), 64)
	y, errY := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if !ok || errX != nil || errY != nil {
		return 0, 0, &usageError{text: "it is not said where on the picture the part is", next: "give per cent across and down: --at 40,65"}
	}
	return x / 100, y / 100, nil
}

// pickPhoto finds a picture by its number in the list or the beginning of its hash.
func pickPhoto(list []casework.PhotoInfo, typed string) (string, error) {
	if n, err := strconv.Atoi(typed); err == nil && n >= 1 && n <= len(list) {
		return list[n-1].Hash, nil
	}
	found := ""
	for _, ph := range list {
		if len(typed) >= 4 && strings.HasPrefix(ph.Hash, strings.ToLower(typed)) {
			if found != "" && found != ph.Hash {
				return "", &casework.Error{Code: casework.Ambiguous, Text: fmt.Sprintf("several pictures begin with %q", typed), Next: "type more of it, or its number in fettler board"}
			}
			found = ph.Hash
		}
	}
	if found == "" {
		return "", &tryError{&casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("this case has no picture %q", typed), Next: "take the number that stands before it in the list"}, []string{"fettler board"}}
	}
	return found, nil
}
