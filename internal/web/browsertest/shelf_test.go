package browsertest

import "testing"

// TestShelf looks whether the pages of the shelf and of what to buy are sound on a phone and at a desk,
// in both schemes.
func TestShelf(t *testing.T) {
	c := browse(t, bench(t, true, true))
	for _, p := range []string{"shelf", "shelf-error", "shelf-line", "shelf-board", "shelf-log", "shelf-list", "shelf-list-read", "shelf-labels", "shopping", "offers", "salvage", "case-from-shelf"} {
		p = "/gallery/" + p
		c.media("light")
		c.open(p)
		c.soundEverywhere(p)
	}
}
