// Package library holds the bench notes that are shipped in the binary: the
// table of part kinds, one file per block, one file per device; and, in
// library/records, what repair records say about each category of device.
//
// Load reads the notes with a user's own on top and tempers the priors with the
// records. docs/notes.md is the language; go test ./library checks every note.
package library

import (
	"context"
	"embed"
	"io/fs"

	"fettler/internal/note"
	"fettler/library/records"
)

//go:embed kinds.yaml blocks devices
var files embed.FS

// Notes returns the shipped notes as a layer for note.Load. They are trusted,
// because the tests of this package check them.
func Notes() fs.FS { return note.Trusted(note.Dir("library", files)) }

// Load reads the shipped notes with layers of one's own on top. As with
// note.Load the library can be used even if the error is of type note.Problems.
func Load(ctx context.Context, own ...fs.FS) (*note.Library, error) {
	return note.Settings{Mix: Mix}.Load(ctx, append([]fs.FS{Notes()}, own...)...)
}

// Mix returns the shares of the classes of cause in the repair records of a
// category, nil for a category the records do not have.
func Mix(category string) map[note.Class]float64 {
	shares, ok := records.Shares(category)
	if !ok {
		return nil
	}
	mix := make(map[note.Class]float64, len(shares))
	for _, s := range shares {
		mix[note.Class(s.Class)] = s.Share
	}
	return mix
}
