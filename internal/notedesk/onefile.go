package notedesk

import (
	"bytes"
	"io/fs"
	"time"
)

// oneFile is a file system of a single file: a draft lying on top of the notes.
type oneFile struct {
	name string
	text []byte
}

// Open implements fs.FS.
func (o oneFile) Open(name string) (fs.File, error) {
	switch name {
	case o.name:
		return &openText{bytes.NewReader(o.text), o}, nil
	case ".":
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid} // listed by ReadDir
	}
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// ReadDir implements fs.ReadDirFS.
func (o oneFile) ReadDir(string) ([]fs.DirEntry, error) {
	return []fs.DirEntry{fs.FileInfoToDirEntry(o)}, nil
}

// Stat implements fs.StatFS.
func (o oneFile) Stat(name string) (fs.FileInfo, error) {
	if name == "." {
		return folder{}, nil
	}
	return o, nil
}

// oneFile is its file's fs.FileInfo, too.

func (o oneFile) Name() string     { return o.name }
func (o oneFile) Size() int64      { return int64(len(o.text)) }
func (oneFile) Mode() fs.FileMode  { return 0o444 }
func (oneFile) ModTime() time.Time { return time.Time{} }
func (oneFile) IsDir() bool        { return false }
func (oneFile) Sys() any           { return nil }

// folder is the file system's root.
type folder struct{ oneFile }

func (folder) Name() string      { return "." }
func (folder) Size() int64       { return 0 }
func (folder) Mode() fs.FileMode { return fs.ModeDir | 0o555 }
func (folder) IsDir() bool       { return true }

// openText is the file once it is open.
type openText struct {
	*bytes.Reader
	of oneFile
}

func (t *openText) Stat() (fs.FileInfo, error) { return t.of, nil }
func (t *openText) Close() error               { return nil }
