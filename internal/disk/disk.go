// Package disk writes files so that they are whole or not there, and that a power cut after Write
// takes nothing back: the file is written under another name, flushed, renamed, and the folder
// that holds the name flushed. Start at Write.
//
// Reference: POSIX.1-2017, fsync and rename; that the folder needs flushing of its own is in
// the manual page fsync(2) of Linux.
package disk

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"runtime"
	"strings"
	"syscall"
)

// Write puts data at name in root, over what may be there. The folder of name must be there.
func Write(root *os.Root, name string, data []byte, mode fs.FileMode) error {
	return write(rooted{root}, name, data, mode)
}

// A place is what write needs of a folder.
type place interface {
	create(name string, mode fs.FileMode) (file, error)
	open(name string) (file, error)
	rename(from, to string) error
	remove(name string) error
}

type file interface {
	Write(data []byte) (int, error)
	Sync() error
	Close() error
}

func write(p place, name string, data []byte, mode fs.FileMode) error {
	draft := path.Join(path.Dir(name), "."+path.Base(name)+"."+strings.ToLower(rand.Text()[:8])+".new")
	f, err := p.create(draft, mode)
	if err != nil {
		return fmt.Errorf("a new file: %w", err)
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = p.rename(draft, name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("writing %s: %w", name, err), p.remove(draft))
	}
	for dir := path.Dir(name); ; dir = path.Dir(dir) { // a folder on the way may be new as well
		if err := flush(p, dir); err != nil {
			return fmt.Errorf("flushing the folder of %s: %w", name, err)
		}
		if dir == "." {
			return nil
		}
	}
}

// flush flushes a folder, where the system and the file system can.
func flush(p place, dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := p.open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

type rooted struct{ root *os.Root }

func (r rooted) create(name string, mode fs.FileMode) (file, error) {
	return r.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
}
func (r rooted) open(name string) (file, error) { return r.root.Open(name) }
func (r rooted) rename(from, to string) error   { return r.root.Rename(from, to) }
func (r rooted) remove(name string) error       { return r.root.Remove(name) }
