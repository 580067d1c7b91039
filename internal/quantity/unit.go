package quantity

import "sort"

// A unit is one spelling and what it is worth in the base unit of its dimension.
type unit struct {
	base   string  // the base unit that names the dimension
	factor float64 // one of this, in the base unit
	prefix bool    // takes SI prefixes
}

// units maps every spelling without prefix.
var units = map[string]unit{
	"V": {"V", 1, true}, "A": {"A", 1, true}, "Ω": {"Ω", 1, true}, "ohm": {"Ω", 1, true},
	"F": {"F", 1, true}, "H": {"H", 1, true}, "Hz": {"Hz", 1, true}, "W": {"W", 1, true},
	"J": {"J", 1, true}, "Wh": {"Wh", 1, true}, "Ah": {"Ah", 1, true}, "VA": {"VA", 1, true},
	"s": {"s", 1, true}, "min": {"s", 60, false}, "h": {"s", 3600, false},
	"day": {"s", 86400, false}, "days": {"s", 86400, false}, "year": {"s", 31557600, false}, "years": {"s", 31557600, false},
	"g": {"kg", 1e-3, true}, "t": {"kg", 1e3, false},
	"m": {"m", 1, true}, "cm": {"m", 1e-2, false}, "in": {"m", 0.0254, false},
	"l": {"l", 1, true}, "l/min": {"l/min", 1, true}, "ml/min": {"l/min", 1e-3, false},
	"N": {"N", 1, true}, "Nm": {"Nm", 1, true}, "Pa": {"Pa", 1, true}, "bar": {"Pa", 1e5, true},
	"lx": {"lx", 1, true}, "lm": {"lm", 1, true}, "cd": {"cd", 1, true},
	"°C": {"°C", 1, false}, "K": {"K", 1, true}, "dB": {"dB", 1, false}, "%": {"%", 1, false}, "°": {"°", 1, false},
	"rpm": {"rpm", 1, false}, "m/s": {"m/s", 1, false}, "bit/s": {"bit/s", 1, true}, "B": {"B", 1, true},
	"s/day": {"s/day", 1, false},
	"EUR":   {"EUR", 1, false}, "USD": {"USD", 1, false}, "GBP": {"GBP", 1, false}, "CHF": {"CHF", 1, false},
	"SEK": {"SEK", 1, false}, "NOK": {"NOK", 1, false}, "DKK": {"DKK", 1, false}, "PLN": {"PLN", 1, false},
	"CZK": {"CZK", 1, false}, "CAD": {"CAD", 1, false}, "AUD": {"AUD", 1, false}, "JPY": {"JPY", 1, false}, "INR": {"INR", 1, false},
}

// prefixes are the SI prefixes the trade uses.
var prefixes = map[string]float64{
	"p": 1e-12, "n": 1e-9, "µ": 1e-6, "m": 1e-3, "k": 1e3, "M": 1e6, "G": 1e9, "T": 1e12,
}

var currencies = []string{"AUD", "CAD", "CHF", "CZK", "DKK", "EUR", "GBP", "INR", "JPY", "NOK", "PLN", "SEK", "USD"}

// Currencies returns the codes of the currencies that are read, in alphabetical order.
func Currencies() []string { return append([]string(nil), currencies...) }

// IsCurrency reports whether unit is one of Currencies.
func IsCurrency(unit string) bool {
	i := sort.SearchStrings(currencies, unit)
	return i < len(currencies) && currencies[i] == unit
}

// lookup resolves a spelling with or without prefix.
func lookup(s string) (unit, bool) {
	if s == "" {
		return unit{"", 1, false}, true
	}
	if u, ok := units[s]; ok {
		return u, true
	}
	for p, f := range prefixes {
		if len(s) > len(p) && s[:len(p)] == p {
			if u, ok := units[s[len(p):]]; ok && u.prefix {
				return unit{u.base, f * u.factor, false}, true
			}
		}
	}
	return unit{}, false
}

// dimension says in words what a base unit measures.
func dimension(base string) string {
	if IsCurrency(base) {
		return "an amount of money, such as 3.20 " + base
	}
	if d, ok := dimensions[base]; ok {
		return d
	}
	return "a value in " + base
}

var dimensions = map[string]string{
	"":  "a plain number",
	"V": "a voltage, such as 12 V", "A": "a current, such as 350 mA", "Ω": "a resistance, such as 4.7 kΩ",
	"F": "a capacitance, such as 470 µF", "H": "an inductance, such as 10 µH", "Hz": "a frequency, such as 50 Hz",
	"W": "a power, such as 60 W", "J": "an energy, such as 8 J", "s": "a time, such as 12 min",
	"kg": "a mass, such as 7.5 kg", "m": "a length, such as 8 mm", "°C": "a temperature, such as 85 °C",
	"%": "a percentage, such as 35 %",
}
