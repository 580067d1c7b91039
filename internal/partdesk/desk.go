package partdesk

import (
	"context"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A Bench is what the desk reaches for: the shelf, and of a case its note and its offers.
// *casework.Bench is one.
type Bench interface {
	// SearchShelf holds a requirement against what is loose, or what is still on boards.
	// The lines are those of the judgements, in their order.
	SearchShelf(ctx context.Context, onBoards bool, req fit.Requirement, o fit.Options) (fit.Result, []stock.Kept, error)
	// PartsAtHand lists the loose parts of some kinds.
	PartsAtHand(ctx context.Context, kinds ...part.Kind) ([]stock.Kept, error)
	// CaseNote is the note of a case, nil if it is not there, and whether the case is open.
	CaseNote(ctx context.Context, caseID string) (m *note.Model, open bool, err error)
	// OfferedParts are the parts in the offers of a case.
	OfferedParts(ctx context.Context, caseID string) ([]stock.Offered, error)
}

// A Desk answers what needs a look at a shelf or a case.
type Desk struct{ bench Bench }

// New is the desk of a bench.
func New(b Bench) *Desk { return &Desk{b} }

// list is never nil, so that JSON has a list.
func list(s []string) []string { return append([]string{}, s...) }

// joined leaves out what is empty.
func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}
