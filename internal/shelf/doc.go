// Package shelf is the parts at hand: what the events of the bench's own journal amount to
// as far as parts go, drawer by drawer and board by board.
//
// Start at Reader.Shelf, which replays the events that count. Shelf.List is a page for
// people; Shelf.Search holds a requirement against the lines; Shelf.Picks says what to
// take for the items of a repair, by value where the note says enough of it, else by the
// same words (match.go). The events and their payloads are in event.go.
//
// A Shelf does not change, and is safe for concurrent use. A new event makes a new one of
// the same lines but for those it changes, so that what was worked out for a line is worked
// out once. Who writes the events, and what a case makes of a Pick, is package casework's.
package shelf
