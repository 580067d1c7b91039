package partdesk

import (
	"slices"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/marking"
)

// A MarkAsk is a marking, or a piece of one, with what is known besides.
type MarkAsk struct {
	Text  string
	Kind  string // what the part looks like; "" not known
	Tech  string // "surface mount", "leaded" or ""
	Burnt bool   // the colours may have darkened or faded
	Year  int    // this year, so that no date lies in the future; 0 no matter
}

// Marks is what a marking may mean, most plausible first.
type Marks struct {
	Text     string   `json:"text"`
	Readings []Mark   `json:"readings"`
	Bands    []string `json:"bands"` // colours, if they were given
	Rest     float64  `json:"rest"`  // plausibility of something else
	Polarity []Pole   `json:"polarity"`
}

// A Mark is one reading of a marking.
type Mark struct {
	Kind         string       `json:"kind"`
	Text         string       `json:"text"`
	Scheme       string       `json:"scheme"` // the rule it was read by
	Plausibility float64      `json:"plausibility"`
	Reasons      []string     `json:"reasons"`
	Cautions     []string     `json:"cautions"`
	Source       string       `json:"source"`
	Trust        string       `json:"trust"`
	Figures      []fit.Stated `json:"figures"`
	As           string       `json:"as"`       // the part as one writes it on a drawer
	Polarity     *Pole        `json:"polarity"` // which end its mark shows; null for a part without
}

// A Pole says what the bar or band of a kind of part means.
type Pole struct {
	Kind  string `json:"kind"`
	Words string `json:"words"`
	Minus bool   `json:"minus"` // the mark is on the negative end
}

// Kinds lists the kinds of part known here.
func Kinds() []string {
	var out []string
	for _, k := range part.Kinds() {
		out = append(out, string(k))
	}
	return out
}

// Techs lists how a part can be mounted.
func Techs() []string { return []string{string(marking.SMD), string(marking.Leaded)} }

// A BandColour is a colour of a resistor's bands.
type BandColour struct {
	Name string `json:"name"`
	Code string `json:"code"`
}

// BandColours lists the colours, in the order of their digits; the last is a band that cannot be read.
func BandColours() []BandColour {
	var out []BandColour
	for c := marking.Black; c <= marking.Unseen; c++ {
		b := BandColour{c.String(), c.Code()}
		if c == marking.Unseen {
			b = BandColour{"unreadable", "?"}
		}
		out = append(out, b)
	}
	return out
}

// Poles says which end the marks of polarised parts show; one the wrong way round can explode.
func Poles() []Pole {
	var out []Pole
	for _, k := range []part.Kind{part.Electrolytic, part.Tantalum, part.Rectifier, part.Zener} {
		if p := poleOf(k); p != nil {
			out = append(out, *p)
		}
	}
	return out
}

// poleOf says which end the mark of a kind shows, nil for one without.
func poleOf(k part.Kind) *Pole {
	if w, ok := marking.Polarity(k); ok {
		return &Pole{string(k), w, k != part.Tantalum}
	}
	return nil
}

// ReadMarking reads a marking in all ways possible.
func ReadMarking(a MarkAsk) (*Marks, error) {
	h := marking.Hint{Tech: marking.Tech(a.Tech), Burnt: a.Burnt, Year: a.Year}
	typed, err := failure.Text(a.Text, 200, "the marking")
	if err == nil && typed == "" {
		err = failure.New(failure.BadInput, "type what you can see of it, with ? for what cannot be made out", "no marking was given")
	}
	if err != nil {
		return nil, err
	}
	if a.Kind != "" {
		if h.Kind, err = part.ParseKind(a.Kind); err != nil {
			return nil, &failure.Error{Code: failure.BadInput, Text: err.Error(), Next: "or leave it out", Err: err}
		}
	}
	if err := failure.OneOf(a.Tech, Techs(), true, "way of mounting"); err != nil {
		return nil, err
	}
	rs, err := marking.Read(typed, h)
	if err != nil {
		return nil, &failure.Error{Code: failure.NotFound, Text: err.Error(), Next: "say what the part looks like if you know", Err: err}
	}
	out := &Marks{Text: typed, Readings: []Mark{}, Bands: bandsOf(typed), Rest: 1, Polarity: []Pole{}}
	for _, r := range rs {
		m := markOf(r)
		out.Rest -= r.Plausibility
		out.Readings = append(out.Readings, m)
		if m.Polarity != nil && !slices.Contains(out.Polarity, *m.Polarity) {
			out.Polarity = append(out.Polarity, *m.Polarity)
		}
	}
	out.Rest = max(0, out.Rest)
	return out, nil
}

func markOf(r marking.Reading) Mark {
	o := fit.FromReading(r)
	m := Mark{Kind: string(r.Kind), Text: r.Text, Scheme: r.Scheme, Plausibility: r.Plausibility, Reasons: list(r.Reasons), Cautions: list(r.Cautions),
		Source: r.Source.Text, Trust: string(r.Source.Mark), Figures: fit.InWords(o.Figures, o.Words), Polarity: poleOf(r.Kind)}
	m.As = strings.TrimSpace(m.Kind + " " + drawerWords(o.Figures, o.Words))
	return m
}

// drawerWords is a part's figures as one writes them on a drawer, in an order that stock.Read reads.
func drawerWords(figures map[fit.Param]float64, words map[fit.Param]string) string {
	var out []string
	if w := words[fit.Class]; w != "" {
		out = append(out, w)
	}
	for _, p := range []fit.Param{fit.Capacitance, fit.Resistance, fit.Inductance, fit.Frequency, fit.ZenerVolts, fit.CoilVolts, fit.OpensAt, fit.ClampVolts, fit.Current, fit.VoltsDC, fit.VoltsAC, fit.Power, fit.Tolerance, fit.TempMax, fit.Diameter, fit.Breaking} {
		if v, ok := figures[p]; ok {
			s := p.Show(v)
			if p == fit.VoltsAC {
				s += " AC"
			}
			s = map[fit.Param]string{fit.ClampVolts: "clamp ", fit.Diameter: "diameter ", fit.Breaking: "breaking "}[p] + s
			out = append(out, s)
		}
	}
	for _, p := range []fit.Param{fit.Dielectric, fit.Speed} {
		if w := words[p]; w != "" && (p != fit.Speed || w == "T" || w == "F") {
			out = append(out, map[string]string{"T": "time-lag", "F": "quick"}[w])
			if p == fit.Dielectric {
				out[len(out)-1] = w
			}
		}
	}
	return strings.Join(out, " ")
}

// bandsOf is the colours of a text that names nothing else.
func bandsOf(s string) []string {
	cs, err := marking.ParseColours(s)
	out := []string{}
	if err != nil {
		return out
	}
	for _, c := range cs {
		name := c.String()
		if c == marking.Unseen {
			name = "?"
		}
		out = append(out, name)
	}
	return out
}
