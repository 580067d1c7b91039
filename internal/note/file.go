package note

import (
	"context"
	"errors"
	"io/fs"
	"path"
	"runtime"
	"strings"
	"sync"
)

// A layer is a file system of notes with what is known about it.
type layer struct {
	fs.FS
	dir     string
	trusted bool
}

func asLayer(fsys fs.FS) layer {
	if l, ok := fsys.(layer); ok {
		return l
	}
	return layer{FS: fsys}
}

// Dir names a layer: positions in its notes then show where its files are.
func Dir(dir string, fsys fs.FS) fs.FS {
	l := asLayer(fsys)
	l.dir = dir
	return l
}

// Trusted marks a layer whose notes have been checked, such as the shipped
// ones. Of such a note Load reads the head only, which makes it ten times as
// quick; the rest is read when a device needs it. Were there a problem after
// all, Model and Check would report it.
func Trusted(fsys fs.FS) fs.FS {
	l := asLayer(fsys)
	l.trusted = true
	return l
}

// A file is one note on its way into the library.
type file struct {
	layer layer
	rank  int    // which layer it is
	name  string // in its layer
	shown string // in positions
	data  []byte

	sort sortOfNote // by its outline, until it is read
	id   string

	once sync.Once
	sink
	tree   *node
	kinds  *kindsDef
	block  *blockDef
	device *deviceDef
}

type sortOfNote int

const (
	noNote sortOfNote = iota
	kindsNote
	blockNoteSort
	deviceNoteSort
)

func listFiles(layers []fs.FS) ([]*file, Problems) {
	var files []*file
	var s sink
	for i, fsys := range layers {
		l := asLayer(fsys)
		err := fs.WalkDir(l.FS, ".", func(name string, d fs.DirEntry, err error) error {
			shown := path.Join(l.dir, name)
			switch {
			case err != nil && errors.Is(err, fs.ErrNotExist) && name == ".":
				return nil // no folder of one's own is no mistake
			case err != nil:
				s.fail(&node{file: &shown}, "", "cannot be read: %v", err)
			case !d.IsDir() && (strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml")):
				files = append(files, &file{layer: l, rank: i, name: name, shown: shown})
			}
			return nil
		})
		if err != nil {
			s.fail(&node{file: &l.dir}, "", "cannot be read: %v", err)
		}
	}
	return files, s.list
}

// each does the same to all files on as many processors as there are.
func each(ctx context.Context, files []*file, do func(*file)) {
	var wg sync.WaitGroup
	next := make(chan *file)
	for range max(1, min(runtime.GOMAXPROCS(0), len(files))) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for f := range next {
				do(f)
			}
		}()
	}
	for _, f := range files {
		if ctx.Err() != nil {
			break
		}
		next <- f
	}
	close(next)
	wg.Wait()
}

// open reads the file, and as much of the note as the layer asks for.
func (f *file) open() {
	data, err := fs.ReadFile(f.layer, f.name)
	if err != nil {
		f.fail(&node{file: &f.shown}, "", "cannot be read: %v", err)
		f.once.Do(func() {})
		return
	}
	f.data = data
	if f.layer.trusted && f.outline() {
		return
	}
	f.sort, f.id = noNote, ""
	f.read()
}

// read reads the whole note, once.
func (f *file) read() {
	f.once.Do(func() {
		sort, id := f.sort, f.id
		f.decode(f.data)
		f.data = nil
		if sort != noNote && (f.sort != sort || f.id != id) {
			f.fail(&node{file: &f.shown, line: 1, column: 1}, "write block: or device: in the first line", "the note is not what its first key says")
			f.sort, f.id = sort, id
		}
	})
}

// decode tells the three sorts of note apart by their keys.
func (f *file) decode(data []byte) {
	f.tree = parseTree(f.shown, data, &f.sink)
	switch {
	case f.tree == nil:
	case f.tree.find("kinds") != nil:
		f.sort, f.kinds = kindsNote, &kindsDef{}
		readKeys(&f.sink, f.tree, "the table of kinds", kindsKeys, f.kinds)
	case f.tree.find("block") != nil:
		b := &blockDef{}
		readKeys(&f.sink, f.tree, "the block", blockKeys, b)
		if b.id != nil && readName(&f.sink, b.id) {
			f.sort, f.id, f.block = blockNoteSort, b.id.text, b
		}
	case f.tree.find("device") != nil:
		d := &deviceDef{}
		readKeys(&f.sink, f.tree, "the device", deviceKeys, d)
		if d.id != nil && readName(&f.sink, d.id) {
			f.sort, f.id, f.device = deviceNoteSort, d.id.text, d
		}
		f.tree = nil // only blocks are changed
	default:
		f.fail(f.tree, "the first key is kinds:, block: or device:", "this is no note")
	}
}

// broken are the problems that keep the note from being used.
func (f *file) broken() Problems { return f.list.Errors() }
