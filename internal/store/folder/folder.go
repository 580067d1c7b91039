// Package folder keeps pictures as files in a folder, each named by the SHA-256 of
// its content, spread over subfolders by the first two digits. Start at New.
//
// A picture is written to a file beside its place, flushed, and renamed (package disk): what is
// there is whole, also after a crash or a power cut. Nothing is ever altered or removed; what has been
// damaged is made good when the same picture comes again.
package folder

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"fettler/internal/disk"
)

// Photos implements journal.Files. It is safe for concurrent use, by several processes too.
type Photos struct{ dir, ext string }

// New returns the pictures in a folder, which is made when the first one comes.
func New(dir string) *Photos { return &Photos{dir, ".jpg"} }

// NewFiles is New for what is not a picture.
func NewFiles(dir string) *Photos { return &Photos{dir, ""} }

// Put implements journal.Files.
func (p *Photos) Put(ctx context.Context, data []byte) (string, error) {
	if err := ctx.Err(); err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	hash := hex.EncodeToString(sum[:])
	path := p.path(hash)
	if holds(path, data) {
		return hash, nil
	}
	if err := p.write(path, data); err != nil && !holds(path, data) { // where an open file cannot be replaced, another may have been quicker
		return "", err
	}
	return hash, nil
}

// holds says that the file is there and has not been altered; one that has is written anew.
func holds(path string, data []byte) bool {
	there, err := os.ReadFile(path)
	return err == nil && bytes.Equal(there, data)
}

// write puts data at path, all or nothing.
func (p *Photos) write(path string, data []byte) error {
	if err := os.MkdirAll(p.dir, 0o700); err != nil {
		return fmt.Errorf("the folder for pictures: %w", err)
	}
	root, err := os.OpenRoot(p.dir)
	if err != nil {
		return fmt.Errorf("the folder for pictures: %w", err)
	}
	defer root.Close()
	name, err := filepath.Rel(p.dir, path)
	if err != nil {
		return err
	}
	if err := root.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return fmt.Errorf("the folder for pictures: %w", err)
	}
	return disk.Write(root, filepath.ToSlash(name), data, 0o600)
}

// Get implements journal.Files. What is no name of a picture is not there.
func (p *Photos) Get(ctx context.Context, hash string) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if raw, err := hex.DecodeString(hash); err != nil || len(raw) != sha256.Size || hex.EncodeToString(raw) != hash {
		return nil, fmt.Errorf("%q: %w", hash, fs.ErrNotExist)
	}
	data, err := os.ReadFile(p.path(hash))
	if err != nil {
		return nil, fmt.Errorf("reading a picture: %w", err)
	}
	sum := sha256.Sum256(data)
	if hex.EncodeToString(sum[:]) != hash {
		return nil, errors.New("the file of a picture has been altered: " + hash)
	}
	return data, nil
}

func (p *Photos) path(hash string) string { return filepath.Join(p.dir, hash[:2], hash+p.ext) }
