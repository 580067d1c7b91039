package shelf

import "fettler/internal/journal"

// Events of the shelf, in the journal of the bench; payloads in this file. A line
// of the shelf is named by the event that stocked it, see LineID.
const (
	KindStocked journal.Kind = "stocked" // Stocked
	KindMoved   journal.Kind = "moved"   // Moved
	KindUsed    journal.Kind = "used"    // Used
	KindCounted journal.Kind = "counted" // Counted
	KindRenamed journal.Kind = "renamed" // Renamed
)

// IsKind tells the kinds of this file. Their payloads are put right by counting,
// moving and renaming, which the log shows, not by correcting.
func IsKind(k journal.Kind) bool {
	switch k {
	case KindStocked, KindMoved, KindUsed, KindCounted, KindRenamed:
		return true
	}
	return false
}

// Stocked puts lines on the shelf. A long list is several events with the same Batch.
type Stocked struct {
	Lines []StockLine `json:"lines"`
	Batch string      `json:"batch,omitempty"`
	File  string      `json:"file,omitempty"` // list they came in
	Case  string      `json:"case,omitempty"` // device they are from
}

// A StockLine is parts of one sort. Figures and Words are named as in package fit, in SI.
type StockLine struct {
	Name    string             `json:"name"`
	Kind    string             `json:"kind,omitempty"`
	Figures map[string]float64 `json:"figures,omitempty"`
	Words   map[string]string  `json:"words,omitempty"`
	Count   int                `json:"count"`
	Place   string             `json:"place,omitempty"`
	From    string             `json:"from"`            // "new", "pulled" or "on a board"
	Board   string             `json:"board,omitempty"` // on a board: which
	Note    string             `json:"note,omitempty"`
}

// Moved puts a line somewhere else. On a board it is taken off that board.
type Moved struct {
	Line  string `json:"line"`
	Place string `json:"place"`
	Off   bool   `json:"off,omitempty"` // taken off its board: pulled from now on
}

// Used takes pieces away.
type Used struct {
	Line  string `json:"line"`
	Count int    `json:"count"`
	Case  string `json:"case,omitempty"`  // for which case
	Event int    `json:"event,omitempty"` // for which repair of that case
	What  string `json:"what,omitempty"`
}

// Counted says how many there really are.
type Counted struct {
	Line  string `json:"line"`
	Count int    `json:"count"`
}

// Renamed says what a line really is. Pieces and place stay as they are.
type Renamed struct {
	Line string    `json:"line"`
	Is   StockLine `json:"is"`
}
