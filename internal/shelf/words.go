package shelf

import (
	"fmt"

	"fettler/internal/part/stock"
)

// Words says what was stocked.
func (p Stocked) Words() string {
	words := fmt.Sprintf("stocked %d lines", len(p.Lines))
	if len(p.Lines) == 1 {
		l := p.Lines[0]
		words = fmt.Sprintf("stocked %d × %s", l.Count, l.Name)
		if l.Place != "" {
			words += " in " + l.Place
		}
		words += ", " + l.From
		if l.From == stock.OnBoard && l.Board != "" {
			words = fmt.Sprintf("noted %d × %s on the board %s", l.Count, l.Name, l.Board)
		}
	}
	if p.File != "" {
		words += " from the list " + p.File
	}
	return words
}

// Words says where a line with this name went.
func (p Moved) Words(name string) string {
	if p.Off {
		return fmt.Sprintf("took %s off its board, to %s", name, p.Place)
	}
	return fmt.Sprintf("moved %s to %s", name, p.Place)
}

// Words says what was taken of a line with this name.
func (p Used) Words(name string) string {
	words := fmt.Sprintf("used %d × %s", p.Count, name)
	if p.Case != "" {
		words += " for case " + p.Case
	}
	if p.What != "" {
		words += ": " + p.What
	}
	return words
}

// Words says how many of a line with this name there were.
func (p Counted) Words(name string) string { return fmt.Sprintf("counted %s: %d", name, p.Count) }

// Words says what the line is.
func (p Renamed) Words(string) string {
	words := fmt.Sprintf("line %s is %s, %s", p.Line, p.Is.Name, p.Is.From)
	for _, w := range []string{p.Is.Board, p.Is.Note} {
		if w != "" {
			words += ", " + w
		}
	}
	return words
}
