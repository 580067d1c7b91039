package partdesk

import (
	"regexp"

	"fettler/internal/failure"
	"fettler/internal/part"
)

// unreckoned are parts one meets whose substitutes are not reckoned here, and what
// counts when one is chosen by hand. Common practice, no source.
var unreckoned = []struct {
	words *regexp.Regexp
	taken part.Kind // what its figures may be taken for: a "bridge rectifier" is read as a diode
	what  string
	next  string
}{
	{regexp.MustCompile(`(?i)\b(bridges?|graetz)\b`), part.Rectifier, "a bridge rectifier",
		"choose it by hand: reverse voltage and current no less than the old one's (600 V or more at 230 V mains), same case and same order of legs, a heat sink if the old one had one; to look through the shelf, ask for one of its four diodes: rectifier diode 600 V 4 A"},
	{regexp.MustCompile(`(?i)\b(triacs?|thyristors?|scrs?)\b`), part.Unknown, "a triac or thyristor",
		"choose it by hand from its data: off-state voltage and current no less than the old one's (600 V or more at 230 V mains), gate current no more, the same class for motors and coils (snubberless or not), same case and legs, tab insulated or not as before"},
	{regexp.MustCompile(`(?i)\bdiacs?\b`), part.Unknown, "a diac",
		"choose it by hand: the same breakover voltage, most often about 32 V"},
	{regexp.MustCompile(`(?i)\bigbts?\b`), part.Unknown, "an IGBT",
		"choose it by hand from its data: collector voltage and current no less, gate charge and losses no more, with or without the diode inside as before, same case and legs"},
	{regexp.MustCompile(`(?i)\b(opto-?couplers?|photo-?couplers?)\b`), part.Unknown, "an optocoupler",
		"take the same type and the same letter after it (the current transfer ratio), isolation voltage no less, from a source you trust: it separates mains and hands"},
	{regexp.MustCompile(`(?i)\b(thermistors?|ntc|ptc)\b`), part.Resistor, "a thermistor",
		"choose it by hand: the same resistance at 25 °C and the same sort (NTC or PTC), at the mains steady current no less, as a sensor the same beta"},
	{regexp.MustCompile(`(?i)\btransformers?\b`), part.Unknown, "a transformer",
		"choose it by hand: the same primary and secondary voltages, power no less, the same insulation class and thermal cut-out, and it must fit"},
	{regexp.MustCompile(`(?i)\bleds?\b`), part.Unknown, "an LED",
		"choose it by hand: the same forward voltage and colour, current no less, same case"},
}

// notReckoned is the answer about a part whose substitutes are not reckoned here, nil
// if the text names none, or names what is reckoned too (an LED driver's fuse).
func notReckoned(text string, kind part.Kind) error {
	for _, x := range unreckoned {
		if (kind == part.Unknown || kind == x.taken) && x.words.MatchString(text) {
			return failure.New(failure.BadInput, x.next, "what will do instead of %s is not reckoned here", x.what)
		}
	}
	return nil
}

// examples are how a part of a kind is written so that it can be reckoned with.
var examples = map[part.Kind]string{
	part.Resistor: "resistor 4.7 kΩ 5 % 0.5 W", part.FusibleResistor: "fusible resistor 10 Ω 1 W",
	part.Ceramic: "ceramic 100 nF 50 V", part.Film: "film capacitor 100 nF 250 V", part.Electrolytic: "electrolytic 470 µF 25 V 105 °C",
	part.Tantalum: "tantalum 10 µF 16 V", part.Suppression: "suppression capacitor X2 100 nF 275 V", part.Inductor: "inductor 100 µH 2 A",
	part.Rectifier: "rectifier diode 600 V 4 A", part.Zener: "zener diode 5.1 V 1.3 W",
	part.MOSFET: "MOSFET n-channel 600 V 10 A", part.Bipolar: "npn transistor 60 V 3 A", part.Regulator: "voltage regulator 5 V 1 A",
	part.Relay: "relay 12 V", part.Fuse: "fuse T2A 250 V", part.ThermalFuse: "thermal fuse 216 °C 10 A",
	part.Varistor: "varistor 10D471", part.Crystal: "crystal 8 MHz",
}
