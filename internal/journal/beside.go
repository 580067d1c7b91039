package journal

import (
	"context"
	"encoding/json"
)

// A Finder is a journal that can search. What is kept in it is derived from the
// events and may be thrown away; it goes with the Tracker, whose marks it keeps.
type Finder interface {
	// Kept returns the mark up to which pages are kept, and in what form; 0 and "" for none.
	Kept(ctx context.Context) (mark int64, form string, err error)
	// Keep replaces the pages of these cases and remembers mark and form. Another
	// form than before throws all pages away first.
	Keep(ctx context.Context, form string, mark int64, pages []Page) error
	// Find returns the pages that fit, latest changed first, at most so many.
	Find(ctx context.Context, q Query) ([]Page, error)
}

// A Page is what can be found of a case.
type Page struct {
	Case   string
	Text   string          // to search in: words
	Keys   []string        // exact marks of what it is and showed: letters and digits
	Closed bool            // only what is closed says what it was
	Shown  json.RawMessage // what a result shows
}

// A Query is what is looked for. Words are matched without regard to case and accents.
type Query struct {
	Words  []string // all of them; the last may be the beginning of one
	Must   []string // keys, all of them
	Any    []string // keys, at least one; none means no matter
	Closed bool     // closed cases only
	Most   int
}

// A Larder is a journal with room beside it for what can be worked out from the events,
// so that the next process need not. All of it may be lost or thrown away at any time,
// and whoever takes something out sees for himself that it is whole and still fits.
type Larder interface {
	// Store puts jars in a place, each in place of one with the same key; with anew, all
	// that stood there goes first. All are kept or none.
	Store(ctx context.Context, place string, anew bool, jars ...Jar) error
	// Fetch returns the jars of a place in the order of their keys.
	Fetch(ctx context.Context, place string) ([]Jar, error)
}

// A Jar is bytes under a key.
type Jar struct {
	Key  string
	Data []byte
}
