package marking

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcCap     = part.Source{Text: "IEC 60062 / EIA-198, three-digit code in pF", Mark: part.Read}
	srcCap89   = part.Source{Text: "EIA-198, third digit 8 or 9", Mark: part.Memory}
	srcVolt    = part.Source{Text: "EIA rated-voltage code", Mark: part.Memory}
	reCapCode  = regexp.MustCompile(`^([0-3][A-Z])?(\d{3})([A-DF-HJKMNP-QSTZ])?([0-3][A-Z])?$`)
	reCapTail  = regexp.MustCompile(`^(\d{3}[FGHJKM])(\d{2,4})$`)
	reCapRKM   = regexp.MustCompile(`^(\d{0,3}[pnµum]\d{0,3})F?([A-DF-HJKMNQSTZ])?$`)
	reCapUnit  = regexp.MustCompile(`^(\d{0,6}\.?\d+)([pnµum])F([A-DF-HJKMNQSTZ])?$`)
	reCapDot   = regexp.MustCompile(`^(\d?\.\d{1,4})([FGHJKMZ])?(\d{2,4})?$`)
	reCapPlain = regexp.MustCompile(`^(\d{1,2}(?:\.\d)?)([CDFGJKM])?$`)
)

// capValue is a token read as a capacitance, with its own weight.
type capValue struct {
	farad  float64
	tol    Tolerance
	volts  float64
	weight float64 // how capacitor-like the token is
	coded  bool    // a three-digit code
	micro  bool    // a plain figure in µF, as film parts have it
	scheme string
	why    string
	src    part.Source
}

// capValues gives every way to read a token as a capacitance.
func capValues(tok string) []capValue {
	var out []capValue
	if m := reCapCode.FindStringSubmatch(strings.ToUpper(tok)); m != nil && m[2] != "000" {
		out = append(out, codedCap(m)...)
	}
	if m := reCapTail.FindStringSubmatch(tok); m != nil {
		if v := bareVolts(m[2]); v > 0 {
			for _, c := range codedCap([]string{"", "", m[1][:3], m[1][3:], ""}) {
				c.volts, c.weight = v, c.weight*0.8
				out = append(out, c)
			}
		}
	}
	if m := reCapUnit.FindStringSubmatch(tok); m != nil {
		if v, err := unit.Parse(m[1]+m[2], "F"); err == nil && v > 0 && (m[2] != "m" || v < 1) {
			out = append(out, capValue{farad: v, tol: capTol(m[3], v), weight: 1, scheme: "printed in full", why: "the unit is printed", src: srcPlain})
		}
	} else if m := reCapRKM.FindStringSubmatch(tok); m != nil {
		if v, err := DecodeRKM(m[1], "F"); err == nil && v > 0 {
			w := 0.9
			if strings.Contains(m[1], "m") {
				w = 0.1
			}
			out = append(out, capValue{farad: v, tol: capTol(m[2], v), weight: w, scheme: "letter for the point", why: "letter stands for the decimal point and the multiplier", src: srcRKM})
		}
	}
	if m := reCapDot.FindStringSubmatch(tok); m != nil {
		if v := power10(strings.TrimPrefix("0"+m[1], "00"), -6); v > 0 {
			c := capValue{farad: v, tol: capTol(m[2], v), volts: bareVolts(m[3]), weight: 0.6, micro: true, scheme: "plain figure in µF", why: "a decimal fraction on a capacitor is in µF", src: srcPlain}
			if m[3] == "" || c.volts > 0 {
				out = append(out, c)
			}
		}
	}
	if m := reCapPlain.FindStringSubmatch(tok); m != nil {
		if v := power10(m[1], -12); v > 0 {
			out = append(out, capValue{farad: v, tol: capTol(m[2], v), weight: 0.15, scheme: "plain figure in pF", why: "one or two digits on a small disc are picofarads", src: srcPlain})
		}
	}
	return out
}

func codedCap(m []string) []capValue {
	v, err := DecodeDigits(m[2], -12)
	if err != nil {
		return nil
	}
	c := capValue{farad: v, weight: 0.5, coded: true, scheme: "3-digit code in pF", why: "two digits, and the number of zeros, in picofarads", src: srcCap}
	switch {
	case m[2][0] == '0':
		c.weight, c.why = 0.02, "a leading zero is not used"
	case m[2][2] >= '8':
		c.why, c.src = "a third digit of 8 or 9 divides by 100 or 10", srcCap89
	}
	if m[3] != "" {
		c.tol = capTol(m[3], v)
		c.weight *= 1.4
		c.why += "; the letter is the tolerance"
	}
	code := m[1] + m[4]
	if code != "" {
		volts, ok := RatedVoltage(code)
		if !ok || m[1] != "" && m[4] != "" {
			return nil
		}
		c.volts = volts
		c.weight *= 1.5
		c.why += fmt.Sprintf("; %s is %s", code, unit.Format(volts, "V"))
		if !strings.Contains(readCodes, " "+code+" ") {
			c.src = srcVolt
		}
	}
	return []capValue{c}
}

func capTol(letter string, farad float64) Tolerance {
	if letter == "" {
		return Tolerance{}
	}
	t, _ := ToleranceLetter(letter[0], part.Ceramic, farad)
	return t
}

// bareVolts reads a plain number that is one of the usual rated voltages.
func bareVolts(tok string) float64 {
	if tok == "" || len(tok) > 4 {
		return 0
	}
	v, err := strconv.ParseFloat(tok, 64)
	if err != nil || !slices.Contains(usualVolts, v) && !slices.Contains([]float64{600, 630, 800, 1000, 1250, 1600, 2000}, v) {
		return 0
	}
	return v
}

// ceramicFilm reads a token as a ceramic and as a film capacitor.
func ceramicFilm(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.amps > 0 {
		return nil
	}
	var out []Reading
	for _, c := range capValues(tok) {
		out = append(out, ceramic(c, s), film(c, s))
	}
	return out
}

// tight says that a code's tolerance is one that ceramics of that value seldom have (common practice, no source).
func (c capValue) tight() bool {
	return c.coded && c.tol.High > 0 && c.tol.High <= 0.0501 && c.farad >= 10e-9
}

// common fills in what all capacitor readings share.
func (c capValue) common(k part.Kind, share float64, s *scan) Reading {
	r := newReading(k, c.scheme, c.weight*share, c.why, c.src)
	r.Value, r.Unit = c.farad, "F"
	t := c.tol
	if s.tol.High > 0 {
		t = s.tol
	}
	r.tolerance(t)
	r.Text = describe(c.farad, "F", t)
	if c.volts > 0 {
		r.VoltsDC = c.volts
		r.Text += ", " + unit.Format(c.volts, "V")
	} else {
		s.voltage(&r)
		for _, o := range s.core {
			if v, ok := RatedVoltage(o); ok && r.VoltsDC == 0 && r.VoltsAC == 0 {
				r.VoltsDC = v
				r.Text += ", " + unit.Format(v, "V")
				r.times(1, o+" is the code for "+unit.Format(v, "V"))
			}
			if v := bareVolts(o); r.VoltsDC == 0 && r.VoltsAC == 0 && v > 0 && len(s.core) > 1 {
				r.VoltsDC = v
				r.Text += ", " + unit.Format(v, "V")
				r.times(0.7, o+" would be its rated voltage")
			}
		}
	}
	s.temperature(&r)
	if s.bipolar {
		r.times(0.03, "BP or NP is printed on electrolytics")
	}
	if t.Farad > 0 && c.farad > 11e-12 {
		r.times(0.02, "that letter means picofarads, which no such large value is made to")
		t = Tolerance{}
	}
	w := t.width(c.farad)
	if w == 0 {
		w = 0.1
	}
	r.preferred(w)
	return r
}

func ceramic(c capValue, s *scan) Reading {
	r := c.common(part.Ceramic, 0.6, s)
	r.within(0.5e-12, 4.7e-6, "ceramic capacitors that carry a marking")
	if c.micro {
		r.times(0.15, "a fraction of a microfarad printed plainly is more usual on film")
	}
	if s.film {
		r.times(0.01, "the letters name a film")
	}
	if c.tight() {
		r.times(0.4, "±5 % at this value is unusual on ceramics, which then carry K, M or Z")
	}
	if s.tempMaxC > 0 {
		r.times(0.1, "a temperature is printed on electrolytics")
	}
	if d, ok := decodeDielectric(s.dielectric); ok {
		r.Dielectric, r.TempMinC, r.TempMaxC = s.dielectric, d.lowC, d.highC
		r.times(2, dielectricWords(s.dielectric, d))
		r.Text += ", " + s.dielectric
	}
	return r
}

func dielectricWords(code string, d dielectric) string {
	if d.classOne {
		return fmt.Sprintf("%s: class 1, %g to +%g °C, 0 ±%g ppm/K", code, d.lowC, d.highC, d.ppmSpread)
	}
	return fmt.Sprintf("%s: %g to +%g °C, capacitance changes by %s over it", code, d.lowC, d.highC, Tolerance{Low: d.minus, High: d.plus})
}

func film(c capValue, s *scan) Reading {
	share := 0.2
	marked := c.tol.High > 0 || c.volts > 0 || s.volts >= 50
	if marked {
		share = 0.45
	}
	r := c.common(part.Film, share, s)
	r.within(1e-9, 10e-6, "film capacitors")
	if s.film {
		r.times(2, "the letters name a film")
	}
	if c.tight() {
		r.times(1.3, "±5 % at this value is usual on film")
	}
	if s.dielectric != "" {
		r.times(0.01, s.dielectric+" is a ceramic")
	}
	if s.tempMaxC > 0 {
		r.times(0.2, "a temperature is printed on electrolytics")
	}
	if c.tol.Low != -c.tol.High {
		r.times(0.05, "a lopsided tolerance belongs to ceramic or electrolytic")
	}
	return r
}
