package notedesk

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fettler/internal/failure"
	"fettler/internal/note"
)

// A Draft is a text that was tried as a note.
type Draft struct {
	Sort     string // "device", "block", "kinds", or "" if it is no note
	ID       string
	Text     []byte
	Problems note.Problems
	Model    *note.Model // nil if it cannot be used, or is a table of kinds
}

// Errors is how many problems keep it from being used.
func (d *Draft) Errors() int { return len(d.Problems.Errors()) }

// mostText is the longest text that is tried; the longest shipped note has a tenth of it.
const mostText = 200 << 10

// tryPatience bounds one trying.
const tryPatience = 20 * time.Second

// DraftName is the name of a draft in its problems.
const DraftName = "your-note.yaml"

// Try reads a text as if it lay in the user's folder, on top of all else.
func (d *Desk) Try(ctx context.Context, text []byte) (*Draft, error) {
	return d.try(ctx, DraftName, text, d.own()...)
}

func (d *Desk) try(ctx context.Context, name string, text []byte, below ...fs.FS) (*Draft, error) {
	if len(text) > mostText {
		return nil, failure.New(failure.BadInput, fmt.Sprintf("shorten it below %d kB, or split off a block of its own", mostText>>10), "a note of %d kB is too long", len(text)>>10)
	}
	d.trying.Lock()
	defer d.trying.Unlock()
	ctx, cancel := context.WithTimeout(ctx, tryPatience)
	defer cancel()
	lib, _, err := load(ctx, append(below, oneFile{name, text})...)
	if err != nil {
		return nil, err
	}
	c, ok := lib.CheckFile(name)
	if !ok {
		return nil, fmt.Errorf("the draft %q was not read", name)
	}
	return &Draft{Sort: c.Sort, ID: c.ID, Text: text, Problems: c.Problems, Model: c.Model}, nil
}

// TryFile tries a note in a file, with the other notes of its folder below it.
func (d *Desk) TryFile(ctx context.Context, file string) (*Draft, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, &failure.Error{Code: failure.NotFound, Text: fmt.Sprintf("the file %q cannot be read", file), Next: "name a note, or a device of the library", Err: err}
	}
	dir, name := filepath.Split(file)
	if dir == "" {
		dir = "."
	}
	return d.try(ctx, strings.TrimSuffix(name, filepath.Ext(name))+".yaml", text, append(d.own(), note.Dir(dir, os.DirFS(dir)))...)
}
