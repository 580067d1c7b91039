package notedesk

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"sync"

	"fettler/internal/note"
	"fettler/library"
)

// A Desk keeps the notes of a bench. The zero value has the shipped notes and
// no folder of the user's own. It is safe for concurrent use.
type Desk struct {
	dir string // of the user's own notes; "" for none

	mu       sync.Mutex
	lib      *note.Library
	problems note.Problems
	worked   map[*note.Model]*work
	going    *rehearsing // the rehearsal under way, nil if there is none

	writing sync.Mutex // one save at a time
	trying  sync.Mutex // one draft at a time: they are typed by one person, and each costs a library
}

// Open reads the shipped notes with those of a folder on top; a folder that is
// not there yet is one without notes. The desk can be used even if some notes
// have mistakes; Problems has them.
func Open(ctx context.Context, dir string) (*Desk, error) {
	d := &Desk{dir: dir}
	return d, d.Read(ctx)
}

// Folder is where the user's own notes are, "" if the bench has no such place.
func (d *Desk) Folder() string { return d.dir }

// Read reads all notes again.
func (d *Desk) Read(ctx context.Context) error {
	lib, problems, err := load(ctx, d.own()...)
	if err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.lib, d.problems, d.worked = lib, problems, map[*note.Model]*work{}
	return nil
}

// own is the layer of the user's own notes, if there is one.
func (d *Desk) own() []fs.FS {
	if d.dir == "" {
		return nil
	}
	return []fs.FS{note.Dir(d.dir, os.DirFS(d.dir))}
}

func load(ctx context.Context, layers ...fs.FS) (*note.Library, note.Problems, error) {
	lib, err := library.Load(ctx, layers...)
	var problems note.Problems
	if err != nil && (lib == nil || !errors.As(err, &problems)) {
		return nil, nil, err
	}
	return lib, problems, nil
}

// Library is the library as it was last read.
func (d *Desk) Library() *note.Library {
	d.mu.Lock()
	lib := d.lib
	d.mu.Unlock()
	if lib != nil {
		return lib
	}
	if err := d.Read(context.Background()); err != nil { // only a context that ends makes it fail
		return &note.Library{}
	}
	return d.Library()
}

// Problems are what was wrong with notes when they were last read.
func (d *Desk) Problems() note.Problems {
	d.mu.Lock()
	defer d.mu.Unlock()
	return append(note.Problems(nil), d.problems...)
}

// Devices implements casework.Notes.
func (d *Desk) Devices() []note.DeviceInfo { return d.Library().Devices() }

// Model implements casework.Notes.
func (d *Desk) Model(id string) (*note.Model, error) { return d.Library().Model(id) }
