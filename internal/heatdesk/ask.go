package heatdesk

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/heat"
)

// An Ask is a question about heat in bench words. Zero fields take what
// [Usual] has, except those that may be none.
type Ask struct {
	Width     float64 `json:"width"`     // mm of the board
	Height    float64 `json:"height"`    // mm
	Thickness float64 `json:"thickness"` // mm
	Layers    int     `json:"layers"`    // of copper
	Copper    string  `json:"copper"`    // "little", "usual" or "much"
	Plane     bool    `json:"plane"`     // a ground plane under the part
	Grounded  bool    `json:"grounded"`  // its largest pad, or pin 1, is joined to the plane
	Place     string  `json:"place"`     // of the part: "middle" or "edge"

	Part    string `json:"part"`    // designator
	Package string `json:"package"` // one of Words.Packages
	Keep    bool   `json:"keep"`    // the part is new or will be used again

	Neighbours []Near `json:"neighbours"`

	Tool      string  `json:"tool"`     // "hot air" or "iron"
	Air       float64 `json:"air"`      // °C set
	Nozzle    float64 `json:"nozzle"`   // mm
	Distance  float64 `json:"distance"` // mm from nozzle to board
	Flow      float64 `json:"flow"`     // l/min
	Tip       float64 `json:"tip"`      // °C of the iron
	TipKind   string  `json:"tipKind"`  // "fine", "chisel" or "broad"
	Watts     float64 `json:"watts"`    // of the iron
	Flooded   bool    `json:"flooded"`  // the tip touches all joints, joined by a flood of solder
	Preheat   float64 `json:"preheat"`  // °C of the preheater's air, 0: it is not on
	NoPreheat bool    `json:"noPreheat"`

	Alloy   string `json:"alloy"`   // of heat's table; "" to judge by year and marking
	Year    int    `json:"year"`    // of manufacture, 0 not known
	Marking string `json:"marking"` // what is printed about lead
}

// A Near is something near the part that minds heat.
type Near struct {
	Name     string  `json:"name"`
	Kind     string  `json:"kind"`     // one of Words.Kinds
	Distance float64 `json:"distance"` // mm between the bodies
	Side     string  `json:"side"`     // "left", "right", "above", "below" or "" for whichever is free
}

// Usual is what a form begins with.
func Usual() Ask {
	return Ask{Width: 100, Height: 80, Thickness: 1.6, Layers: 2, Copper: "usual", Place: "middle", Part: "U1", Package: "SOIC-8",
		Tool: "hot air", Air: 370, Nozzle: 5, Distance: 15, Flow: 20, Tip: 350, TipKind: "chisel", Watts: 60, Neighbours: []Near{}}
}

// Words are the words an Ask may use, for a form.
type Words struct {
	Packages, Kinds, Alloys, Coppers, Places, Tools, Tips, Sides []string
}

// Vocabulary returns them.
func Vocabulary() Words {
	w := Words{Packages: heat.PackageNames(), Coppers: []string{"little", "usual", "much"}, Places: []string{"middle", "edge"}, Tools: []string{"hot air", "iron"},
		Tips: []string{"fine", "chisel", "broad"}, Sides: []string{"right", "left", "above", "below"}}
	for _, k := range heat.NeighbourKinds() {
		w.Kinds = append(w.Kinds, k.Kind)
	}
	for _, a := range heat.Alloys() {
		w.Alloys = append(w.Alloys, a.Name)
	}
	return w
}

// What the words stand for: copper as share of the area, a wetted tip in W/K.
// Judged for the bench, no source.
var (
	copperShares = map[string]float64{"little": 0.2, "usual": 0.4, "much": 0.7}
	tipContacts  = map[string]float64{"fine": 0.06, "chisel": 0.15, "broad": 0.4}
)

const (
	maxName    = 200   // bytes
	mostNear   = 12    // neighbours asked about
	farEnough  = 160.0 // mm: what is farther than half of it from the part stays cool
	mostCells  = 9000  // per layer of nodes, for an answer within seconds
	groundVias = 4
)

// filled puts the usual values where nothing was said.
func (a Ask) filled() Ask {
	u := Usual()
	for _, x := range []struct{ v, usual *float64 }{
		{&a.Width, &u.Width}, {&a.Height, &u.Height}, {&a.Thickness, &u.Thickness}, {&a.Air, &u.Air}, {&a.Nozzle, &u.Nozzle},
		{&a.Distance, &u.Distance}, {&a.Flow, &u.Flow}, {&a.Tip, &u.Tip}, {&a.Watts, &u.Watts},
	} {
		if *x.v == 0 {
			*x.v = *x.usual
		}
	}
	for _, x := range []struct{ v, usual *string }{
		{&a.Copper, &u.Copper}, {&a.Place, &u.Place}, {&a.Part, &u.Part}, {&a.Package, &u.Package}, {&a.Tool, &u.Tool}, {&a.TipKind, &u.TipKind},
	} {
		if *x.v = strings.TrimSpace(*x.v); *x.v == "" {
			*x.v = *x.usual
		}
	}
	if a.Layers == 0 {
		a.Layers = u.Layers
	}
	a.Neighbours = append([]Near{}, a.Neighbours...)
	return a
}

// check refuses words and figures that mean nothing.
func (a Ask) check() error {
	w := Vocabulary()
	err := cmp.Or(
		failure.OneOf(a.Copper, w.Coppers, false, "amount of copper"), failure.OneOf(a.Place, w.Places, false, "place of the part"),
		failure.OneOf(a.Tool, w.Tools, false, "tool"), failure.OneOf(a.TipKind, w.Tips, false, "kind of tip"), failure.OneOf(a.Alloy, w.Alloys, true, "alloy of the table"))
	if err != nil {
		return err
	}
	if len(a.Neighbours) > mostNear {
		return failure.New(failure.BadInput, fmt.Sprintf("take the %d nearest", mostNear), "%d neighbours are too many to ask about at once", len(a.Neighbours))
	}
	if len(a.Part) > maxName || len(a.Marking) > maxName {
		return failure.New(failure.BadInput, "shorten it", "the designator or the marking is too long")
	}
	for _, n := range a.Neighbours {
		if err := cmp.Or(failure.OneOf(n.Kind, w.Kinds, false, "kind of neighbour"), failure.OneOf(n.Side, w.Sides, true, "side")); err != nil {
			return err
		}
		if !(n.Distance >= 0.1 && n.Distance <= 200) {
			return failure.New(failure.BadInput, "give the gap between the two bodies, 0.1 to 200 mm", "%s cannot be %g mm away", nearName(n, 0), n.Distance)
		}
		if len(n.Name) > maxName {
			return failure.New(failure.BadInput, "shorten it", "the name of a neighbour is too long")
		}
	}
	return nil
}

func nearName(n Near, i int) string {
	if n.Name != "" {
		return n.Name
	}
	return fmt.Sprintf("%s %d", n.Kind, i+1)
}

// key names a question, so that the same one is not reckoned twice.
func (a Ask) key() string {
	data, err := json.Marshal(a)
	if err != nil { // a figure that is not finite; it is refused later
		data = fmt.Appendf(nil, "%v", a)
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// job is the question as package heat takes it, with the alloy and why.
func (a Ask) job() (heat.Job, heat.AlloyGuess, error) {
	var guess heat.AlloyGuess
	part, err := heat.PartFor(a.Part, a.Package, 0, 0)
	if err != nil {
		return heat.Job{}, guess, err
	}
	b := heat.Board{Width: min(a.Width, farEnough), Height: min(a.Height, farEnough), Thickness: a.Thickness, Layers: a.Layers, CopperShare: copperShares[a.Copper], PlaneUnder: a.Plane}
	rx := reachOf(part)
	part.X, part.Y = b.Width/2, b.Height/2
	if a.Place == "edge" {
		part.X = min(part.X, rx+2)
	}
	if a.Grounded && a.Plane {
		part.Pads[largest(part.Pads)].Vias = groundVias
	}
	j := heat.Job{Board: b, Part: part, Tool: a.tool(part), Alloy: a.Alloy}
	if a.Alloy == "" {
		if guess, err = heat.GuessAlloy(a.Year, strings.FieldsFunc(a.Marking, func(r rune) bool { return r == ',' || r == ';' })...); err != nil {
			return j, guess, err
		}
		j.Alloy = guess.Alloy
	}
	sides := newSides(j.Board, part)
	for i, n := range a.Neighbours {
		j.Neighbours = append(j.Neighbours, sides.place(n, i))
	}
	return j, guess, nil
}

// reachOf is half the extent of a part along x, pads included.
func reachOf(p heat.Part) float64 {
	x := p.Length / 2
	for _, d := range p.Pads {
		x = max(x, math.Abs(d.X)+d.Width/2)
	}
	return x
}

func largest(pads []heat.Pad) int {
	best := 0
	for i, p := range pads {
		if b := pads[best]; p.Width*p.Height > b.Width*b.Height {
			best = i
		}
	}
	return best
}

func (a Ask) tool(p heat.Part) heat.Tool {
	var t heat.Tool
	if a.Tool == "iron" {
		t.Iron = &heat.Iron{TipTemp: a.Tip, Contact: tipContacts[a.TipKind], Power: a.Watts}
		if a.Flooded {
			for i := range p.Pads {
				t.Iron.Pads = append(t.Iron.Pads, i)
			}
		}
	} else {
		t.HotAir = &heat.HotAir{SetTemp: a.Air, Nozzle: a.Nozzle, Distance: a.Distance, Flow: a.Flow}
	}
	if a.Preheat > 0 {
		t.Preheat = &heat.Preheat{Temp: a.Preheat, Soak: 120}
	}
	return t
}

// sides places neighbours round the part: on the side asked for, else on the side
// with the fewest so far, along the edge if a side holds several.
type sides struct {
	board heat.Board
	part  heat.Part
	names []string
	held  map[string]int
}

func newSides(b heat.Board, p heat.Part) *sides {
	return &sides{board: b, part: p, names: []string{"right", "left", "above", "below"}, held: map[string]int{}}
}

func (s *sides) place(n Near, i int) heat.Neighbour {
	out := heat.Neighbour{Name: nearName(n, i), Kind: n.Kind}
	for _, k := range heat.NeighbourKinds() {
		if k.Kind == n.Kind {
			out.Length, out.Width, out.Height = k.Length, k.Width, k.Height
		}
	}
	side := n.Side
	if side == "" {
		side = slices.MinFunc(s.names, func(a, b string) int { return s.score(a, n, out) - s.score(b, n, out) })
	}
	dx, dy := s.part.Length/2+n.Distance+out.Length/2, s.part.Width/2+n.Distance+out.Width/2
	along := float64((s.held[side]+1)/2) * (max(out.Length, out.Width) + 1) // 0, 1, -1, 2 …
	if s.held[side]%2 == 0 {
		along = -along
	}
	s.held[side]++
	switch side {
	case "right":
		out.X, out.Y = s.part.X+dx, s.part.Y+along
	case "left":
		out.X, out.Y = s.part.X-dx, s.part.Y+along
	case "above":
		out.X, out.Y = s.part.X+along, s.part.Y+dy
	default:
		out.X, out.Y = s.part.X+along, s.part.Y-dy
	}
	out.X, out.Y = min(max(out.X, 0), s.board.Width), min(max(out.Y, 0), s.board.Height)
	return out
}

// score prefers sides with few on them and with room.
func (s *sides) score(side string, n Near, out heat.Neighbour) int {
	room := s.board.Width - s.part.X
	need := s.part.Length/2 + n.Distance + out.Length
	switch side {
	case "left":
		room = s.part.X
	case "above", "below":
		room, need = s.part.Y, s.part.Width/2+n.Distance+out.Width
	}
	score := 10 * s.held[side]
	if room < need {
		score += 1000
	}
	return score
}
