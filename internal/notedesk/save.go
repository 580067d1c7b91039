package notedesk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"

	"fettler/internal/disk"
	"fettler/internal/failure"
	"fettler/internal/note"
)

// A Saved note is where it went.
type Saved struct {
	Sort     string // "device", "block" or "kinds"
	ID       string
	File     string // in the user's folder
	Replaced bool   // there was one before
}

// A Taken error is the refusal to write over a note that is there.
type Taken struct {
	File string // in the user's folder
	Mark string // of the text that is there: hand it to Save to replace that
	Text []byte
}

func (t *Taken) Error() string {
	return fmt.Sprintf("there is a note of yours in %s already", t.File)
}

// Save writes a text into the user's folder and reads the library again. With
// over "" it writes over nothing: if there is a note of the same ID, or a file
// where it would go, the error wraps a *Taken, whose mark as over replaces it.
func (d *Desk) Save(ctx context.Context, text []byte, over string) (Saved, error) {
	if d.dir == "" {
		return Saved{}, failure.New(failure.BadInput, "start it with --notes FOLDER, or copy the text into a file", "this bench has no folder for notes of your own")
	}
	draft, err := d.Try(ctx, text)
	if err != nil {
		return Saved{}, err
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	out := Saved{Sort: draft.Sort, ID: draft.ID}
	switch n := draft.Errors(); {
	case draft.Sort == "":
		return out, failure.New(failure.BadInput, "begin with device: or block: and a name", "this is no note yet")
	case n > 0:
		return out, failure.New(failure.BadInput, "mend it first: the bench would leave the note out", "%s", mistakes(n))
	}
	if out.File, err = d.fileFor(ctx, draft); err != nil {
		return out, err
	}
	if out.Replaced, err = d.write(out.File, text, over); err != nil {
		return out, err
	}
	return out, d.Read(ctx)
}

func mistakes(n int) string {
	if n == 1 {
		return "there is a mistake in it"
	}
	return fmt.Sprintf("there are %d mistakes in it", n)
}

// fileFor is the name of the file that holds the note already, or else one made of its ID.
func (d *Desk) fileFor(ctx context.Context, draft *Draft) (string, error) {
	if draft.Sort == "kinds" {
		return "kinds.yaml", nil
	}
	own, err := note.Load(ctx, d.own()...)
	if own == nil {
		return "", err
	}
	if t, err := own.Text(draft.Sort, draft.ID); err == nil {
		return t.File, nil
	}
	if draft.Sort == "block" {
		return "block-" + draft.ID + ".yaml", nil
	}
	return draft.ID + ".yaml", nil
}

// write puts the text into the file, never outside the folder, never half.
func (d *Desk) write(name string, text []byte, over string) (replaced bool, err error) {
	trouble := func(err error) error {
		return &failure.Error{Code: failure.StoreFail, Text: fmt.Sprintf("the note could not be written to %s", path.Join(d.dir, name)),
			Next: "see that the folder is there and can be written; the text is still here", Err: err}
	}
	if err := os.MkdirAll(d.dir, 0o755); err != nil {
		return false, trouble(err)
	}
	root, err := os.OpenRoot(d.dir)
	if err != nil {
		return false, trouble(err)
	}
	defer root.Close()
	was, err := root.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return false, trouble(err)
	case bytes.Equal(was, text): // saved already, as when going back and pressing the button again
		return true, nil
	case markOf(was) != over:
		taken := &Taken{name, markOf(was), was}
		return false, &failure.Error{Code: failure.BadInput, Text: taken.Error(), Next: "say that it is to be replaced, or give this one another name", Err: taken}
	default:
		replaced = true
	}
	if err := disk.Write(root, name, text, 0o644); err != nil {
		return false, trouble(err)
	}
	return replaced, nil
}

// markOf tells one text from another.
func markOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}
