package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"fettler/internal/casework"
)

// openFile opens a file to read.
func openFile(name, next string) (*os.File, int64, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, 0, unread(name, next, err)
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = &fs.PathError{Op: "read", Path: name, Err: errFolder}
	}
	if err != nil {
		f.Close()
		return nil, 0, unread(name, next, err)
	}
	return f, info.Size(), nil
}

// createFile begins a file that is not there yet. Whoever cannot finish it takes it away.
func createFile(name string, mode fs.FileMode) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, unwritten(name, err)
	}
	return f, nil
}

// vacant refuses a name that is taken, before anything is reckoned for it.
func vacant(name string) error {
	if _, err := os.Lstat(name); err == nil {
		return unwritten(name, fs.ErrExist)
	}
	return nil
}

// writeNew writes a file that is not there yet; what it cannot write whole it takes away.
func writeNew(name string, data []byte) error {
	f, err := createFile(name, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(name)
		return unwritten(name, err)
	}
	return nil
}

var errFolder = errors.New("it is a folder")

// unread says why a file could not be read.
func unread(name, next string, err error) error {
	text := fmt.Sprintf("the file %q cannot be read: %s", name, cause(err))
	if errors.Is(err, fs.ErrNotExist) {
		text = fmt.Sprintf("there is no file %q", name)
	}
	return &casework.Error{Code: casework.NotFound, Text: text, Next: next, Err: err}
}

// unwritten says why a file could not be written.
func unwritten(name string, err error) error {
	e := &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("the file %q cannot be written: %s", name, cause(err)), Next: "take a name that is not there yet, in a folder that can be written", Err: err}
	switch {
	case errors.Is(err, fs.ErrExist):
		e.Text = fmt.Sprintf("there is a file %q already, and it is left as it is", name)
	case errors.Is(err, fs.ErrNotExist):
		e.Text = fmt.Sprintf("the file %q cannot be written: there is no such folder", name)
	}
	return e
}

// cause is what the system says is wrong, without the file's name once more.
func cause(err error) string {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrPermission):
		return "you may not"
	case errors.As(err, &at):
		return at.Err.Error()
	}
	return err.Error()
}
