package marking

import (
	"fmt"
	"strings"

	"fettler/internal/part/unit"
)

// Colour is a band's colour. Unseen stands for a band that cannot be made out.
type Colour int

// The colours of IEC 60062, in the order of their digits.
const (
	Black Colour = iota
	Brown
	Red
	Orange
	Yellow
	Green
	Blue
	Violet
	Grey
	White
	Gold
	Silver
	Pink
	Unseen
)

// band is one row of the standard's table.
type band struct {
	name, code string
	exp        int     // multiplier 10^exp
	tol        float64 // tolerance as a fraction, 0 = none assigned
	tolOdds    float64 // how common that tolerance is among banded resistors (judgement)
	tc         float64 // ppm/K, 0 = none assigned
}

// table is IEC 60062:2016, table 1. Grey as tolerance is ±0.01 % in that edition;
// older charts say ±0.05 %.
var table = [Unseen]band{
	Black:  {"black", "BK", 0, 0, 0, 250},
	Brown:  {"brown", "BN", 1, 0.01, 1, 100},
	Red:    {"red", "RD", 2, 0.02, 0.5, 50},
	Orange: {"orange", "OG", 3, 0.0005, 0.02, 15},
	Yellow: {"yellow", "YE", 4, 0.0002, 0.02, 25},
	Green:  {"green", "GN", 5, 0.005, 0.25, 20},
	Blue:   {"blue", "BU", 6, 0.0025, 0.15, 10},
	Violet: {"violet", "VT", 7, 0.001, 0.2, 5},
	Grey:   {"grey", "GY", 8, 0.0001, 0.02, 1},
	White:  {"white", "WH", 9, 0, 0, 0},
	Gold:   {"gold", "GD", -1, 0.05, 1, 0},
	Silver: {"silver", "SR", -2, 0.10, 0.5, 0},
	Pink:   {"pink", "PK", -3, 0, 0, 0},
}

// String gives the colour's name.
func (c Colour) String() string {
	if c < 0 || c >= Unseen {
		return "?"
	}
	return table[c].name
}

// Code gives the two-letter code of the standard.
func (c Colour) Code() string {
	if c < 0 || c >= Unseen {
		return "?"
	}
	return table[c].code
}

// digit reports the colour's digit; gold, silver and pink have none.
func (c Colour) digit() (int, bool) { return int(c), c >= Black && c <= White }

var otherNames = map[string]Colour{
	"gray": Grey, "purple": Violet, "lilac": Violet, "golden": Gold, "?": Unseen, "??": Unseen,
	"blk": Black, "brn": Brown, "org": Orange, "orn": Orange, "yel": Yellow, "grn": Green, "blu": Blue,
	"vio": Violet, "gry": Grey, "gra": Grey, "wht": White, "gld": Gold, "sil": Silver, "slv": Silver,
}

var ambiguousNames = map[string]string{
	"bl": "black or blue", "br": "brown, or red over black", "gr": "green or grey",
	"b": "black, brown or blue", "g": "green, grey or gold",
}

// ParseColour reads a colour by its English name, its code of the standard, or a
// common short form; "?" is a band that cannot be made out.
func ParseColour(s string) (Colour, error) {
	t := strings.ToLower(strings.TrimSpace(s))
	for c := Black; c < Unseen; c++ {
		if t == table[c].name || t == strings.ToLower(table[c].code) {
			return c, nil
		}
	}
	if c, ok := otherNames[t]; ok {
		return c, nil
	}
	if m, ok := ambiguousNames[t]; ok {
		return Unseen, fmt.Errorf("%q may be %s; write the colour out or use BK BN RD OG YE GN BU VT GY WH GD SR PK", s, m)
	}
	return Unseen, fmt.Errorf("%q is not a colour of the code; use BK BN RD OG YE GN BU VT GY WH GD SR PK, or ? for a band that cannot be made out", s)
}

// ParseColours reads a row of colours separated by spaces, commas, hyphens or
// slashes, or a run of two-letter codes without separators.
func ParseColours(s string) ([]Colour, error) {
	words := strings.FieldsFunc(unit.Clean(s), func(r rune) bool { return strings.ContainsRune(" \t,;-/|", r) })
	if len(words) == 1 && len(words[0]) >= 4 && len(words[0])%2 == 0 {
		if cs, ok := runOfCodes(words[0]); ok {
			return cs, nil
		}
	}
	var out []Colour
	for _, w := range words {
		c, err := ParseColour(w)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no colours given; write the bands in order, for example yellow violet red gold")
	}
	return out, nil
}

func runOfCodes(w string) ([]Colour, bool) {
	var out []Colour
	for i := 0; i+2 <= len(w); i += 2 {
		c := Black
		for c < Unseen && !strings.EqualFold(table[c].code, w[i:i+2]) {
			c++
		}
		if c == Unseen && w[i:i+2] != "??" {
			return nil, false
		}
		out = append(out, c)
	}
	return out, true
}

func names(cs []Colour) string {
	w := make([]string, len(cs))
	for i, c := range cs {
		w[i] = c.String()
	}
	return strings.Join(w, " ")
}

// mistaken lists the colours a darkened or faded band is commonly taken for
// (common practice, no source).
var mistaken = map[Colour][]Colour{
	Brown: {Red, Orange, Black}, Red: {Orange, Brown}, Orange: {Red, Yellow, Brown}, Yellow: {Orange, Gold, White},
	Gold: {Yellow, Brown}, Silver: {Grey, White}, Grey: {White, Silver, Blue}, White: {Grey, Yellow}, Blue: {Violet, Green, Grey},
	Violet: {Blue, Grey, Brown}, Green: {Blue, Grey}, Black: {Brown},
}
