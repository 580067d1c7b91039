package casework

import (
	"fmt"
	"slices"
	"strings"

	"fettler/internal/part/stock"
)

func stockedWords(p Stocked) string {
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

// shelfWords says an event about a line.
func shelfWords(kind Kind, p any, name string) string {
	switch p := p.(type) {
	case Moved:
		if p.Off {
			return fmt.Sprintf("took %s off its board, to %s", name, p.Place)
		}
		return fmt.Sprintf("moved %s to %s", name, p.Place)
	case Used:
		words := fmt.Sprintf("used %d × %s", p.Count, name)
		if p.Case != "" {
			words += " for case " + p.Case
		}
		return joined(": ", words, p.What)
	case Counted:
		return fmt.Sprintf("counted %s: %d", name, p.Count)
	case Renamed:
		words := fmt.Sprintf("line %s is %s, %s", p.Line, p.Is.Name, p.Is.From)
		return joined(", ", words, p.Is.Board, p.Is.Note)
	}
	return string(kind)
}

// tookWords says what a repair took from the shelf, "" if nothing.
func tookWords(all []Took) string {
	var out []string
	for _, t := range all {
		out = append(out, joined(", ", fmt.Sprintf("%d × %s", t.Count, t.Name), t.Place))
	}
	if len(out) == 0 {
		return ""
	}
	return "; from the shelf: " + strings.Join(out, "; ")
}

// fromShelfWords is a sentence that says where on the shelf the parts of a repair are, "" if they are not there.
func fromShelfWords(picks []ShelfPick) string {
	var places []string
	for _, p := range picks {
		at := p.Place
		if at == "" {
			at = "no place noted"
		}
		if !slices.Contains(places, at) {
			places = append(places, at)
		}
	}
	if len(places) == 0 {
		return ""
	}
	return " What it needs comes from your shelf: " + strings.Join(places, ", ") + "; it costs nothing and nobody waits."
}
