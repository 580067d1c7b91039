// Package failure is what goes wrong at the bench for a reason that somebody can do
// something about: a sentence that says what is wrong and where, what to do, and a code
// by which a face chooses an exit code or a page.
//
// Start at New for one, at CodeOf to ask what sort an error is. Text, OneOf and Clip
// look at what was typed, for every room that takes such.
//
// An error that is none of these is the program's own or the machine's; nobody at the
// bench can mend it, and the faces say so.
package failure
