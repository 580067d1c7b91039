package report

import (
	"strings"
	"unicode/utf8"
)

// Fold breaks text into lines of at most n characters at its blanks, and at its own
// line ends; a longer word has a line of its own.
func Fold(text string, n int) []string {
	var lines []string
	for _, given := range strings.Split(text, "\n") {
		line := ""
		for _, w := range strings.Fields(given) {
			switch {
			case line == "":
				line = w
			case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= n:
				line += " " + w
			default:
				lines = append(lines, line)
				line = w
			}
		}
		lines = append(lines, line)
	}
	return lines
}
