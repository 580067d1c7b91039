package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// Salvage is what a device that was kept for parts has to give.
type Salvage struct {
	Case  string        `json:"case"`
	Title string        `json:"title"`
	Parts []SalvagePart `json:"parts"`
	Done  []shelf.Shown `json:"done"` // noted on the shelf already
}

// A SalvagePart is a part of the device.
type SalvagePart struct {
	Part  string  `json:"part"` // its ID in the note
	Name  string  `json:"name"` // as it would stand on the shelf
	Mark  string  `json:"mark"`
	Unit  string  `json:"unit"`
	Count int     `json:"count"`
	Bad   float64 `json:"bad"`  // chance that it is what was wrong
	Safe  bool    `json:"safe"` // a safety part: not used a second time
}

// A Salvaging notes parts of a device on the shelf as still on its board.
type Salvaging struct {
	By
	Parts map[string]int // pieces by part ID
	Place string
}

// barren are kinds that nobody takes off.
var barren = []string{"user setting", "housing", "solder joint", "firmware", "passage", "wiring", "board", "seal", "filter", "hose"}

// SalvageOf lists what a case kept for parts has to give.
func (b *Bench) SalvageOf(ctx context.Context, caseID string) (*Salvage, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if c.Closed == nil || c.Closed.Verdict != KeptForParts {
		return nil, fail(BadInput, "close it so first", "this device was not kept for parts")
	}
	out := &Salvage{Case: caseID, Title: c.title(), Parts: []SalvagePart{}, Done: []shelf.Shown{}}
	s, _, err := b.shelf(ctx)
	if err != nil {
		return nil, err
	}
	for _, l := range s.Lines() {
		if l.Case == caseID && l.Count > 0 {
			out.Done = append(out.Done, l.Shown())
		}
	}
	if c.Model == nil {
		return out, nil
	}
	fine := map[int]float64{}
	for _, x := range c.Closed.Because {
		if m, ok := c.names.modes[x.Mode]; ok {
			p := c.Model.Modes[m].Part
			if _, seen := fine[p]; !seen {
				fine[p] = 1
			}
			fine[p] *= 1 - min(max(x.P, 0), 1)
		}
	}
	for i := range c.Model.Parts {
		x := &c.Model.Parts[i]
		if slices.Contains(barren, x.Kind) {
			continue
		}
		p := SalvagePart{Part: x.ID, Name: salvageName(x.Title, x.Kind, x.Value), Mark: x.Mark, Count: max(x.Count, 1)}
		if x.Unit >= 0 && x.Unit < len(c.Model.Units) {
			p.Unit = c.Model.Units[x.Unit].Title
		}
		if f, ok := fine[i]; ok {
			p.Bad = 1 - f
		}
		p.Safe = stock.Read(p.Name).Kind.SafetyCritical()
		out.Parts = append(out.Parts, p)
	}
	slices.SortStableFunc(out.Parts, func(a, b SalvagePart) int { return -cmpDown(a.Bad, b.Bad) })
	return out, nil
}

// salvageName is what a part of a note is called on the shelf: kind and value if
// that can be read, else its title.
func salvageName(title, kind, value string) string {
	if value == "" {
		return title
	}
	if n := kind + " " + value; stock.Read(n).Whole() {
		return n
	}
	return title + " " + value
}

// Salvage notes parts of a case kept for parts on the shelf, as still on its board.
func (b *Bench) Salvage(ctx context.Context, caseID string, in Salvaging) (ShelfReceipt, error) {
	from, err := b.SalvageOf(ctx, caseID)
	if err != nil {
		return ShelfReceipt{}, err
	}
	place, err := oneLine(in.Place, "the place")
	if err != nil {
		return ShelfReceipt{}, err
	}
	p := shelf.Stocked{Case: caseID}
	for _, x := range from.Parts {
		n, ok := in.Parts[x.Part]
		if !ok {
			continue
		}
		if x.Safe {
			return ShelfReceipt{}, fail(BadInput, "leave it where it is, and fit a new one of the same kind", "%s is a safety part: it is not used a second time", x.Name)
		}
		if n < 1 || n > stock.MostCount {
			return ShelfReceipt{}, fail(BadInput, "give a whole number from 1", "%d is no number of pieces", n)
		}
		l, err := Stocking{Name: x.Name, Count: n, Place: place, From: stock.OnBoard, Board: from.Title, Note: joined(", ", x.Mark, x.Unit)}.line()
		if err != nil {
			return ShelfReceipt{}, err
		}
		p.Lines = append(p.Lines, l)
	}
	if len(p.Lines) == 0 {
		return ShelfReceipt{}, fail(BadInput, "tick what is worth taking off one day", "no part was chosen")
	}
	at, err := b.writeShelf(ctx, in.By, func(*shelf.Shelf, []Event) (Kind, []any, error) { return shelf.KindStocked, []any{p}, nil })
	return ShelfReceipt{Event: at, Line: shelf.LineID(at, 0), Words: strings.TrimSpace(fmt.Sprintf("noted %d parts on the board of %s", len(p.Lines), from.Title))}, err
}
