package discharge

import (
	"fmt"
	"math"

	"fettler/internal/part"
	"fettler/internal/part/eseries"
	"fettler/internal/part/unit"
)

// Charge is what is to be emptied. Zero fields take the default said.
type Charge struct {
	Farad   float64
	Volts   float64
	EndAt   float64 // voltage to reach; 0 = the class 1 touch voltage or 1 V, see [Plan]
	Seconds float64 // time to aim for; 0 = 5
	Ohms    float64 // a resistor already at hand; 0 = suggest one
}

// Plan says how to empty a capacitor.
type Plan struct {
	Joules     float64
	Limits     []Limit
	EndAt      float64 // voltage at which the time below is counted: class 1 if the start is above it, otherwise 1 V
	Ohms       float64 // the resistor, an E12 value when suggested; 0 = no procedure is given
	RatedWatts float64 // rating to look for
	Pieces     int     // resistors of equal value to put in series, for voltage
	PeakAmps   float64
	PeakWatts  float64 // in all of them together, at the first instant
	Heat       float64 // J that end in the resistor until EndAt
	Seconds    float64 // until EndAt
	ToOneVolt  float64 // s until 1 V, when parts and meter are safe too
	Steps      []string
	Source     part.Source // of the overload rule behind RatedWatts
}

const (
	// guideVolts is where this package stops giving procedures.
	guideVolts = 1000
	// overload is how many times its rating a wirewound resistor takes for a few
	// seconds, and perPiece the voltage one of 5 W or so stands. Common practice, no source.
	overload = 10
	perPiece = 350
)

var ratings = []float64{0.5, 1, 2, 3, 5, 10, 17, 25, 50, 100, 200}

// Make works out the plan. The resistor is the largest E12 value that is quick enough, but
// no smaller than what a 10 W part stands at the first instant (V0²/100 W), and
// between 10 Ω and 10 kΩ unless voltage asks for more. Its rating is the least that takes the peak at ten
// times overload and the energy within ten seconds, and above 60 V no less than 5 W.
func Make(c Charge) (Plan, error) {
	v := math.Abs(c.Volts)
	if !positive(c.Farad, v) || v > 1e6 || c.Farad > 1e4 {
		return Plan{}, fmt.Errorf("give a capacitance and a voltage, both above zero: %g F and %g V cannot be planned for", c.Farad, c.Volts)
	}
	if !(c.EndAt >= 0) || !(c.Seconds >= 0) || !(c.Ohms >= 0) || math.IsInf(c.EndAt+c.Seconds+c.Ohms, 0) {
		return Plan{}, fmt.Errorf("end voltage, time and resistor must be 0 (take the default) or positive figures")
	}
	var p Plan
	var err error
	if p.Joules, err = Energy(c.Farad, v); err != nil {
		return Plan{}, err
	}
	if p.Limits, err = Limits(c.Farad, v); err != nil {
		return Plan{}, err
	}
	p.EndAt = endAt(c, v)
	if v > guideVolts {
		p.Steps = []string{fmt.Sprintf("%s stored at %s: no procedure is given above %s. Leave it closed, or to hands trained for it.", unit.Format(p.Joules, "J"), unit.Format(v, "V"), unit.Format(guideVolts, "V"))}
		return p, nil
	}
	if err := p.resistor(c, v); err != nil {
		return Plan{}, err
	}
	p.steps(v)
	return p, nil
}

func endAt(c Charge, v float64) float64 {
	if c.EndAt > 0 {
		return c.EndAt
	}
	if es1, _, _, err := TouchVolts(c.Farad); err == nil && v > es1 {
		return es1
	}
	return 1
}

func (p *Plan) resistor(c Charge, v float64) error {
	p.Ohms, p.Pieces = c.Ohms, 1
	if p.Ohms == 0 {
		aim := c.Seconds
		if aim == 0 {
			aim = 5
		}
		quick := 10e3
		if v > p.EndAt {
			r, err := MaxOhms(c.Farad, v, p.EndAt, aim)
			if err != nil {
				return err
			}
			quick = math.Min(r, quick)
		}
		r := math.Max(math.Max(quick, v*v/100), 10)
		var err error
		if p.Ohms, err = e12Below(r, v*v/100); err != nil {
			return err
		}
		p.Pieces = int(math.Ceil(v / perPiece))
	}
	p.PeakAmps, p.PeakWatts = v/p.Ohms, v*v/p.Ohms
	p.Heat = math.Max(0, p.Joules-0.5*c.Farad*p.EndAt*p.EndAt)
	var err error
	if p.Seconds, err = Seconds(c.Farad, p.Ohms, v, p.EndAt); err != nil {
		return err
	}
	if p.ToOneVolt, err = Seconds(c.Farad, p.Ohms, v, 1); err != nil {
		return err
	}
	least := 0.5
	if v > 60 {
		least = 5 // bench practice: a sturdy body, leads that hold
	}
	p.RatedWatts = rate(max(least, p.PeakWatts/overload, p.Joules/10))
	if p.ToOneVolt > 30 { // long enough to count as steady
		p.RatedWatts = math.Max(p.RatedWatts, rate(p.PeakWatts/2))
	}
	p.Source = part.Source{Text: "wirewound resistors take about ten times their rating for a few seconds", Mark: part.Practice}
	if c.Ohms > 0 && rate(p.PeakWatts/overload) == 0 {
		least := v * v / (overload * ratings[len(ratings)-1])
		if r, err := Make(Charge{Farad: c.Farad, Volts: c.Volts, EndAt: c.EndAt}); err == nil {
			least = r.Ohms
		}
		return fmt.Errorf("%s draws %s at the first instant from %s, %s for a moment: the spark welds, and the resistor may burst; take %s or so instead",
			unit.Format(p.Ohms, "Ω"), unit.FormatDigits(p.PeakAmps, "A", 2), unit.Format(v, "V"), unit.FormatDigits(p.PeakWatts, "W", 2), unit.Format(least, "Ω"))
	}
	if !positive(p.Ohms, p.PeakWatts, p.RatedWatts) {
		return fmt.Errorf("no usual resistor stands %s; empty it in stages or leave it to trained hands", unit.Format(p.Joules, "J"))
	}
	return nil
}

// e12Below is the E12 value at or below r, or the one above if that would be
// below least.
func e12Below(r, least float64) (float64, error) {
	n, err := eseries.E12.Nearest(r)
	if err != nil {
		return 0, err
	}
	for f := n; f > r*(1+1e-9); {
		if f, err = eseries.E12.Nearest(f / 1.2); err != nil {
			return 0, err
		}
		n = f
	}
	for n < least*(1-1e-9) {
		if n, err = eseries.E12.Nearest(n * 1.2); err != nil {
			return 0, err
		}
	}
	return n, nil
}

// rate is the usual rating at or above w; 0 when there is none.
func rate(w float64) float64 {
	for _, r := range ratings {
		if r >= w*(1-1e-9) {
			return r
		}
	}
	return 0
}

// Each is what pieces equal resistors in series are, to make up about ohms of watts: the
// nearest E12 value, so that the whole is within 10 %, and the usual rating at or above
// each one's share, 5 W or more for a body that stands the voltage.
func Each(ohms, watts float64, pieces int) (eachOhms, eachWatts float64) {
	n := float64(max(pieces, 1))
	eachOhms, err := eseries.E12.Nearest(ohms / n)
	if err != nil {
		eachOhms = ohms / n
	}
	return eachOhms, rate(max(watts/n, 5))
}

func (p *Plan) steps(v float64) {
	res := fmt.Sprintf("%s, %s or more, wirewound", unit.Format(p.Ohms, "Ω"), unit.Format(p.RatedWatts, "W"))
	if p.Pieces > 1 {
		ohms, watts := Each(p.Ohms, p.RatedWatts, p.Pieces)
		res += fmt.Sprintf(", made of %d of %s, %s each in series because one stands about %d V", p.Pieces, unit.Format(ohms, "Ω"), unit.Format(watts, "W"), perPiece)
	}
	hold := math.Max(3*p.Seconds, p.ToOneVolt)
	p.Steps = []string{
		"Unplug; keep the plug in sight. Use a meter rated for the voltage and check it on a known source first.",
		fmt.Sprintf("Resistor: %s, with insulated leads and probe tips. Not a screwdriver: at %s the spark welds and throws metal.", res, unit.Format(v, "V")),
		fmt.Sprintf("One hand, nothing earthed under the other. Hold it across the capacitor for %s; it falls to %s in %s.",
			unit.FormatDigits(hold, "s", 2), unit.Format(p.EndAt, "V"), unit.FormatDigits(p.Seconds, "s", 2)),
		"Measure. Wait a minute and measure again: dielectric absorption brings back up to about a tenth of the voltage.",
		"Leave the resistor clipped on while you work. Every other large capacitor on the board has its own charge.",
	}
	if v > 60 {
		p.Steps = append(p.Steps, "If you are not used to working on mains-derived voltages, let someone who is do this; local rules may require it.")
	}
}
