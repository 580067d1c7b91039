package note

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"sync"
)

// Settings are the choices of a reader; the zero value is the default.
type Settings struct {
	// Mix, if given, tempers every device's priors towards the class shares of its category.
	Mix Mix
	// Strength of the tempering, from 0 to 1; 0 stands for 0.7.
	Strength float64
}

func (s Settings) strength() float64 {
	if !(s.Strength > 0) {
		return defaultStrength
	}
	return min(s.Strength, 1)
}

// A Library is a set of notes that has been read. It is safe for concurrent use.
type Library struct {
	settings Settings
	kinds    map[string]*kindDef
	blocks   map[string]*file
	devices  map[string]*device
	order    []string // device IDs, sorted
	files    []*file
	problems Problems // found by Load
}

// A device is one device's note, and its model once it has been asked for.
type device struct {
	info   DeviceInfo
	file   *file
	broken bool // as Load saw it

	once  sync.Once
	model *Model
	found Problems
}

// DeviceInfo is what a list of devices shows.
type DeviceInfo struct {
	ID       string
	Title    string
	About    string
	Category string
	Names    []string // other words people use
	MassKg   float64
	Generic  bool // stands for devices that have no note of their own
	Own      bool // from a later layer than the first: the user's own
}

// genericPrefix marks the devices that stand for others.
const genericPrefix = "generic-"

// Load reads all notes with the default settings; see Settings.Load.
func Load(ctx context.Context, layers ...fs.FS) (*Library, error) {
	return Settings{}.Load(ctx, layers...)
}

// Load reads every .yaml file of the layers. A block or device of a later layer
// replaces the one of the same name below it, and so does a kind in the table of
// kinds. A note that cannot be read leaves the one below it in place.
//
// The library is there even when the error is of type Problems: it then holds
// every note that can be used, and the error tells what is wrong with the
// others. What only shows when a device is put together is reported by Model
// for that device, and by Check for all. Only when ctx ends is there no library.
func (s Settings) Load(ctx context.Context, layers ...fs.FS) (*Library, error) {
	files, problems := listFiles(layers)
	each(ctx, files, (*file).open)
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("reading the bench notes: %w", err)
	}
	lib := &Library{settings: s, kinds: map[string]*kindDef{}, blocks: map[string]*file{}, devices: map[string]*device{}, files: files}
	lib.problems = problems
	for _, f := range files {
		lib.take(f)
	}
	lib.order = sortedKeys(lib.devices)
	lib.problems = lib.problems.sorted()
	return lib, lib.problems.err()
}

// take puts a file's note into the library. One that could not be read does
// not replace the one below it.
func (l *Library) take(f *file) {
	switch f.sort {
	case kindsNote:
		for i := range f.kinds.kinds {
			if k := &f.kinds.kinds[i]; k.class != nil {
				l.kinds[k.name.text] = k
			}
		}
	case blockNoteSort:
		old := l.blocks[f.id]
		if old != nil && old.rank == f.rank {
			f.twice("block", old)
		} else if old == nil || len(f.broken()) == 0 {
			l.blocks[f.id] = f
		}
	case deviceNoteSort:
		old := l.devices[f.id]
		if old != nil && old.file.rank == f.rank {
			f.twice("device", old.file)
		} else if old == nil || len(f.broken()) == 0 {
			l.devices[f.id] = &device{info: f.info(), file: f, broken: len(f.broken()) > 0}
		}
	}
	l.problems = append(l.problems, f.list...)
}

// twice reports that a layer has two notes of one name.
func (f *file) twice(what string, old *file) {
	f.fail(&node{file: &f.shown, line: 1, column: 1}, "it is also in "+old.shown, "there is another %s %q", what, f.id)
}

func (f *file) info() DeviceInfo {
	d := f.device
	info := DeviceInfo{ID: f.id, Title: d.title, About: d.about, Names: d.names, MassKg: d.mass,
		Generic: strings.HasPrefix(f.id, genericPrefix), Own: f.rank > 0}
	if d.category != nil {
		info.Category = d.category.text
	}
	return info
}

// Devices lists the devices whose notes could be read, by ID.
func (l *Library) Devices() []DeviceInfo {
	out := make([]DeviceInfo, 0, len(l.order))
	for _, id := range l.order {
		if d := l.devices[id]; !d.broken {
			info := d.info
			info.Names = append([]string(nil), info.Names...)
			out = append(out, info)
		}
	}
	return out
}

// ErrNoDevice is the error of Model for a device that is in no note.
var ErrNoDevice = errors.New("there is no such device in the notes")

// Model puts a device together from its notes. The result is kept, shared and
// must not be altered. The error is of type Problems, or wraps ErrNoDevice.
func (l *Library) Model(id string) (*Model, error) {
	d := l.devices[id]
	if d == nil {
		return nil, fmt.Errorf("device %q: %w; %s", clip(id), ErrNoDevice, hintNames(id, l.order))
	}
	d.compose(l)
	if err := d.found.err(); err != nil {
		return nil, err
	}
	return d.model, nil
}

func (d *device) compose(l *Library) {
	d.once.Do(func() {
		d.file.read()
		if d.found = d.file.broken(); len(d.found) == 0 {
			d.model, d.found = compose(l, d.file.device, false)
		}
	})
}

// Check reads all notes to their end, puts every device together, and every
// block by itself, and returns all that is wrong, warnings too.
func (l *Library) Check(ctx context.Context) (Problems, error) {
	found := make([]Problems, len(l.files))
	place := make(map[*file]int, len(l.files))
	for i, f := range l.files {
		place[f] = i
	}
	each(ctx, l.files, func(f *file) {
		f.read()
		out := append(Problems(nil), f.list...)
		switch {
		case len(f.broken()) > 0:
		case f.sort == blockNoteSort && l.blocks[f.id] == f:
			_, more := compose(l, &deviceDef{blockDef: *f.block}, true)
			out = append(out, more...)
		case f.sort == deviceNoteSort && l.devices[f.id] != nil && l.devices[f.id].file == f:
			l.devices[f.id].compose(l)
			out = append(out, l.devices[f.id].found...)
		}
		found[place[f]] = out
	})
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("checking the bench notes: %w", err)
	}
	all := l.Problems()
	for _, ps := range found {
		all = append(all, ps...)
	}
	return all.sorted(), nil
}

// Problems returns what Load has found wrong, warnings too.
func (l *Library) Problems() Problems { return append(Problems(nil), l.problems...) }

func (l *Library) blockNames() []string { return sortedKeys(l.blocks) }

func (l *Library) kindNames() []string { return sortedKeys(l.kinds) }
