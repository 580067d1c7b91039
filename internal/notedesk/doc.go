// Package notedesk is the desk at which bench notes are written: it keeps the
// library a bench reads, with the user's own folder of notes on top, tries out
// a draft against it, saves what is good, and puts what package notecraft finds
// out about a note into the words and numbers that both faces show.
//
// Start at Open. A Desk is a casework.Notes: a bench built over it sees a note
// as soon as it is saved, without a restart, because Read puts a new library in
// the place of the old one. What has been worked out about a model is kept with
// the model and goes with it.
//
// # Trying a draft
//
// Try reads a text as if it lay in the user's folder, on top of everything else,
// and reports every problem with its place. The shipped notes are trusted, so
// this costs a reading of their heads (some ten milliseconds) and one composition.
//
// # Saving
//
// Save writes into the user's folder and nowhere else (os.Root), under a name made of
// the note's own ID, which is letters, digits and hyphens. A file that is there
// already is replaced only if the caller hands over the mark of the very text it
// has seen. A text with errors is not saved, since the bench would leave it out.
//
// # Rehearsals
//
// They take from seconds to minutes, so Rehearse begins one in the background, one at a time, and
// Rehearsed tells how far it is.
//
// # Failure
//
// What a user can cause is a *failure.Error, with a code, a sentence and what to do.
package notedesk
