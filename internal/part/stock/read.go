package stock

import (
	"fmt"
	"maps"
	"regexp"
	"strings"
	"unicode/utf8"

	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/marking"
	"fettler/internal/part/unit"
)

// MostText is the longest line read, in bytes.
const MostText = 200

// A Part is what a line was read as.
type Part struct {
	Text    string
	Kind    part.Kind
	Figures map[fit.Param]float64
	Words   map[fit.Param]string
	Rest    []string // words nothing accounts for
	Guessed bool     // the kind was not said but taken from the marking
}

// Whole says that every word of the line was understood.
func (p Part) Whole() bool { return p.Kind != part.Unknown && len(p.Rest) == 0 }

// Old is the part as one to be replaced.
func (p Part) Old() fit.Old { return fit.Old{Kind: p.Kind, Figures: p.Figures, Words: p.Words} }

// surely is how plausible a marking must be to be taken for the part without asking.
const surely = 0.6

// Read reads one line. It never fails: what cannot be read is in Rest.
func Read(text string) Part {
	p := Part{Text: tidy(text), Figures: map[fit.Param]float64{}, Words: map[fit.Param]string{}}
	ts := split(p.Text)
	p.takeWords(ts)
	if p.Kind == part.Unknown {
		if p.fromMarking() {
			return p
		}
	}
	p.takeFigures(ts)
	for _, t := range ts {
		if !t.done {
			p.Rest = append(p.Rest, t.text)
		}
	}
	p.fromRest()
	return p
}

// tidy cuts what is too long and brings look-alike characters to one spelling.
func tidy(text string) string {
	text = strings.Join(strings.Fields(unit.Clean(strings.ToValidUTF8(text, "?"))), " ")
	for len(text) > MostText {
		_, n := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-n]
	}
	return text
}

// A token is a word or a figure with its unit.
type token struct {
	text   string
	figure string // as unit.Parse reads it, "" for a word
	unit   string
	ac     bool
	second string // of a size: height
	done   bool
}

var (
	reSize   = regexp.MustCompile(`^(\d+(?:[.,]\d+)?)\s*[x×]\s*(\d+(?:[.,]\d+)?)\s*mm\b`)
	reFigure = regexp.MustCompile(`^±?\s?((?:\d+/\d+|\d+(?:[.,]\d+)?)\s?(?:[pnµumkKM]?(?:F|H|Ω|[Oo]hms?|A|W|Hz)|V ?AC|VAC|V~|VDC|V ?DC|mV|kV|V|[nµu]s|nC|°C|°|%|mm|h|hours))(?:[\s,;)]|$)`)
	reTemp   = regexp.MustCompile(`^(?:[-−]\d{2}\s?(?:°\s?)?C?\s?(?:\.{2,3}|…|to|/)\s?)?\+?(\d{2,3})(\s?(?:°\s?C|C|deg\s?C))(?:[\s,;)]|$)`)
	reInfix  = regexp.MustCompile(`^(\d+(?:[.,]\d+)?[RkKMpnµu]|\d+[RkKMpnµu]\d+|R\d+)(?:[\s,;)]|$)`)
	reWord   = regexp.MustCompile(`^[^\s;(),]+`)
	reAC     = regexp.MustCompile(`V ?AC$|V~$`)
	reUnit   = regexp.MustCompile(`[pnµumkM]?(F|H|Hz|A|W)$`)
)

func split(text string) []*token {
	var out []*token
	for text != "" {
		if strings.ContainsRune(" ,;()", rune(text[0])) {
			text = text[1:]
			continue
		}
		t, n := next(text)
		out = append(out, t)
		text = text[n:]
	}
	return out
}

// next cuts the first token off.
func next(text string) (*token, int) {
	if m := reSize.FindStringSubmatch(text); m != nil {
		return &token{text: m[0], figure: m[1] + " mm", second: m[2] + " mm", unit: "size"}, len(m[0])
	}
	if m := reTemp.FindStringSubmatchIndex(text); m != nil {
		return &token{text: text[:m[5]], figure: text[m[2]:m[3]], unit: "°C"}, m[5]
	}
	if m := reFigure.FindStringSubmatchIndex(text); m != nil {
		return figureToken(text[m[2]:m[3]]), m[3]
	}
	if m := reInfix.FindStringSubmatch(text); m != nil {
		u := "Ω"
		if strings.ContainsAny(m[1], "pnµu") {
			u = "F"
		}
		return &token{text: m[1], figure: m[1], unit: u}, len(m[1])
	}
	if w := reWord.FindString(text); w != "" {
		return &token{text: w}, len(w)
	}
	_, n := utf8.DecodeRuneInString(text)
	return &token{text: text[:n]}, n
}

func figureToken(s string) *token {
	t := &token{text: s, figure: s}
	switch {
	case strings.HasSuffix(s, "Hz"):
		t.unit = "Hz"
	case strings.HasSuffix(s, "h"), strings.HasSuffix(s, "hours"):
		t.unit = "h"
	case strings.HasSuffix(s, "mm"):
		t.unit = "m"
	case strings.HasSuffix(s, "ns"), strings.HasSuffix(s, "µs"), strings.HasSuffix(s, "us"):
		t.unit = "s"
	case strings.HasSuffix(s, "nC"):
		t.unit = "C"
	case strings.HasSuffix(s, "%"):
		t.unit = "%"
	case strings.HasSuffix(s, "°C"), strings.HasSuffix(s, "°"):
		t.unit, t.figure = "°C", strings.TrimSuffix(strings.TrimSuffix(s, "C"), "°")
	case strings.ContainsAny(s, "V"):
		t.unit, t.ac = "V", reAC.MatchString(s)
		t.figure = s[:strings.Index(s, "V")+1]
	case strings.ContainsAny(s, "ΩOo"):
		t.unit = "Ω"
	default:
		if m := reUnit.FindStringSubmatch(s); m != nil {
			t.unit = m[1]
		}
	}
	return t
}

// takeWords finds the kind and the words.
func (p *Part) takeWords(ts []*token) {
	for i := 0; i < len(ts); i++ {
		if ts[i].figure != "" {
			continue
		}
		n := i
		var run []string
		for n < len(ts) && ts[n].figure == "" && n-i < 3 {
			run = append(run, ts[n].text)
			n++
		}
		if ph, k := lookUp(run); k > 0 && p.takePhrase(ph) {
			for j := range k {
				ts[i+j].done = true
			}
			i += k - 1
			continue
		}
		ts[i].done = p.takeWord(ts[i].text)
	}
}

// takePhrase takes what a name stands for, unless something else has been said already.
func (p *Part) takePhrase(ph phrase) bool {
	if ph.kind != part.Unknown {
		switch {
		case p.Kind == part.Suppression && ph.kind == part.Film:
		case p.Kind == part.Rectifier && ph.kind == part.Zener, p.Kind == part.Unknown:
			p.Kind = ph.kind
		case p.Kind != ph.kind:
			return false
		}
	}
	return ph.param == "" || p.setWord(ph.param, ph.word)
}

func (p *Part) takeWord(w string) bool {
	switch {
	case fill[strings.ToLower(w)]:
		return true
	case reClass.MatchString(w):
		if p.Kind == part.Unknown || p.Kind == part.Film {
			p.Kind = part.Suppression
		}
		return p.setWord(fit.Class, strings.ToUpper(w))
	case reDielectric.MatchString(w):
		return p.setWord(fit.Dielectric, strings.ToUpper(w))
	case reCase.MatchString(w):
		return p.setWord(fit.Package, strings.ToUpper(w))
	}
	return false
}

func (p *Part) setWord(k fit.Param, w string) bool {
	if old, ok := p.Words[k]; ok && old != w {
		return false
	}
	p.Words[k] = w
	return true
}

// takeFigures gives each figure to the parameter its unit stands for.
func (p *Part) takeFigures(ts []*token) {
	for i, t := range ts {
		if t.figure == "" {
			continue
		}
		k, said := p.paramOf(t, ts[:i])
		if k == "" {
			continue
		}
		if !p.setFigure(k, t.figure, t.unit) {
			continue
		}
		t.done = true
		for _, w := range ts[i-said : i] {
			w.done = true
		}
		if t.second != "" {
			t.done = p.setFigure(fit.Height, t.second, "m")
		}
	}
}

func (p *Part) setFigure(k fit.Param, text, u string) bool {
	scale := 1.0
	switch u {
	case "size":
		u = "m"
	case "C": // only nanocoulombs are written on parts
		text, u, scale = strings.TrimSuffix(text, "nC"), "s", 1e-9
	}
	v, err := unit.Parse(text, u)
	v *= scale
	if _, twice := p.Figures[k]; err != nil || twice || !(v > 0) {
		return false
	}
	p.Figures[k] = v
	return true
}

// paramOf says which parameter a figure is; said is how many words before it name it.
func (p *Part) paramOf(t *token, before []*token) (k fit.Param, said int) {
	for n := min(2, len(before)); n > 0; n-- {
		var name []string
		for _, w := range before[len(before)-n:] {
			if w.figure == "" {
				name = append(name, strings.ToLower(strings.TrimRight(w.text, ":=")))
			}
		}
		if k, ok := named[strings.Join(name, " ")][t.unit]; ok && len(name) == n {
			return k, n
		}
	}
	if k, ok := special[p.Kind][t.unit]; ok {
		return k, 0
	}
	if t.unit == "V" && t.ac {
		return fit.VoltsAC, 0
	}
	return usual[t.unit], 0
}

// fromMarking takes the marking's reading for a line that names no kind.
func (p *Part) fromMarking() bool {
	rs, err := marking.Read(p.Text, marking.Hint{Limit: 2})
	if err != nil || rs[0].Plausibility < surely || len(rs) > 1 && rs[1].Plausibility > rs[0].Plausibility/3 {
		return false
	}
	o := fit.FromReading(rs[0])
	p.Kind, p.Figures, p.Words, p.Guessed = o.Kind, o.Figures, o.Words, true
	return p.Kind != part.Unknown
}

// fromRest reads what nothing accounts for as a marking of the kind that was said,
// and takes it if it gives a value that was missing and contradicts nothing.
func (p *Part) fromRest() {
	if p.Kind == part.Unknown || len(p.Rest) == 0 {
		return
	}
	rs, err := marking.Read(strings.Join(p.Rest, " "), marking.Hint{Kind: p.Kind, Limit: 1})
	if err != nil || rs[0].Kind != p.Kind || rs[0].Plausibility < surely {
		return
	}
	o := fit.FromReading(rs[0])
	fresh := false
	for k, v := range o.Figures {
		old, ok := p.Figures[k]
		if ok && (v < 0.999*old || v > 1.001*old) {
			return
		}
		fresh = fresh || !ok && k != fit.Tolerance
	}
	for k, w := range o.Words {
		if old, ok := p.Words[k]; ok && old != w {
			return
		}
	}
	if !fresh {
		return
	}
	maps.Copy(p.Figures, o.Figures)
	maps.Copy(p.Words, o.Words)
	p.Rest = nil
}

// Requirement is what a part must satisfy to do for what the text says, or why
// the text says too little for that.
func Requirement(text string) (fit.Requirement, error) {
	p := Read(text)
	switch {
	case p.Kind == part.Unknown:
		return fit.Requirement{}, fmt.Errorf("%q names no kind of part known here", p.Text)
	case len(p.Rest) > 0:
		return fit.Requirement{}, fmt.Errorf("%q is not understood", strings.Join(p.Rest, " "))
	}
	for _, k := range needs[p.Kind] {
		if _, ok := p.Figures[k]; !ok {
			return fit.Requirement{}, fmt.Errorf("it does not say the %s", k)
		}
	}
	if _, ok := needs[p.Kind]; !ok {
		return fit.Requirement{}, fmt.Errorf("of a %s more must match than a line says, its pins for one", p.Kind)
	}
	return fit.For(p.Old())
}

// needs lists the figures without which a line is too little to go by. Kinds not
// in it have pins, or speeds, that a line seldom states.
var needs = map[part.Kind][]fit.Param{
	part.Electrolytic: {fit.Capacitance, fit.VoltsDC}, part.Tantalum: {fit.Capacitance, fit.VoltsDC}, part.Ceramic: {fit.Capacitance, fit.VoltsDC},
	part.Film: {fit.Capacitance, fit.VoltsDC}, part.Resistor: {fit.Resistance, fit.Power}, part.FusibleResistor: {fit.Resistance, fit.Power},
	part.Suppression: {fit.Capacitance, fit.VoltsAC}, part.Inductor: {fit.Inductance, fit.Current}, part.Zener: {fit.ZenerVolts, fit.Power},
	part.Fuse: {fit.Current, fit.VoltsAC}, part.ThermalFuse: {fit.OpensAt, fit.Current}, part.Varistor: {fit.ClampVolts, fit.Diameter},
	part.Crystal: {fit.Frequency},
}
