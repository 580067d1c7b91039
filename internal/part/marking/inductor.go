package marking

import (
	"math"
	"regexp"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// inductors reads a token as an inductance.
func inductors(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.volts > 0 || s.dielectric != "" || s.film {
		return nil
	}
	var out []Reading
	add := func(v, w float64, t Tolerance, scheme, why string, src part.Source) {
		if !(v > 0) {
			return
		}
		r := newReading(part.Inductor, scheme, w, why, src)
		r.Value, r.Unit = v, "H"
		r.tolerance(t)
		r.Amps = s.amps
		r.Text = describe(v, "H", t)
		r.preferred(math.Max(0.1, t.High))
		r.within(1e-9, 100e-3, "inductors")
		if s.tempMaxC > 0 {
			r.times(0.02, "a temperature is not printed on inductors")
		}
		out = append(out, r)
	}
	body, t := tok, Tolerance{}
	if m := reCoilTol.FindStringSubmatch(tok); m != nil {
		body = m[1]
		t, _ = ToleranceLetter(m[2][0], part.Inductor, 0)
	}
	if v, err := DecodeDigits(body, -6); err == nil && len(body) == 3 && body[0] != '0' {
		add(v, 0.12, t, "3-digit code in µH", "two digits, and the number of zeros, in microhenries", srcCoilCode)
	}
	if reCoilPoint.MatchString(body) {
		if v, err := DecodeRKM(body, "H"); err == nil {
			add(v, 0.1, t, "letter for the point", "R is the point in µH, N in nH", srcCoilCode)
		}
	}
	if strings.HasSuffix(tok, "H") {
		if v, err := unit.Parse(tok, "H"); err == nil && v > 0 && len(tok) > 2 {
			add(v, 0.9, Tolerance{}, "printed in full", "the unit is printed", srcPlain)
		}
	}
	return out
}

var (
	srcCoilCode = part.Source{Text: "inductor code, three digits in µH; R point in µH, N in nH", Mark: part.Memory}
	reCoilTol   = regexp.MustCompile(`^(\d{3}|\d*[RN]\d*)([JKMN])$`)
	reCoilPoint = regexp.MustCompile(`^(\d{0,3}[RN]\d{1,2}|\d{1,3}N)$`)
)
