package marking

import (
	"regexp"
	"slices"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// polarity says, per kind, which end the bar or band marks.
var polarity = map[part.Kind]string{
	part.Electrolytic: "aluminium electrolytic: the stripe on the sleeve, or the dark segment on top of a surface-mount can, marks the NEGATIVE lead (the longer lead of a new one is positive). Reversed it heats, vents or bursts",
	part.Tantalum:     "tantalum (and moulded polymer): the bar marks the POSITIVE end, the opposite of an aluminium can. Reversed it fails short and may burn or explode",
	part.Rectifier:    "diode: the band marks the CATHODE, the end the current leaves by. Reversed in a supply it shorts the transformer or blows the capacitors behind it",
	part.Zener:        "zener: the band marks the CATHODE; in use the cathode is the more positive end. Reversed it clamps at about 0.7 V",
}

// Polarity says in words which end the bar, band or stripe of a part of this kind
// marks, and what happens if it is fitted the wrong way round. The second result
// is false for kinds without a direction. Board prints differ from maker to
// maker: follow the old part and the copper, not the ink.
func Polarity(k part.Kind) (string, bool) {
	s, ok := polarity[k]
	return s, ok
}

// barOnly reads a bar or band with nothing else made out.
func barOnly(tok string, s *scan) []Reading {
	if tok != "" || s.mark != "bar" {
		return nil
	}
	shares := []struct {
		k part.Kind
		w float64
	}{{part.Rectifier, 0.3}, {part.Electrolytic, 0.3}, {part.Tantalum, 0.2}, {part.Zener, 0.1}}
	var out []Reading
	for _, x := range shares {
		r := newReading(x.k, "bar or band", x.w, "which end it marks depends on what the part is: settle that first", part.Source{Mark: part.Practice})
		r.Text = polarity[x.k]
		r.caution(polarity[x.k])
		out = append(out, r)
	}
	return out
}

var (
	srcElectro  = part.Source{Text: "value in µF and rated voltage, printed", Mark: part.Practice}
	srcTant     = part.Source{Text: "tantalum: three digits in pF, voltage letter", Mark: part.Memory}
	reMicro     = regexp.MustCompile(`^(\d{1,6}(?:\.\d{1,2})?)(µF|uF|µ|u)([KMJQTSZ])?$`)
	reCount     = regexp.MustCompile(`^(\d{1,5}(?:\.\d{1,2})?)\+?$`)
	reCanLetter = regexp.MustCompile(`^(\d{1,4})([eGJACDEVH])$`)
	reTantAfter = regexp.MustCompile(`^(\d{3})([eGJACDEVH])$`)
	reTantFront = regexp.MustCompile(`^([eGJACDEVH])(\d{3})$`)
	reTantCode  = regexp.MustCompile(`^(\d{3})([KM])?\+?$`)
)

// electrolytics reads a token as an aluminium electrolytic's value.
func electrolytics(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.ac || s.amps > 0 || s.dielectric != "" || s.film {
		return nil
	}
	if m := reMicro.FindStringSubmatch(tok); m != nil {
		v := power10(m[1], -6)
		r := electrolytic(v, 1, "printed in full", "microfarads are printed on electrolytics", s)
		if m[3] != "" {
			t, _ := ToleranceLetter(m[3][0], part.Electrolytic, v)
			r.tolerance(t)
		}
		return keep(r)
	}
	if m := reCount.FindStringSubmatch(tok); m != nil {
		w, why := 0.05, "a plain number on a can is microfarads"
		if s.volts > 0 || s.tempMaxC > 0 {
			w = 0.5
		}
		if o := otherVolts(tok, s); o > 0 {
			w = 0.4
			s.volts = o
			why += "; the other number would be the voltage"
		}
		return keep(electrolytic(power10(m[1], -6), w, "plain figure in µF", why, s))
	}
	if m := reCanLetter.FindStringSubmatch(tok); m != nil && s.volts == 0 {
		s.volts, _ = LetterVoltage(m[2][0])
		r := electrolytic(power10(m[1], -6), 0.04, "figure in µF and voltage letter", m[2]+" is the voltage letter of surface-mount cans", s)
		r.tech, r.Source = SMD, srcTant
		return keep(r)
	}
	return nil
}

func keep(r Reading) []Reading {
	if r.Value <= 0 {
		return nil
	}
	return []Reading{r}
}

func otherVolts(tok string, s *scan) float64 {
	if s.volts > 0 || len(s.core) != 2 {
		return 0
	}
	o := s.core[0]
	if o == tok {
		o = s.core[1]
	}
	return bareVolts(o)
}

func electrolytic(v, w float64, scheme, why string, s *scan) Reading {
	r := newReading(part.Electrolytic, scheme, w, why, srcElectro)
	r.Value, r.Unit = v, "F"
	r.Text = unit.Format(v, "F")
	s.voltage(&r)
	s.temperature(&r)
	if v <= 0 {
		return r
	}
	r.preferred(0.1)
	r.within(0.1e-6, 0.1, "electrolytics")
	if s.volts > 0 && !slices.Contains(usualVolts, s.volts) {
		r.times(0.2, unit.Format(s.volts, "V")+" is not a usual rating of electrolytics")
	}
	if s.tempMaxC > 0 {
		switch s.tempMaxC {
		case 85, 105, 125, 130, 135, 150:
			r.times(1.5, unit.Format(s.tempMaxC, "°C")+" is a usual rating of electrolytics")
		default:
			r.times(0.1, unit.Format(s.tempMaxC, "°C")+" is not a usual rating of electrolytics")
		}
	}
	if s.bipolar {
		r.Text += ", bipolar"
		r.times(1, "BP or NP: no polarity; replace with another bipolar one only")
		return r
	}
	r.caution(polarity[part.Electrolytic])
	return r
}

// tantalums reads three digits in pF, alone or with a voltage letter.
func tantalums(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.ac || s.amps > 0 || s.dielectric != "" || s.film || s.tempMaxC > 0 {
		return nil
	}
	var out []Reading
	add := func(code, letter string, w float64, why string) {
		v, err := DecodeDigits(code, -12)
		if err != nil || code[0] == '0' || v <= 0 {
			return
		}
		r := newReading(part.Tantalum, "3-digit code in pF", w, why, srcTant)
		r.Value, r.Unit, r.tech = v, "F", SMD
		r.Text = unit.Format(v, "F")
		if letter != "" {
			r.VoltsDC, _ = LetterVoltage(letter[0])
			r.Text += ", " + unit.Format(r.VoltsDC, "V")
		} else {
			s.voltage(&r)
		}
		r.preferred(0.1)
		r.within(0.1e-6, 1.5e-3, "tantalum capacitors")
		if r.VoltsDC > 63 || s.volts > 63 {
			r.times(0.02, "tantalum is not made for such a voltage")
		}
		r.caution(polarity[part.Tantalum])
		out = append(out, r)
	}
	if m := reTantAfter.FindStringSubmatch(tok); m != nil {
		add(m[1], m[2], 0.35, "three digits and the voltage letter "+m[2])
	}
	if m := reTantFront.FindStringSubmatch(tok); m != nil {
		add(m[2], m[1], 0.5, "the voltage letter "+m[1]+", then three digits")
	}
	if m := reTantCode.FindStringSubmatch(tok); m != nil {
		w := 0.12
		if s.volts > 0 && slices.Contains(usualVolts, s.volts) {
			w = 0.5
		}
		if strings.HasSuffix(tok, "+") || s.mark == "bar" || s.mark == "+" {
			w *= 2
		}
		add(m[1], "", w, "three digits in picofarads on a moulded block")
	}
	return out
}
