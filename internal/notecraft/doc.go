// Package notecraft helps whoever writes bench notes. It looks at a finished
// note.Model from outside and answers what its author wants to know: what it
// looks like, what each symptom raises, whether following the advice would find
// each fault, which faults nothing can tell apart, what a change to the note did
// to what one believes, and how to begin a note for a device not in the library.
//
// Where to start
//
//   - Picture draws the blocks, their conditions and who feeds whom, as SVG.
//   - Raises tells which suspects a bare symptom raises; RaisesAll does it for all.
//   - Rehearse breaks the device in every way the note knows, one at a time, and
//     follows the advice as a user sees it (plan.Advice.Careful) against it.
//   - Trials runs the test cases written into notes.
//   - Diff compares two versions of a note by what they make one believe.
//   - Assemble writes a note from a few answers about a device.
//   - Shelf makes the table of docs/library.md.
//
// Results are data with indexes into the model and, where it says Words, plain
// sentences made from that data for the command line and the page.
//
// # What is computed
//
// Raises: prior and posterior are belief.Belief.First without and with the one observation.
//
// Rehearse: for mode i the true world is {i} with the damage it brings, drawn by
// the note's chances. Its symptoms are taken at their likeliest, or drawn; then
// Posterior and Advise alternate and each answer is drawn from the world's
// distribution. The draws depend on Seed, mode, run and move only, so the report is the same
// for any number of workers, and two policies can be compared under the same luck. Shares over modes are weighted by their prior odds.
// Advice that has been asked for once with the same history is not worked out again.
//
// Two modes are twins if every finding has the same distribution with either
// alone (to one in a hundred).
//
// Diff: a prior counts as moved if the mode's share of the device's odds changed by more than
// a quarter of itself; a suspect of a symptom as changed if its place among the
// first five changed or its chance by two hundredths.
//
// # Cost
//
// Rehearse asks for about ten advices per mode, each some twenty milliseconds on
// a device of sixty modes; Options.Most, Moves and Workers bound it, and
// BenchmarkRehearse measures it. The rest takes milliseconds.
//
// # Failure
//
// Everything here is pure: no files, no clock. Errors say what was asked for that
// cannot be, and what to do; a cancelled context ends Rehearse and Trials with its error.
//
// References: the layered drawing follows K. Sugiyama, S. Tagawa, M. Toda, Methods for
// visual understanding of hierarchical system structures, IEEE Trans. SMC 11, 1981
// (layers, lanes through them, barycentres). From memory.
package notecraft
