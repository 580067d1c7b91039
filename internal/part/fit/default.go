package fit

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/part"
)

// Duty is what the part does in its circuit; it decides how close the value must be.
type Duty string

// The duties that change a requirement. The zero value is "not known".
const (
	AnyDuty     Duty = ""
	Smoothing   Duty = "smoothing"           // reservoir behind a mains rectifier
	SwitchMode  Duty = "switch-mode output"  // ripple current at tens of kilohertz
	AfterLinear Duty = "regulator output"    // some regulators need a little ESR to be stable
	Timing      Duty = "timing or filtering" // the value sets a frequency or a delay
	Coupling    Duty = "coupling"            // passes a signal, keeps DC out
)

// Old is the part to be replaced, as far as it is known.
type Old struct {
	Kind    part.Kind
	Figures map[Param]float64
	Words   map[Param]string
	Duty    Duty
	// WorkingVolts is the voltage the part really sees, when it is known from the
	// circuit; the rating may then be lower than the old part's. 0 = not known.
	WorkingVolts float64
	Pieces       int // 0 = 1
}

// For derives the usual requirement for replacing old. The limits are common
// practice, no source, unless an inequality says otherwise; edit them where the
// circuit is known better. It returns an error saying what must be known first,
// for example the class of a suppression capacitor.
func For(old Old) (Requirement, error) {
	for p, v := range old.Figures {
		if _, ok := figures[p]; !ok {
			return Requirement{}, fmt.Errorf("%q is not a figure known here", p)
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Requirement{}, fmt.Errorf("%s is not a number; leave it out if it is not known", p)
		}
	}
	if math.IsNaN(old.WorkingVolts) || math.IsInf(old.WorkingVolts, 0) || old.WorkingVolts < 0 {
		return Requirement{}, fmt.Errorf("the working voltage must be a positive figure, or 0 when it is not known")
	}
	rule, ok := rules[old.Kind]
	if !ok {
		return Requirement{}, fmt.Errorf("say what kind of part it is; one of %v", part.Kinds())
	}
	b := &builder{old: old, req: Requirement{Kinds: []part.Kind{old.Kind}, Pieces: old.Pieces, LikeForLike: old.Kind.SafetyCritical()}}
	rule(b)
	if b.err != nil {
		return Requirement{}, b.err
	}
	b.req.Title = "instead of " + article(old.Kind) + " " + string(old.Kind)
	if b.req.Main != "" {
		b.req.Title += " of " + b.req.Main.Show(b.req.Wanted)
	}
	if b.req.LikeForLike {
		b.req.Cautions = append(b.req.Cautions, "safety part: like for like only; local rules may leave this to licensed hands")
	}
	return b.req, nil
}

func article(k part.Kind) string {
	if strings.ContainsRune("aeiou", rune(k[0])) {
		return "an"
	}
	return "a"
}

// rules gives the rule of each kind.
var rules = map[part.Kind]func(*builder){
	part.Resistor: resistor, part.FusibleResistor: fusible, part.Ceramic: ceramic, part.Film: film, part.Electrolytic: electrolytic,
	part.Tantalum: tantalum, part.Suppression: suppression, part.Inductor: inductor, part.Rectifier: rectifier, part.Zener: zener,
	part.MOSFET: mosfet, part.Bipolar: bipolar, part.Regulator: regulator, part.Relay: relay, part.Fuse: fuse, part.ThermalFuse: thermalFuse,
	part.Varistor: varistor, part.Crystal: crystal,
}

// builder collects the inequalities; each method adds one only if the old part
// states the figure it needs.
type builder struct {
	old Old
	req Requirement
	err error
}

// need makes p the main parameter, or fails with what to do.
func (b *builder) need(p Param, what string) float64 {
	v := b.old.Figures[p]
	if !(v > 0) && b.err == nil {
		b.err = fmt.Errorf("to replace %s %s its %s must be known: %s", article(b.old.Kind), b.old.Kind, p, what)
	}
	b.req.Main, b.req.Wanted = p, v
	return v
}

// needWord is the word of the old part, or fails.
func (b *builder) needWord(p Param, what string) string {
	w := b.old.Words[p]
	if w == "" && b.err == nil {
		b.err = fmt.Errorf("to replace %s %s its %s must be known: %s", article(b.old.Kind), b.old.Kind, p, what)
	}
	return w
}

func (b *builder) add(q Inequality) { b.req.Inequalities = append(b.req.Inequalities, q) }

// within asks for v·(1−lo) to v·(1+hi).
func (b *builder) within(p Param, lo, hi float64, q Inequality) {
	if v, ok := b.old.Figures[p]; ok {
		q.Param, q.Op, q.Low, q.High = p, Within, v*(1-lo), v*(1+hi)
		b.add(q)
	}
}

func (b *builder) atLeast(p Param, factor float64, q Inequality) {
	if v, ok := b.old.Figures[p]; ok {
		q.Param, q.Op, q.Low = p, AtLeast, v*factor
		b.add(q)
	}
}

func (b *builder) atMost(p Param, factor float64, q Inequality) {
	if v, ok := b.old.Figures[p]; ok {
		q.Param, q.Op, q.High = p, AtMost, v*factor
		b.add(q)
	}
}

func (b *builder) same(p Param, q Inequality) {
	if w := b.old.Words[p]; w != "" {
		q.Param, q.Op, q.Words = p, OneOf, []string{w}
		b.add(q)
	}
}

func (b *builder) caution(s string) { b.req.Cautions = append(b.req.Cautions, s) }

// volts asks for the rated voltage: the old rating, or 1.25 times the working
// voltage where that is known and less. With safety, a candidate that does not state
// it is refused.
func (b *builder) volts(p Param, why string, safety bool) {
	q := Inequality{Why: why, Safety: safety}
	rated, ok := b.old.Figures[p]
	if w := b.old.WorkingVolts * 1.25; w > 0 && (!ok || w < rated) {
		q.Param, q.Op, q.Low = p, AtLeast, w
		q.Why = fmt.Sprintf("%s; it works at %s, and a quarter is kept in hand", why, p.Show(b.old.WorkingVolts))
		b.add(q)
		return
	}
	b.atLeast(p, 1, q)
}

// size asks that it goes where the old one sat.
func (b *builder) size() {
	b.atMost(Diameter, 1.1, Inequality{Why: "it must stand where the old one stood", Risk: "it leans against its neighbours: keep it away from hot parts", Slack: 0.15, Optional: true})
	b.atMost(Height, 1.1, Inequality{Why: "the cover must close", Risk: "it may touch the cover: measure before soldering, or lay it down and glue it", Slack: 0.15, Optional: true})
	b.within(Pitch, 0.1, 0.1, Inequality{Why: "the legs must meet the holes", Risk: "the legs must be formed; do not strain the seal", Slack: 0.5, Optional: true})
}
