package marking

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcLink = part.Source{Text: "IEC 60691, thermal-links", Mark: part.Memory}
	reLink  = regexp.MustCompile(`(?i)^TF?F?(\d{2,3})C?$`)
)

// linkTemps are rated functioning temperatures thermal-links are commonly made in.
var linkTemps = []float64{
	65, 70, 72, 73, 76, 77, 84, 91, 93, 95, 98, 99, 100, 102, 104, 105, 110, 113, 115, 117, 120, 121, 125, 128, 130, 133, 135, 139,
	141, 142, 144, 145, 150, 152, 157, 165, 167, 169, 172, 184, 185, 188, 192, 205, 214, 216, 227, 228, 229, 230, 240, 250, 257, 260, 280,
}

// thermalLinks reads one-shot thermal fuses.
func thermalLinks(tok string, s *scan) []Reading {
	if s.class != "" || s.dielectric != "" || s.film {
		return nil
	}
	temp, w := s.tempMaxC, 0.0
	named := strings.EqualFold(tok, "TF")
	switch {
	case named && temp > 0:
		w = 1
	case tok == "" && temp > 0 && s.amps > 0:
		w = 0.8
	case tok == "" && temp > 0:
		w = 0.15
	case reLink.MatchString(tok) && len(tok) >= 4:
		n, _ := strconv.ParseFloat(reLink.FindStringSubmatch(tok)[1], 64)
		temp, w = n, 0.4
		if tok[1] == 'F' || tok[1] == 'f' {
			w = 0.8
		}
	default:
		return nil
	}
	if temp < 50 || temp > 350 {
		return nil
	}
	r := newReading(part.ThermalFuse, "thermal-link temperature", w, "a functioning temperature", srcLink)
	r.Value, r.Unit, r.TempMaxC = temp, "°C", temp
	r.Amps, r.VoltsAC = s.amps, s.volts
	r.Text = "opens once at " + unit.Format(temp, "°C")
	if s.amps > 0 {
		r.Text += ", " + unit.Format(s.amps, "A")
	}
	if s.volts > 0 {
		r.Text += ", " + unit.Format(s.volts, "V")
	}
	if !slices.Contains(linkTemps, temp) {
		r.times(0.3, unit.Format(temp, "°C")+" is not among the usual temperatures")
	}
	r.caution("replace with the same temperature, at least the same current and voltage; crimp or solder with a heat clip between joint and body; never bridge it: it is what stands between a fault and a fire")
	return []Reading{r}
}
