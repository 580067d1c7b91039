package marking

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/eseries"
	"fettler/internal/part/unit"
)

var (
	srcDigits   = part.Source{Text: "IEC 60062, three- and four-digit codes", Mark: part.Read}
	srcEIA96    = part.Source{Text: "EIA-96", Mark: part.Read}
	srcRKM      = part.Source{Text: "IEC 60062, letter-and-digit code", Mark: part.Read}
	srcOldSMD   = part.Source{Text: "2 %, 5 %, 10 % variant of EIA-96, letter first", Mark: part.Memory}
	srcPlain    = part.Source{Text: "printed in full", Mark: part.Practice}
	reRKMRes    = regexp.MustCompile(`^(\d{0,4}[RKkMGLEm]\d{0,3})([LPWBCDFGHJKMN])?$`)
	reOldSMD    = regexp.MustCompile(`^([ZYRXSABHCDEF])(\d\d)$`)
	reOhmSuffix = regexp.MustCompile(`^(.*?(?:Ω|(?i:ohms?)))([FGJKM])?$`)
)

// resistorCodes reads surface-mount and letter-and-digit codes as resistors.
func resistorCodes(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.amps > 0 {
		return nil
	}
	var out []Reading
	add := func(v, weight, tol float64, marked bool, scheme, why string, tech Tech, src part.Source) {
		r := newReading(part.Resistor, scheme, weight, why, src)
		r.Value, r.Unit, r.tech = v, "Ω", tech
		out = append(out, asResistor(r, tol, marked, s))
	}
	surfaceCodes(tok, add)
	letterCode(tok, add)
	printedOhms(tok, add)
	return out
}

// asResistor adds tolerance, wattage and what speaks against a resistor.
func asResistor(r Reading, tol float64, marked bool, s *scan) Reading {
	t := Symmetric(tol)
	if s.tol.High > 0 {
		t, marked = s.tol, true
	}
	r.Text = unit.Format(r.Value, "Ω")
	if marked {
		r.tolerance(t)
		r.Text = describe(r.Value, "Ω", t)
	}
	if s.watts > 0 {
		r.Watts = s.watts
		r.times(2, "a wattage is printed on power resistors")
		r.Text += ", " + unit.Format(s.watts, "W")
	}
	if r.Value == 0 {
		r.Text = "0 Ω link"
	} else {
		r.preferred(tol)
		r.within(1e-3, 22e6, "resistors")
	}
	if s.volts > 0 || s.tempMaxC > 0 || s.dielectric != "" || s.film {
		r.times(0.03, "resistors are not marked with a voltage, temperature or dielectric")
	}
	return r
}

// letterCode reads 4R7, 1K5 and the like, with or without a tolerance letter.
func letterCode(tok string, add addResistor) {
	m := reRKMRes.FindStringSubmatch(tok)
	if m == nil {
		return
	}
	v, err := DecodeRKM(m[1], "Ω")
	if err != nil || v <= 0 {
		return
	}
	tol, marked := 0.05, m[2] != ""
	if marked {
		t, _ := ToleranceLetter(m[2][0], part.Resistor, v)
		tol = t.High
	} else if digits := strings.Trim(m[1], "RKkMGLEm0"); len(digits) >= 4 {
		tol = 0.01
	}
	w := 0.6
	if strings.ContainsAny(m[1], "kmLE") {
		w = 0.25
	}
	add(v, w, tol, marked, "letter for the point", "letter stands for the decimal point and the multiplier", AnyTech, srcRKM)
}

// printedOhms reads a figure with its unit or multiplier: 22Ω, 4.7k.
func printedOhms(tok string, add addResistor) {
	if m := reOhmSuffix.FindStringSubmatch(tok); m != nil {
		if v, err := unit.Parse(m[1], "Ω"); err == nil && v >= 0 {
			tol, marked := 0.05, m[2] != ""
			if marked {
				tol = tolLetters[m[2][0]].High
			}
			add(v, 0.9, tol, marked, "printed in full", "the unit is printed", AnyTech, srcPlain)
		}
		return
	}
	if strings.ContainsAny(tok, "kKM") && strings.Contains(tok, ".") {
		if v, err := unit.Parse(tok, "Ω"); err == nil && v > 0 {
			add(v, 0.3, 0.05, false, "printed in full", "a figure with a multiplier", AnyTech, srcPlain)
		}
	}
}

type addResistor func(v, weight, tol float64, marked bool, scheme, why string, tech Tech, src part.Source)

func surfaceCodes(tok string, add addResistor) {
	if slices.Contains([]string{"0", "00", "000", "0000"}, tok) {
		add(0, 0.6, 0.05, false, "zeros", "only zeros: a link in a resistor's body", SMD, srcDigits)
		return
	}
	if v, err := DecodeDigits(tok, 0); err == nil {
		w, why := 0.5, "two digits, and the number of zeros"
		tol := 0.05
		if len(tok) == 4 {
			tol, why = 0.01, "three digits, and the number of zeros: usually ±1 %"
		}
		if tok[0] == '0' {
			w, why = 0.01, "a leading zero is not used"
		}
		add(v, w, tol, false, strconv.Itoa(len(tok))+"-digit code", why, SMD, srcDigits)
	}
	if v, err := DecodeEIA96(tok); err == nil {
		w := 0.5
		if strings.ContainsAny(tok, "RSH") {
			w = 0.08
		}
		add(v, w, 0.01, true, "EIA-96", tok[:2]+" is "+strconv.Itoa(eia(tok))+" in the table, "+tok[2:]+" the multiplier", SMD, srcEIA96)
	}
	if m := reOldSMD.FindStringSubmatch(tok); m != nil {
		oldSurface(m[1][0], m[2], add)
	}
}

func eia(code string) int {
	i, _ := strconv.Atoi(code[:2])
	return eseries.E96.Values()[i-1]
}

// oldSurface reads the letter-first variant: 01–24 is E24 at 2 %, 25–48 at 5 %,
// 49–60 is E12 at 10 %.
func oldSurface(letter byte, index string, add addResistor) {
	n, _ := strconv.Atoi(index)
	var m int
	var tol float64
	switch {
	case n >= 1 && n <= 24:
		m, tol = eseries.E24.Values()[n-1], 0.02
	case n >= 25 && n <= 48:
		m, tol = eseries.E24.Values()[n-25], 0.05
	case n >= 49 && n <= 60:
		m, tol = eseries.E12.Values()[n-49], 0.10
	default:
		return
	}
	v := power10(strconv.Itoa(m*10), eiaLetters[letter])
	add(v, 0.02, tol, true, "letter and index", "the letter first: the rare 2 %, 5 %, 10 % variant of the three-character code", SMD, srcOldSMD)
}
