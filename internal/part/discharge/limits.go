package discharge

import (
	"fmt"
	"math"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// Limit is a published threshold that a charge was compared with.
type Limit struct {
	Name    string
	Value   float64 // threshold
	Unit    string
	Actual  float64
	Over    bool
	Meaning string
	Source  part.Source
}

// String gives the comparison in words with its source.
func (l Limit) String() string {
	s := "within"
	if l.Over {
		s = "over"
	}
	return fmt.Sprintf("%s %s the %s of %s: %s [%s]", unit.Format(l.Actual, l.Unit), s, l.Name, unit.Format(l.Value, l.Unit), l.Meaning, l.Source)
}

// touch is IEC 62368-1, 5.2.2.3, table 5: highest voltage of a charged capacitor by
// its capacitance, in nF. From memory.
var touch = []struct{ nF, es1, es2 float64 }{
	{300, 60, 120}, {170, 75, 150}, {91, 100, 200}, {61, 125, 250}, {41, 150, 300}, {28, 200, 400}, {18, 250, 500}, {12, 350, 700},
	{8, 500, 1000}, {4, 1000, 2000}, {1.6, 2500, 5000}, {0.8, 5000, 10000}, {0.4, 10000, 20000}, {0.2, 20000, 40000}, {0.133, 25000, 50000},
}

var srcTouch = part.Source{Text: "IEC 62368-1, 5.2.2.3, table 5", Mark: part.Memory}

// TouchVolts are the greatest voltages a charged capacitor may have to count as
// energy class 1 (perhaps felt, not painful) and class 2 (painful, not injuring), from IEC 62368-1 table 5, from
// memory. Between two entries the larger capacitance counts, which is the safer side.
func TouchVolts(farad float64) (es1, es2 float64, src part.Source, err error) {
	if !positive(farad) {
		return 0, 0, part.Source{}, fmt.Errorf("the touch limit needs a capacitance above zero, not %g F", farad)
	}
	row := touch[0]
	for _, t := range touch {
		if farad*1e9 <= t.nF*(1+1e-9) {
			row = t
		}
	}
	return row.es1, row.es2, srcTouch, nil
}

// Limits compares a charge with every threshold known here: energy, touch
// voltage and, for the arc-flash standard, both together.
func Limits(farad, volts float64) ([]Limit, error) {
	e, err := Energy(farad, volts)
	if err != nil {
		return nil, err
	}
	v := math.Abs(volts)
	es1, es2, src, err := TouchVolts(farad)
	if err != nil {
		return nil, err
	}
	leaflet := part.Source{Text: "laboratory safety leaflet, discharge of capacitors", Mark: part.Read}
	joule := func(at float64, name, meaning string, s part.Source) Limit {
		return Limit{Name: name, Value: at, Unit: "J", Actual: e, Over: e > at, Meaning: meaning, Source: s}
	}
	out := []Limit{
		joule(0.1, "servicing threshold", "provide a safe way to discharge above it", leaflet),
		joule(0.25, "shock threshold", "a heavy shock above it", leaflet),
		joule(10, "lethal threshold", "can kill above it", leaflet),
		{Name: "class 1 touch voltage", Value: es1, Unit: "V", Actual: v, Over: v > es1, Meaning: "perhaps felt, not painful below it", Source: src},
		{Name: "class 2 touch voltage", Value: es2, Unit: "V", Actual: v, Over: v > es2, Meaning: "painful but not injuring below it", Source: src},
	}
	nfpa := 100.0
	switch {
	case v > 400:
		nfpa = 0.25
	case v >= 100:
		nfpa = 1
	}
	out = append(out, joule(nfpa, "electrical-safety threshold at this voltage", "treat as hazardous above it", part.Source{Text: "NFPA 70E-2021, article 360", Mark: part.Memory}))
	return out, nil
}

// PlugPins checks the rules for mains plugs pulled from the socket: farad between
// the pins, bleed resistance across it, peak of the mains (325 V for 230 V).
// A limit that is Over is not met.
func PlugPins(farad, bleedOhms, peakVolts float64) ([]Limit, error) {
	at1, err := VoltsAfter(farad, bleedOhms, peakVolts, 1)
	if err != nil {
		return nil, err
	}
	at2, err := VoltsAfter(farad, bleedOhms, peakVolts, 2)
	if err != nil {
		return nil, err
	}
	es1, _, src, err := TouchVolts(farad)
	if err != nil {
		return nil, err
	}
	at1, at2 = math.Abs(at1), math.Abs(at2)
	var out []Limit
	if farad > 0.1e-6*(1+1e-9) {
		out = append(out, Limit{Name: "household appliance limit after 1 s", Value: 34, Unit: "V", Actual: at1, Over: at1 > 34,
			Meaning: "on the pins after unplugging", Source: part.Source{Text: "IEC 60335-1, 22.5, as quoted by two pages", Mark: part.Read}})
	}
	src.Text = "IEC 62368-1, 5.5.2.2 and table 5"
	out = append(out, Limit{Name: "audio, video and computer limit after 2 s", Value: es1, Unit: "V", Actual: at2, Over: at2 > es1,
		Meaning: "on pins an ordinary person can reach", Source: src})
	return out, nil
}
