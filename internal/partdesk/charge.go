package partdesk

import (
	"cmp"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/part/discharge"
	"fettler/internal/part/unit"
)

// A ChargeAsk is a charged capacitor. Figures are typed: "470 µF", "325 V".
type ChargeAsk struct {
	Farad   string // a bare figure is in µF
	Volts   string
	Seconds string // time to aim for; "" 5 s
	Ohms    string // a resistor at hand; "" one is proposed
	Plug    bool   // it sits across the pins of a mains plug
	Bleed   string // Plug: resistor across it, "" none
}

// A Charge is what a capacitor holds and how to empty it.
type Charge struct {
	Joules    float64   `json:"joules"`
	Farad     float64   `json:"farad"`
	Volts     float64   `json:"volts"`
	Refused   bool      `json:"refused"`   // no procedure is given at this voltage
	Ohms      float64   `json:"ohms"`      // the resistor
	Watts     float64   `json:"watts"`     // its rating
	Pieces    int       `json:"pieces"`    // of equal value in series
	PeakAmps  float64   `json:"peakAmps"`  // at the first instant
	PeakWatts float64   `json:"peakWatts"` // at the first instant
	Heat      float64   `json:"heat"`      // J that end in the resistor
	EndAt     float64   `json:"endAt"`     // V at which Seconds is counted
	Seconds   float64   `json:"seconds"`   // until EndAt
	ToOneVolt float64   `json:"toOneVolt"` // s until 1 V
	Steps     []string  `json:"steps"`     // in order
	Limits    []Limit   `json:"limits"`    // thresholds it was held against
	Pins      []Limit   `json:"pins"`      // rules for the pins of a plug
	Trust     string    `json:"trust"`     // of the resistor's rating
	Cautions  []string  `json:"cautions"`  // before anything else
	CurveS    []float64 `json:"curveS"`    // the fall in time, for a picture: seconds
	CurveV    []float64 `json:"curveV"`    // and volts
}

// A Limit is a published threshold.
type Limit struct {
	Name    string  `json:"name"`
	Value   float64 `json:"value"`
	Actual  float64 `json:"actual"`
	Unit    string  `json:"unit"`
	Over    bool    `json:"over"`
	Meaning string  `json:"meaning"`
	Source  string  `json:"source"`
	Trust   string  `json:"trust"`
}

// noBleed is what no resistor is reckoned as: 100 nF keep their charge for days.
const noBleed = 1e12

func limitsOf(all []discharge.Limit) []Limit {
	out := []Limit{}
	for _, l := range all {
		out = append(out, Limit{l.Name, l.Value, l.Actual, l.Unit, l.Over, l.Meaning, l.Source.Text, string(l.Source.Mark)})
	}
	return out
}

// Discharge says what a charged capacitor holds and how to empty it.
func Discharge(a ChargeAsk) (*Charge, error) {
	var errs [5]error
	c := discharge.Charge{}
	c.Farad, errs[0] = microfarads(a.Farad, "the capacitance")
	c.Volts, errs[1] = typed(a.Volts, "V", "the voltage", "325 V")
	c.Seconds, errs[2] = typed(a.Seconds, "s", "the time", "5 s")
	c.Ohms, errs[3] = typed(a.Ohms, "Ω", "the resistor", "2k2")
	bleed, err := typed(a.Bleed, "Ω", "the bleed resistor", "1 MΩ")
	errs[4] = err
	if err := cmp.Or(errs[:]...); err != nil {
		return nil, err
	}
	if strings.TrimSpace(a.Farad) == "" || strings.TrimSpace(a.Volts) == "" {
		return nil, failure.New(failure.BadInput, "read both off the part, such as 470 µF and 400 V", "capacitance and voltage must be known")
	}
	p, err := discharge.Make(c)
	if err != nil {
		return nil, badFigure(err)
	}
	out := &Charge{Joules: p.Joules, Farad: c.Farad, Volts: c.Volts, Refused: p.Ohms == 0, Ohms: p.Ohms, Watts: p.RatedWatts, Pieces: p.Pieces, PeakAmps: p.PeakAmps, PeakWatts: p.PeakWatts,
		Heat: p.Heat, EndAt: p.EndAt, Seconds: p.Seconds, ToOneVolt: p.ToOneVolt, Steps: list(p.Steps), Limits: limitsOf(p.Limits), Pins: []Limit{}, Trust: p.Source.String(), CurveS: []float64{}, CurveV: []float64{},
		Cautions: []string{"Unplug first, and pull the plug so that you can see it. Never short a charged capacitor with a tool: it throws molten metal.",
			"Measure before you touch, and again a minute later: part of the charge comes back by itself. One hand, insulated probes, nobody leaning over it. Local rules and your training come first."}}
	if p.Ohms > 0 {
		for i := range 41 {
			s := p.ToOneVolt * float64(i) / 40
			v, err := discharge.VoltsAfter(c.Farad, p.Ohms, c.Volts, s)
			if err != nil {
				break
			}
			out.CurveS, out.CurveV = append(out.CurveS, s), append(out.CurveV, v)
		}
	}
	if a.Plug {
		if bleed == 0 {
			bleed = noBleed
		}
		pins, err := discharge.PlugPins(c.Farad, bleed, c.Volts)
		if err != nil {
			return nil, badFigure(err)
		}
		out.Pins = limitsOf(pins)
	}
	return out, nil
}

// ohmsWords is a resistor as one asks for it in a shop.
func (c *Charge) ohmsWords() string { return unit.Format(c.Ohms, "Ω") }

// Resistor is the resistor in words, "" if no procedure is given.
func (c *Charge) Resistor() string {
	if c.Ohms == 0 {
		return ""
	}
	w := c.ohmsWords() + ", " + unit.Format(c.Watts, "W")
	if c.Pieces > 1 {
		ohms, watts := discharge.Each(c.Ohms, c.Watts, c.Pieces)
		w += ", as " + wordsOf(c.Pieces) + " of " + unit.Format(ohms, "Ω") + ", " + unit.Format(watts, "W") + " each in series for the voltage"
	}
	return w
}

func wordsOf(n int) string {
	if n >= 0 && n < 5 {
		return [...]string{"no", "one", "two", "three", "four"}[n]
	}
	return unit.Format(float64(n), "")
}
