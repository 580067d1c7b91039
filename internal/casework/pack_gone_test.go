package casework_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"io/fs"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
)

// unreadable gives out no picture.
type unreadable struct {
	*memory.Photos
	why error
}

func (u unreadable) Get(context.Context, string) ([]byte, error) { return nil, u.why }

// A picture that is gone is left out of a pack; one that is there and cannot be read
// just now is not left out in silence.
func TestPackOfWhatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		why  error
		want casework.Code
	}{
		{&fs.PathError{Op: "open", Path: "x", Err: fs.ErrNotExist}, ""},
		{&fs.PathError{Op: "open", Path: "x", Err: fs.ErrPermission}, casework.StoreFail},
		{&fs.PathError{Op: "read", Path: "x", Err: io.ErrUnexpectedEOF}, casework.StoreFail},
	} {
		b := casework.New(memory.New(), notes(t), casework.Options{Now: clock(), Photos: unreadable{memory.NewPhotos(), c.why}})
		var shot bytes.Buffer
		if err := jpeg.Encode(&shot, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
			t.Fatal(err)
		}
		ok[casework.Receipt](t)(b.Shoot(ctx, loudspeaker(t, b), casework.Shot{File: &shot}))
		if err := b.Pack(ctx, io.Discard); casework.CodeOf(err) != c.want {
			t.Errorf("%v: packing gives %v, want code %q", c.why, err, c.want)
		}
	}
}
