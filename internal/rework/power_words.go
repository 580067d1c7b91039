package rework

// What to see, measure and keep off. Common practice, no source.

func lampLooks() []Look {
	return []Look{
		{"flash, then dark or a dim glow", "inrush only: no hard short. Measure the rails."},
		{"full and steady", "a short: bridge, switching transistor, reservoir, varistor, X capacitor. Switch off."},
		{"pulsing", "the supply tries to start and gives up: a fault behind it, or a healthy one with too small a lamp. Take the next size once."},
		{"dark, and the device dead", "open: fuse, start-up resistor, switch, inrush limiter."},
	}
}

func measureFirst(f Feed) []string {
	out := []string{"Fuse of the stated value and type in place, never a larger one.", "Clip the meter on before power, insulated clips; read, switch off, then move the clips."}
	switch f {
	case Direct:
		return append(out, "The supply's own current: at its limit with the voltage pulled down is a short. Then input, then each rail, lowest first.")
	case Heavy:
		return append(out, "Unplugged: earth to case below 1 Ω, live and neutral to case open (insulation tester where you have one), and the element's or winding's resistance against U²/P.")
	case Linear:
		return append(out, "First the reservoirs (both of a pair alike), then each regulated rail, then DC across the loudspeaker terminals, with a load resistor in the loudspeaker's place until it is below 0.1 V.")
	}
	return append(out, "First the reservoir behind the bridge (1.4 times mains, less the lamp's share), then the standby rail, then the main rails.")
}

func standWhere(f Feed) []string {
	out := []string{"To the side, arm's length, face away from electrolytics and supply: what fails does so in the first seconds. Glasses.",
		"Switch at a strip you reach without leaning over the device. Hands off, one in the pocket. Look, smell, listen: ten seconds, a minute, ten minutes.",
		"Somebody within call. Off at once for smoke, smell, a hot part or a bright lamp."}
	if f == Direct {
		return append(out, "Feel for warm parts with the power off.")
	}
	return append(out, "The device is live behind the lamp as before it, and a lamp or a variac does not isolate. Through a residual-current device; on an isolating transformer that protection is gone.",
		"Live work only as local rules and your training allow; otherwise hand it over for this step.")
}

func notThisWay(f Feed) []string {
	switch f {
	case Linear:
		return []string{"No LED lamp: it limits nothing. Incandescent or halogen only."}
	case Switched:
		return []string{"No LED lamp: it limits nothing.", "Do not turn the mains down slowly: a switched supply draws more current the lower the voltage."}
	case PFC:
		return []string{"No LED lamp: it limits nothing.", "A power-factor stage may refuse to start on any lamp: a healthy one then pulses. With a lamp of two to three times the power, no load, once; the bus behind it is 380 to 400 V, measured with probes rated for it."}
	case Heavy:
		return []string{"No lamp: motors stall and heaters only light it. Measure unplugged, then straight on a protected socket.", "Microwave ovens: not at all unless you are trained for it; the capacitor inside kills with the plug out."}
	}
	return []string{"Polarity first: meter on the plug, centre and sleeve, before it goes in.", "No bench supply on a lithium cell as a charger."}
}
