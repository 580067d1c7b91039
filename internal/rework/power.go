package rework

import (
	"fmt"
	"math"
)

// Feed is how a device is fed.
type Feed string

// The feeds that [FirstPower] tells apart.
const (
	Linear   Feed = "mains, transformer" // a heavy transformer with rectifier
	Switched Feed = "mains, switched"    // a switching supply
	PFC      Feed = "mains, switched with power-factor correction"
	Direct   Feed = "low voltage, direct current: adapter or battery"
	Heater   Feed = "mains, heating element or plain lamp" // not for a series lamp
	Motor    Feed = "mains, motor"                         // universal, induction, compressor; not for a series lamp
	Ballast  Feed = "mains, tube and ballast"              // choke or electronic; not for a series lamp
)

// ClosedUp reports whether a first power reads nothing inside: the resistance cold and
// a protected outlet tell.
func (f Feed) ClosedUp() bool { return f == Heater || f == Motor || f == Ballast }

// Feeds returns the feeds.
func Feeds() []Feed { return []Feed{Linear, Switched, PFC, Direct, Heater, Motor, Ballast} }

// A Device is what is to be powered for the first time. Zero fields take the default said.
type Device struct {
	Feed  Feed
	Watts float64 // its own rating
	Volts float64 // mains voltage, or the direct voltage of a Direct feed; 0 = 230
	Shut  bool    // nothing is measured inside with the power on
}

// A Lamp is a series lamp.
type Lamp struct {
	Watts float64
	Hot   float64 // Ω when bright, U²/P
	Cold  float64 // Ω cold, about a twelfth
	Short float64 // A with a dead short behind it, P/U
}

// A Look is how the lamp may look, and what it means.
type Look struct{ Seen, Means string }

// A PowerPlan is how to give first power. Lamps is empty where a lamp is no help; Limit
// is zero where a limited supply is none.
type PowerPlan struct {
	Device
	Amps    float64 // the device's own current, P/U
	Lamps   []Lamp  // first choice, then the next larger
	Looks   []Look
	Limit   float64 // A, first current limit of a bench supply
	Raise   float64 // A, the limit to work up to
	Ohms    float64 // Ω between the plug's pins, everything switched on, U²/P; 0 where it says nothing
	Measure []string
	Stand   []string
	Not     []string // what must not be done this way
}

var lampSizes = []float64{25, 40, 60, 100, 150, 200, 300, 500}

const (
	leastLimit = 0.05 // A
	coldShare  = 12.0 // hot over cold resistance of a filament, 10 to 15
)

// NewLamp is a lamp's figures. Resistance and current: Ohm's law on its rating.
func NewLamp(watts, volts float64) (Lamp, error) {
	if !(watts >= 1 && watts <= 2000) || !(volts >= 90 && volts <= 260) {
		return Lamp{}, fmt.Errorf("a lamp of %g W for %g V is none of the usual ones: give 1 to 2000 W and 90 to 260 V", watts, volts)
	}
	hot := volts * volts / watts
	return Lamp{Watts: watts, Hot: hot, Cold: hot / coldShare, Short: watts / volts}, nil
}

// FirstPower sizes lamp or supply for a device. The lamp is the smallest usual one of
// at least the device's own power, and no less than 40 W for a switched supply or
// 25 W otherwise; the alternative is the next size. Above 500 W, and for heaters,
// motors and tubes, no lamp is advised: a healthy device lights it as a faulty one does. The
// resistance cold, the insulation and a protected outlet take its place. Common practice, no source.
func FirstPower(d Device) (PowerPlan, error) {
	if d.Volts == 0 {
		d.Volts = 230
	}
	lo, hi, what := 90.0, 260.0, "mains voltage"
	if d.Feed == Direct {
		lo, hi, what = 0.5, 120, "direct voltage"
	}
	switch {
	case !known(d.Feed):
		return PowerPlan{}, fmt.Errorf("%q is no way of feeding a device known here: take one of the list", string(d.Feed))
	case !(d.Volts >= lo && d.Volts <= hi):
		return PowerPlan{}, fmt.Errorf("a %s of %g V is out of range: give %g to %g V", what, d.Volts, lo, hi)
	case !(d.Watts >= 0.1 && d.Watts <= 20_000):
		return PowerPlan{}, fmt.Errorf("a power of %g W is out of range: give what stands on the type plate, 0.1 to 20 000 W", d.Watts)
	}
	p := PowerPlan{Device: d, Amps: d.Watts / d.Volts}
	switch d.Feed {
	case Direct:
		p.Limit = math.Max(leastLimit, p.Amps/10)
		p.Raise = math.Max(p.Limit, 1.2*p.Amps)
	case Heater:
		p.Ohms = d.Volts * d.Volts / d.Watts
	case Motor, Ballast:
	default:
		if p.Lamps = lampsFor(d); len(p.Lamps) > 0 {
			p.Looks = lampLooks()
		}
	}
	p.Measure, p.Stand, p.Not = measureFirst(p), standWhere(d.Feed), notThisWay(p)
	return p, nil
}

func known(f Feed) bool {
	for _, x := range Feeds() {
		if x == f {
			return true
		}
	}
	return false
}

func lampsFor(d Device) []Lamp {
	want := math.Max(d.Watts, 25)
	if d.Feed != Linear {
		want = math.Max(want, 40)
	}
	var out []Lamp
	for _, w := range lampSizes {
		if w >= want && len(out) < 2 {
			l, err := NewLamp(w, d.Volts)
			if err == nil {
				out = append(out, l)
			}
		}
	}
	return out
}
