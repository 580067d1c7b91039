package casework

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"regexp"

	"fettler/internal/photo"
)

// MostPhotoBytes is the largest picture taken.
const MostPhotoBytes = photo.MostBytes

// A Shot is a picture as it comes from the camera.
type Shot struct {
	By
	File    io.Reader
	Caption string
	Side    string // "front", "back" or ""
	Stage   string // "before", "after" or ""
	About   int    // the event it shows
}

var errNoPhotos = &Error{Code: StoreFail, Text: "this bench keeps no pictures", Next: "start it with a data folder"}

// Shoot keeps a picture, upright, scaled and without anything but the picture in it, and
// records it. One at a time: it takes memory.
func (b *Bench) Shoot(ctx context.Context, caseID string, in Shot) (Receipt, error) {
	if b.o.Photos == nil {
		return Receipt{}, errNoPhotos
	}
	c, err := b.load(ctx, caseID)
	if err == nil {
		err = c.open()
	}
	if err != nil {
		return Receipt{}, err
	}
	d := Photographing{By: in.By, Caption: in.Caption, Side: in.Side, Stage: in.Stage, About: in.About}
	p, err := b.develop(ctx, in.File)
	if err != nil {
		return Receipt{}, err
	}
	if d.Hash, err = b.o.Photos.Put(ctx, p.JPEG); err == nil {
		d.Thumb, err = b.o.Photos.Put(ctx, p.Thumb)
	}
	if err != nil {
		return Receipt{}, photoError(err)
	}
	d.Width, d.Height = p.Width, p.Height
	return b.Photograph(ctx, caseID, d)
}

// develop reads and cleans a picture.
func (b *Bench) develop(ctx context.Context, file io.Reader) (*photo.Picture, error) {
	data, err := io.ReadAll(io.LimitReader(file, MostPhotoBytes+1))
	if err != nil {
		return nil, &Error{Code: BadInput, Text: "the picture did not arrive whole", Next: "send it once more", Err: err}
	}
	b.darkroom.Lock()
	defer b.darkroom.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p, err := photo.Clean(data, photo.Limits{})
	var no *photo.Refusal
	if errors.As(err, &no) {
		return nil, &Error{Code: BadInput, Text: no.Text, Next: no.Next, Err: err}
	}
	return p, err
}

var photoName = regexp.MustCompile(`^[0-9a-f]{64}$`)

// Photo returns a picture kept, JPEG.
func (b *Bench) Photo(ctx context.Context, hash string) ([]byte, error) {
	if b.o.Photos == nil {
		return nil, errNoPhotos
	}
	gone := fail(NotFound, "go back to the case", "there is no such picture")
	if !photoName.MatchString(hash) {
		return nil, gone
	}
	data, err := b.o.Photos.Get(ctx, hash)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, gone
	case err != nil:
		return nil, photoError(err)
	}
	return data, nil
}

// PhotoTurned returns a picture kept, turned clockwise by 0, 90, 180 or 270 degrees.
func (b *Bench) PhotoTurned(ctx context.Context, hash string, degrees int) ([]byte, error) {
	data, err := b.Photo(ctx, hash)
	if err != nil || degrees == 0 {
		return data, err
	}
	b.darkroom.Lock()
	defer b.darkroom.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	data, err = photo.Turned(data, degrees)
	var no *photo.Refusal
	if errors.As(err, &no) {
		return nil, &Error{Code: BadInput, Text: no.Text, Next: no.Next, Err: err}
	}
	return data, err
}

func photoError(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return &Error{Code: StoreFail, Text: "the pictures could not be read or written", Next: "see that the disk has room and the folder can be written, then try again", Err: err}
}
