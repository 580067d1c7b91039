package marking

import (
	"fmt"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcDate  = part.Source{Text: "IEC 60062, date codes", Mark: part.Read}
	srcDate3 = part.Source{Text: "year digit and week; makers' practice", Mark: part.Memory}
)

// dates reads a token as a date code.
func dates(tok string, s *scan) []Reading {
	if s.class != "" {
		return nil
	}
	var out []Reading
	add := func(ds []Date, w float64, why string, src part.Source) {
		r := newReading(part.Unknown, "date code", w, why, src)
		r.Dates = ds
		r.Text = "made " + joinDates(ds)
		out = append(out, r)
	}
	if ds, err := DecodeYearMonth(strings.ToUpper(tok)); err == nil {
		add(ds, 0.15, "year letter and month: the letters repeat every twenty years, so the code alone cannot tell which", srcDate)
	}
	if d, err := DecodeYearWeek(tok); err == nil {
		add([]Date{d}, 0.15, "year and week", srcDate)
	}
	if len(tok) == 3 && digitsOnly(tok) {
		if d, err := DecodeYearWeek("0" + tok); err == nil {
			var ds []Date
			for y := 1980; y < 2050; y += 10 {
				ds = append(ds, Date{Year: y + d.Year%10, Week: d.Week})
			}
			add(ds, 0.01, "last digit of the year, and week: repeats every ten years", srcDate3)
		}
	}
	return out
}

// fragments reads what says something though no value is there: a rating, a
// dielectric, a voltage code, a tolerance letter.
func fragments(tok string, s *scan) []Reading {
	var out []Reading
	add := func(k part.Kind, w float64, text, why string, src part.Source, set func(*Reading)) {
		r := newReading(k, "fragment", w, why, src)
		r.Text = text
		set(&r)
		out = append(out, r)
	}
	if tok == "" && s.class == "" {
		ratings(s, add)
	}
	t := strings.ToUpper(tok)
	if v, ok := RatedVoltage(t); ok {
		add(part.Unknown, 0.1, "rated for "+unit.Format(v, "V"), "rated-voltage code of capacitors", srcVolt, func(r *Reading) { r.VoltsDC = v })
	}
	if len(t) == 1 {
		if tol, ok := tolLetters[t[0]]; ok {
			add(part.Unknown, 0.1, "tolerance "+tol.String(), "tolerance letter", srcRKM, func(r *Reading) { r.tolerance(tol) })
		}
		if v, ok := LetterVoltage(tok[0]); ok {
			add(part.Tantalum, 0.05, "rated for "+unit.Format(v, "V"), "voltage letter of tantalum and surface-mount cans", srcTant, func(r *Reading) {
				r.VoltsDC = v
				r.caution(polarity[part.Tantalum])
			})
		}
	}
	if t == "TF" && s.tempMaxC == 0 {
		add(part.ThermalFuse, 0.5, "thermal fuse, its temperature not made out", "TF is the mark of a thermal-link", srcLink, func(r *Reading) {
			r.caution("do not replace it by guess: the temperature must be known (twin, service sheet, or the class of what it guards); never bridge it")
		})
	}
	if w := speeds[tok]; w != "" {
		add(part.Fuse, 0.1, w, "speed letter of a fuse", srcFuse, func(r *Reading) { r.Speed = tok })
	}
	return out
}

func ratings(s *scan, add func(part.Kind, float64, string, string, part.Source, func(*Reading))) {
	if d, ok := decodeDielectric(s.dielectric); ok {
		add(part.Ceramic, 0.6, dielectricWords(s.dielectric, d), "dielectric of a ceramic capacitor", part.Source{Text: "EIA-198", Mark: part.Memory}, func(r *Reading) {
			r.Dielectric, r.TempMinC, r.TempMaxC = s.dielectric, d.lowC, d.highC
			s.voltage(r)
		})
	}
	if s.volts > 0 && s.dielectric == "" && s.amps == 0 {
		k, why := part.Electrolytic, "a rated voltage alone is most often an electrolytic's"
		if s.ac {
			k, why = part.Suppression, "an AC voltage alone is most often a suppression capacitor's: look for its class"
		}
		add(k, 0.3, "rating", why, part.Source{Mark: part.Practice}, func(r *Reading) {
			r.Text = "rated for " + unit.Format(s.volts, "V")
			s.temperature(r)
			if s.ac {
				r.VoltsAC = s.volts
				return
			}
			r.VoltsDC = s.volts
			r.caution(polarity[part.Electrolytic])
		})
	}
	if s.tempMaxC == 85 || s.tempMaxC == 105 {
		add(part.Electrolytic, 0.4, fmt.Sprintf("rated for %g °C", s.tempMaxC), "the usual ratings of electrolytics", part.Source{Mark: part.Practice}, func(r *Reading) {
			r.TempMaxC = s.tempMaxC
			r.caution(polarity[part.Electrolytic])
		})
	}
	if s.film {
		add(part.Film, 0.4, "film capacitor", "letters for a film", part.Source{Mark: part.Practice}, func(*Reading) {})
	}
	if s.tol.High > 0 {
		add(part.Unknown, 0.1, "tolerance "+s.tol.String(), "a tolerance", part.Source{Mark: part.Practice}, func(r *Reading) { r.tolerance(s.tol) })
	}
}
