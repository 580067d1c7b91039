package rework

import (
	"fmt"

	"fettler/internal/part/unit"
)

// What to see, measure and keep off. Common practice, no source.

func lampLooks() []Look {
	return []Look{
		{"flash, then dark or a dim glow", "inrush only: no hard short. Measure the rails."},
		{"full and steady", "a short: bridge, switching transistor, reservoir, varistor, X capacitor. Switch off."},
		{"pulsing", "the supply tries to start and gives up: a fault behind it, or a healthy one with too small a lamp. Take the next size once."},
		{"dark, and the device dead", "open: fuse, start-up resistor, switch, inrush limiter."},
	}
}

func measureFirst(p PowerPlan) []string {
	const fuse = "Fuse of the stated value and type in place, never a larger one."
	switch {
	case p.Feed.ClosedUp():
		return append(coldFirst(p), outletLast(p))
	case p.Feed != Direct && len(p.Lamps) == 0:
		if p.Shut {
			return append(coldFirst(p), outletLast(p))
		}
		return append(coldFirst(p), outletLast(p), railsFirst(p.Feed))
	case p.Shut && p.Feed == Direct:
		return []string{fuse, "Closed up, the supply's own current only: at its limit with the voltage pulled down is a short. Nothing is measured inside with the power on, as this bench's settings say."}
	case p.Shut:
		return []string{fuse, "Cover on, and the lamp alone tells: nothing is measured inside with the power on, as this bench's settings say."}
	}
	return []string{fuse, "Clip the meter on before power, insulated clips; read, switch off, then move the clips.", railsFirst(p.Feed)}
}

// coldFirst is what is measured with the plug out where a lamp says nothing.
func coldFirst(p PowerPlan) []string {
	pins := "Unplugged, switch on: ohms between live and neutral pin. Near zero is a short: do not plug it in."
	switch p.Feed {
	case Heater:
		pins = fmt.Sprintf("Unplugged, switch and thermostat on: ohms between live and neutral pin. %.0f V squared over %.0f W is %s; a tenth less cold is usual, and a bulb a tenth of it. Near zero is a short, open is a broken element, cut-out or lead.",
			p.Volts, p.Watts, unit.FormatDigits(p.Ohms, "Ω", 3))
	case Motor:
		pins = "Unplugged, switch on: ohms between live and neutral pin, the shaft turned slowly by hand. A few ohms to some hundred, steady, is a winding (far less than U²/P: a running motor holds the current down); near zero is a short, open is a brush, cut-out, switch or lead."
	case Ballast:
		pins = "Unplugged, switch on, tube and starter in: ohms between live and neutral pin. With a choke it is open, or some ten ohms where the tube's ends are in circuit; near zero is a short: capacitor, wire or lead. An electronic ballast reads as a capacitor that charges. The choke alone, tens of ohms; open is a dead one."
	}
	return []string{"Fuse of the stated value and type in place, never a larger one.", pins,
		"Still unplugged: earth pin to bare metal below 1 Ω where it is earthed; live and neutral together to earth and to bare metal open, with an insulation tester at 500 V 1 MΩ or more."}
}

func outletLast(p PowerPlan) string {
	if p.Feed == Ballast {
		return fmt.Sprintf("Then, closed up, at an outlet with a residual-current device: it should draw about %s, with a choke that has no capacitor beside it about twice that. Off at once if it trips, hums loudly or smells.", unit.FormatDigits(p.Amps, "A", 2))
	}
	return fmt.Sprintf("Then, closed up, at an outlet with a residual-current device: it should draw about %s. Off at once if it trips, hums or smells.", unit.FormatDigits(p.Amps, "A", 2))
}

func railsFirst(f Feed) string {
	switch f {
	case Direct:
		return "The supply's own current: at its limit with the voltage pulled down is a short. Then input, then each rail, lowest first."
	case Linear:
		return "First the reservoirs (both of a pair alike), then each regulated rail, then DC across the loudspeaker terminals, with a load resistor in the loudspeaker's place until it is below 0.1 V."
	}
	return "First the reservoir behind the bridge (1.4 times mains, less the lamp's share), then the standby rail, then the main rails."
}

func standWhere(f Feed) []string {
	if f.ClosedUp() {
		return []string{"To the side, arm's length, closed up, nothing that burns near it.",
			"Switch at a strip you reach without leaning over the device. Hands off. Look, smell, listen: ten seconds, a minute, ten minutes.",
			"Somebody within call. Off at once for smoke, smell or a hot part that should be cool."}
	}
	out := []string{"To the side, arm's length, face away from electrolytics and supply: what fails does so in the first seconds. Glasses.",
		"Switch at a strip you reach without leaning over the device. Hands off, one in the pocket. Look, smell, listen: ten seconds, a minute, ten minutes.",
		"Somebody within call. Off at once for smoke, smell, a hot part or a bright lamp."}
	if f == Direct {
		return append(out, "Feel for warm parts with the power off.")
	}
	return append(out, "The device is live behind the lamp as before it, and a lamp or a variac does not isolate. Through a residual-current device; on an isolating transformer that protection is gone.",
		"Live work only as local rules and your training allow; otherwise hand it over for this step.")
}

func notThisWay(p PowerPlan) []string {
	const noLED = "No LED lamp: it limits nothing. Incandescent or halogen only."
	const slowly = "Do not turn the mains down slowly: a switched supply draws more current the lower the voltage."
	switch p.Feed {
	case Direct:
		return []string{"Polarity first: meter on the plug, centre and sleeve, before it goes in.", "No bench supply on a lithium cell as a charger."}
	case Heater:
		return []string{"No series lamp: a healthy heater lights it fully, as a short does. It would only show a dead short or one to earth, and that badly; the ohmmeter shows both with the plug out."}
	case Motor:
		return []string{"No series lamp: a healthy motor lights it and stalls. It would only show a dead short or one to earth, and that badly; the ohmmeter shows both with the plug out.",
			"Nothing that turns near hands, hair or sleeves: blade, brush and belt guarded or off."}
	case Ballast:
		return []string{"No series lamp: behind it a tube strikes badly or never, and that looks like the fault.",
			"Never bridge the ballast: a tube straight at the mains bursts. Tubes and starters in and out with the plug out; an electronic ballast keeps its charge, near 400 V, for minutes."}
	}
	var out []string
	if len(p.Lamps) == 0 {
		out = append(out, "No series lamp: none is large enough, and a smaller one lights fully for a healthy device too.")
	} else {
		out = append(out, noLED)
	}
	switch p.Feed {
	case Switched:
		out = append(out, slowly)
	case PFC:
		if len(p.Lamps) > 0 {
			out = append(out, "A power-factor stage may refuse to start on any lamp: a healthy one then pulses. With a lamp of two to three times the power, no load, once.")
		}
		out = append(out, slowly, "The bus behind the power-factor stage is 380 to 400 V: probes rated for it.")
	}
	return out
}
