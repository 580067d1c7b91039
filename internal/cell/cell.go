// Package cell makes text fit for a cell of a CSV file that a spreadsheet may open, and
// takes it back: Guard and Plain.
//
// Spreadsheets run a cell as a formula if it begins with =, +, - or @ (or the same in full
// width), also behind a tab or a line break. Such text gets a ' before it, which they take for
// "this is text". So that nothing is lost, text that begins with ' and would then be taken for
// guarded gets one more: Plain(Guard(s)) is s for every s.
//
// Reference: OWASP, CSV Injection (which characters; from memory).
package cell

import "strings"

const begins = "=+-@\t\r\n＝＋－＠"

// runs says whether a cell would be run as a formula, or be taken for one that is guarded.
func runs(s string) bool {
	s = strings.TrimLeft(s, "'")
	return s != "" && strings.IndexAny(s, begins) == 0
}

// Guard is text as it is written to a cell.
func Guard(s string) string {
	if runs(s) {
		return "'" + s
	}
	return s
}

// Plain is the text that a cell stands for.
func Plain(s string) string {
	if strings.HasPrefix(s, "'") && runs(s) {
		return s[1:]
	}
	return s
}
