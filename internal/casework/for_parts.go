package casework

import (
	"context"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// What the parts desk asks of a bench: partdesk.Bench.

// SearchShelf holds a requirement against what is loose, or what is still on boards; the
// lines are those of the judgements, in their order.
func (b *Bench) SearchShelf(ctx context.Context, onBoards bool, req fit.Requirement, o fit.Options) (fit.Result, []stock.Kept, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return fit.Result{}, nil, err
	}
	return s.Search(ctx, onBoards, req, o)
}

// PartsAtHand lists the loose parts of some kinds, in the order they came in.
func (b *Bench) PartsAtHand(ctx context.Context, kinds ...part.Kind) ([]stock.Kept, error) {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	var out []stock.Kept
	for _, l := range s.Lines() {
		if l.Count > 0 && l.From != stock.OnBoard && slices.Contains(kinds, part.Kind(l.Kind)) {
			out = append(out, l.Kept())
		}
	}
	return out, nil
}

// CaseNote is the note of a case, nil if it is not there, and whether the case is open.
func (b *Bench) CaseNote(ctx context.Context, caseID string) (m *note.Model, open bool, err error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, false, err
	}
	return c.Model, c.Closed == nil, nil
}

// OfferedParts are the parts in the offers of a case.
func (b *Bench) OfferedParts(ctx context.Context, caseID string) ([]stock.Offered, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	var out []stock.Offered
	for _, o := range c.Offers {
		for _, one := range strings.Split(o.What, "+") {
			n, words := stock.SplitCount(strings.TrimSpace(one))
			out = append(out, stock.Offered{Part: stock.Read(words), Count: n, Price: o.Price, Seller: o.Seller, Days: o.Days})
		}
	}
	return out, nil
}
