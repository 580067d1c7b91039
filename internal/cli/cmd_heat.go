package cli

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fettler/internal/casework"
	"fettler/internal/heatdesk"
	"fettler/internal/report"
)

// heatCmd says how hot and how long to get a part off a board.
type heatCmd struct {
	Package   []string `arg:"" optional:""`
	Part      string   `name:"part"`
	Near      []string `name:"near" sep:"none"`
	Air       float64  `name:"air"`
	Nozzle    float64  `name:"nozzle"`
	Distance  float64  `name:"distance"`
	Flow      float64  `name:"flow"`
	Iron      float64  `name:"iron"`
	Tip       string   `name:"tip"`
	Watts     float64  `name:"watts"`
	Flooded   bool     `name:"flooded"`
	Preheat   float64  `name:"preheat"`
	NoPreheat bool     `name:"no-preheater"`
	Board     string   `name:"board"`
	Thickness float64  `name:"thickness"`
	Layers    int      `name:"layers"`
	Copper    string   `name:"copper"`
	Plane     bool     `name:"plane"`
	Grounded  bool     `name:"grounded"`
	Edge      bool     `name:"edge"`
	Keep      bool     `name:"keep"`
	Alloy     string   `name:"alloy"`
	Year      int      `name:"year"`
	Marking   string   `name:"marking"`
	Picture   string   `name:"picture"`
}

// heatPatience is how long the reckoning may take here.
const heatPatience = 2 * time.Minute

const heatHow = `heat SOIC-8 --near "C9 electrolytic capacitor 8 mm"`

// heatAnswer is what comes out.
type heatAnswer struct {
	heatdesk.Answer
	Written string `json:"written,omitempty"` // file of the picture
}

func (c *heatCmd) run(ctx context.Context, s *session) (answer, error) {
	a, err := c.ask()
	if err != nil {
		return nil, err
	}
	if c.Picture != "" {
		if err := vacant(c.Picture); err != nil {
			return nil, err
		}
	}
	s.say("(reckoning; it takes some seconds)")
	ctx, cancel := context.WithTimeout(ctx, heatPatience)
	defer cancel()
	got, err := heatdesk.Reckon(ctx, a)
	if err != nil {
		return nil, err
	}
	out := &heatAnswer{Answer: *got}
	if c.Picture != "" {
		out.Written, err = writeHeat(c.Picture, got)
	}
	return out, err
}

// writeHeat writes the heat picture of the moment when all joints are molten, or of the last.
func writeHeat(file string, a *heatdesk.Answer) (string, error) {
	svg := report.HeatSVG(a, -1)
	if svg == "" {
		return "", &casework.Error{Code: casework.NotFound, Text: "there is no picture of this", Next: "ask without --picture"}
	}
	return file, writeNew(file, []byte(svg))
}

// ask makes the question of the flags; what is not said is as usual.
func (c *heatCmd) ask() (heatdesk.Ask, error) {
	a := heatdesk.Ask{Part: c.Part, Air: c.Air, Nozzle: c.Nozzle, Distance: c.Distance, Flow: c.Flow, Tip: c.Iron, TipKind: c.Tip, Watts: c.Watts, Flooded: c.Flooded,
		Preheat: c.Preheat, NoPreheat: c.NoPreheat, Thickness: c.Thickness, Layers: c.Layers, Copper: c.Copper, Plane: c.Plane, Grounded: c.Grounded, Keep: c.Keep,
		Alloy: c.Alloy, Year: c.Year, Marking: c.Marking}
	words := heatdesk.Vocabulary()
	typed := strings.Join(c.Package, " ")
	if typed == "" {
		return a, &usageError{text: "no package was named", next: "type it as: fettler " + heatHow}
	}
	i := slices.IndexFunc(words.Packages, func(p string) bool { return strings.EqualFold(p, typed) })
	if i < 0 {
		return a, &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("there is no package %q", typed), Next: "take one of " + strings.Join(words.Packages, ", ")}
	}
	a.Package = words.Packages[i]
	if c.Iron > 0 {
		a.Tool = "iron"
	}
	if c.Edge {
		a.Place = "edge"
	}
	if c.Board != "" {
		if n, err := fmt.Sscanf(strings.ToLower(c.Board), "%gx%g", &a.Width, &a.Height); n != 2 || err != nil {
			return a, &usageError{text: fmt.Sprintf("%q is no size of a board", c.Board), next: "type it as width x height in mm: --board 100x80"}
		}
	}
	for _, n := range c.Near {
		near, err := readNear(n, words)
		if err != nil {
			return a, err
		}
		a.Neighbours = append(a.Neighbours, near)
	}
	return a, nil
}

var nearEnd = regexp.MustCompile(`^\s*(\d+(?:\.\d+)?)\s*(?:mm)?\s*(left|right|above|below)?\s*$`)

// readNear reads "C9 electrolytic capacitor 8 mm left": a name if there is one, the
// kind, the gap, and the side if it matters.
func readNear(text string, words heatdesk.Words) (heatdesk.Near, error) {
	low, best := strings.ToLower(text), ""
	for _, k := range words.Kinds {
		if strings.Contains(low, strings.ToLower(k)) && len(k) > len(best) {
			best = k
		}
	}
	if best == "" {
		return heatdesk.Near{}, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("%q names nothing known to mind heat", text), Next: "take one of " + strings.Join(words.Kinds, ", ")}
	}
	at := strings.Index(low, strings.ToLower(best))
	m := nearEnd.FindStringSubmatch(low[at+len(best):])
	if m == nil {
		return heatdesk.Near{}, &usageError{text: fmt.Sprintf("%q does not say how far away it is", text), next: `type it as: --near "C9 electrolytic capacitor 8 mm", with left, right, above or below behind it if that matters`}
	}
	gap, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return heatdesk.Near{}, &usageError{text: fmt.Sprintf("%q does not say how far away it is", text), next: "give the gap in mm"}
	}
	name := ""
	if at <= len(text) {
		name = strings.TrimSpace(text[:at])
	}
	return heatdesk.Near{Name: name, Kind: best, Distance: gap, Side: m[2]}, nil
}

func (a *heatAnswer) no() bool { return a.Window.Nominal < 0 }

func (a *heatAnswer) text(p *page) {
	p.head("%s, %s: %s", a.Ask.Part, a.Ask.Package, a.Window.Words)
	p.para("  ", a.Summary)
	for _, n := range a.Neighbours {
		shield := ""
		if n.Shielded {
			shield = ", behind a shield"
		}
		p.para("  ", fmt.Sprintf("%s (%s) sees %.0f °C, at worst %.0f °C, of %.0f °C%s: %s", n.Name, n.Kind, n.Peak, n.Worst, n.Limit, shield, n.Words))
	}
	for _, r := range a.Reasons {
		p.para("  - ", r)
	}
	for _, w := range a.Alloy.Why {
		p.para("  - ", "solder: "+w)
	}
	if a.Written != "" {
		p.para("  picture: ", a.Written)
	}
	p.gap()
	for _, c := range a.Cautions {
		p.para("  ! ", c)
	}
}
