// Package cli is Fettler on the command line: one face on package casework, as
// package web is the other. It holds no rule of the trade; it reads what was
// typed, asks the bench, and prints the answer in words or as JSON.
//
// Start at [Main]: a value with the streams, the clock and the folders, whose
// Run is the whole program. Tests run it in-process. Each command has a file of
// its own, cmd_*.go, with the struct that kong fills from the arguments, a
// method that runs it, and a result that is what --json gives and that knows
// how to print itself. Its help is help/NAME.txt, written by hand.
//
// # What it promises
//
//   - Exit codes are an interface; see [Exit].
//   - With --json, standard output is exactly one JSON document, be it the
//     answer or what went wrong; docs/json.md and docs/cli.json.schema say its
//     form. "export" without --json prints JSON lines.
//   - An answer goes to standard output; everything else, such as a question or
//     what is wrong, to standard error. Messages are in small letters without a
//     full stop, and a "try:" line is a command that can be typed as it stands.
//   - Plain output fits 80 columns, except what cannot be broken. There is no
//     colour; on a terminal headings are bold, unless NO_COLOR is set
//     (no-color.org).
//   - It asks back only at a terminal. Elsewhere it prints what could have been
//     meant, and the command that settles each.
//
// # Which case
//
// A case is named by its ID, the beginning of it, or its label or part of it.
// Without a name it is the one last worked on that is not closed.
package cli
