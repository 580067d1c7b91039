package appraise

import (
	"slices"

	"fettler/internal/note"
)

// classes in the order in which every slice over classes goes.
var classes = note.Classes()

// classIndex is the place of a class, that of "board/other" for one not known.
func classIndex(c note.Class) int {
	if i := slices.Index(classes, c); i >= 0 {
		return i
	}
	return slices.Index(classes, note.ClassBoard)
}

func classNamed(name string) int { return classIndex(note.Class(name)) }
