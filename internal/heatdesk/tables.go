package heatdesk

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/heat"
)

// Tables are the alloys and limits, with how far each is to be trusted.
type Tables struct {
	Alloys  []AlloyRow  `json:"alloys"`
	Classes []ClassRow  `json:"classes"` // classification temperatures, thickness by volume
	Floors  []FloorRow  `json:"floors"`  // how long a package may lie open
	Near    []NearRow   `json:"near"`    // what neighbours stand
	Dry     float64     `json:"dry"`     // °C of the body below which no bake is needed
	Guess   *AlloyGuess `json:"guess"`   // nil if nothing was asked
}

// An AlloyRow is one solder.
type AlloyRow struct {
	Name     string  `json:"name"`
	Solidus  float64 `json:"solidus"`
	Liquidus float64 `json:"liquidus"`
	LeadFree bool    `json:"leadFree"`
	Note     string  `json:"note"`
	Trust    string  `json:"trust"`
}

// A ClassRow is one cell of J-STD-020's classification tables.
type ClassRow struct {
	Thickness string  `json:"thickness"`
	Volume    string  `json:"volume"`
	LeadFree  bool    `json:"leadFree"`
	Limit     float64 `json:"limit"` // °C
	Trust     string  `json:"trust"`
}

// A FloorRow is one moisture level.
type FloorRow struct {
	Level string `json:"level"`
	Words string `json:"words"`
	Trust string `json:"trust"`
}

// A NearRow is what one kind of neighbour stands for the half minute of rework.
type NearRow struct {
	Kind  string  `json:"kind"`
	Limit float64 `json:"limit"` // °C
	Why   string  `json:"why"`
	Trust string  `json:"trust"`
}

// An AlloyGuess is which solder a board probably carries.
type AlloyGuess struct {
	Alloy    string   `json:"alloy"`
	LeadFree float64  `json:"leadFree"` // chance
	Why      []string `json:"why"`
	Trust    string   `json:"trust"`
}

// AlloysAndLimits returns the tables; with ask, also a guess at the solder from the year
// (0 not known) and what is printed on the board.
func AlloysAndLimits(ask bool, year int, marking string) (*Tables, error) {
	t := &Tables{Dry: heat.DryBody}
	for _, a := range heat.Alloys() {
		t.Alloys = append(t.Alloys, AlloyRow{a.Name, a.Solidus, a.Liquidus, a.LeadFree, a.Note, a.Mark.String()})
	}
	t.Classes = classRows()
	for _, f := range heat.FloorLives() {
		words := fmt.Sprintf("%g h", f.Hours)
		switch {
		case math.IsInf(f.Hours, 1):
			words = "unlimited"
		case f.Hours == 0:
			words = "as on its label"
		}
		t.Floors = append(t.Floors, FloorRow{f.Level, words, f.Mark.String()})
	}
	for _, k := range heat.NeighbourKinds() {
		t.Near = append(t.Near, NearRow{k.Kind, k.Limit, k.Why, k.Mark.String()})
	}
	if ask {
		g, err := heat.GuessAlloy(year, strings.FieldsFunc(marking, func(r rune) bool { return r == ',' || r == ';' })...)
		if err != nil {
			return nil, refused(err)
		}
		t.Guess = &AlloyGuess{g.Alloy, g.LeadFree, g.Why, g.Mark.String()}
	}
	return t, nil
}

// classRows asks the function for one body in each cell, so that the table shown is the one used.
func classRows() []ClassRow {
	var out []ClassRow
	cell := func(leadFree bool, thick, volume float64, tw, vw string) {
		if limit, mark, err := heat.ClassificationTemp(thick, volume, leadFree); err == nil {
			out = append(out, ClassRow{tw, vw, leadFree, limit, mark.String()})
		}
	}
	for _, t := range []struct {
		mm    float64
		words string
	}{{1, "under 1.6 mm"}, {2, "1.6 to 2.5 mm"}, {4, "over 2.5 mm"}} {
		cell(true, t.mm, 100, t.words, "under 350 mm³")
		cell(true, t.mm, 1000, t.words, "350 to 2000 mm³")
		cell(true, t.mm, 3000, t.words, "over 2000 mm³")
	}
	for _, t := range []struct {
		mm    float64
		words string
	}{{1, "under 2.5 mm"}, {4, "2.5 mm or more"}} {
		cell(false, t.mm, 100, t.words, "under 350 mm³")
		cell(false, t.mm, 1000, t.words, "350 mm³ or more")
	}
	return out
}
