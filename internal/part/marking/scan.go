package marking

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/part/unit"
)

// scan is an inscription taken apart: ratings that say themselves what they are,
// and the core tokens whose meaning must be found.
type scan struct {
	text       string
	core       []string
	volts      float64
	ac         bool
	amps       float64
	watts      float64
	tempMinC   float64
	tempMaxC   float64
	tol        Tolerance
	class      string
	dielectric string
	film       bool
	bipolar    bool
	mark       string // bar, band, +, −
}

var (
	reJoin      = regexp.MustCompile(`(\d)\s+(µF|uF|nF|pF|mF|F|V~|VAC|VDC|V|°C|mA|A|kΩ|MΩ|Ω|W|kHz|MHz|Hz|µH|uH|mH|nH|H|%)(\s|$|~)`)
	reClassPair = regexp.MustCompile(`(?i)\b([XY][1-4])\s*/\s*([XY][1-4])\b`)
	reClass     = regexp.MustCompile(`(?i)^(?:[CM]?)((?:[XY][1-4]){1,2})$`)
	reVolts     = regexp.MustCompile(`(?i)^(\d{1,5}(?:\.\d+)?)(k?)V(AC|DC|~|-|=)?$`)
	reTailVolts = regexp.MustCompile(`(?i)^(.*[A-Za-zµΩ%)])(\d{1,5}(?:\.\d+)?k?V(?:AC|DC|~|-|=)?)$`)
	reTemp      = regexp.MustCompile(`^\+?(\d{2,3})(?:°|º)C?$`)
	reTailTemp  = regexp.MustCompile(`^(.*[A-Za-z~])\+?(\d{2,3}(?:°|º)C?)$`)
	reTempSpan  = regexp.MustCompile(`^(-\d{1,3})(?:°C?)?(?:/|\.{2,3}|~|to|\+)+(\d{2,3})(?:°|º)C?$`)
	reAmps      = regexp.MustCompile(`^(\d{1,3}(?:\.\d+)?)(m?)A$`)
	reWatts     = regexp.MustCompile(`^(\d{1,3}(?:\.\d+)?|1/[248]|3/4)W$`)
	reHeadWatts = regexp.MustCompile(`^(\d{1,3}(?:\.\d+)?W)(\d.*|R\d.*)$`)
	reLoneTol   = regexp.MustCompile(`^[FGJKM]$`)
	rePercent   = regexp.MustCompile(`^[±+/-]*(\d{1,2}(?:\.\d+)?)%$`)
	reFilm      = regexp.MustCompile(`(?i)^(?:MK|FK|MF)[PTCSN]$|^(?:CBB|CL)\d\d$|^(?:MP|FILM|POLY)$`)
	reComma     = regexp.MustCompile(`(\d),(\d)`)
	reMFD       = regexp.MustCompile(`(?i)(\d)\s*mfd\b`)
	reNoise     = regexp.MustCompile(`(?i)^(~|=|:|\.|50/60Hz|50Hz|60Hz|SH|MAX)$`)
)

var markWords = map[string]string{
	"bar": "bar", "band": "bar", "stripe": "bar", "line": "bar", "ring": "bar", "+": "+", "-": "-", "plus": "+", "minus": "-",
}

func scanText(text string) scan {
	s := scan{text: unit.Clean(text)}
	t := reComma.ReplaceAllString(s.text, "$1.$2")
	t = reMFD.ReplaceAllString(t, "${1}µF")
	t = reClassPair.ReplaceAllString(t, "$1$2")
	for range 3 { // neighbours share a digit's boundary, so one pass may leave some
		t = reJoin.ReplaceAllString(t, "$1$2$3")
	}
	for _, tok := range strings.FieldsFunc(t, func(r rune) bool { return strings.ContainsRune(" \t\n\r;|,()", r) }) {
		s.token(tok, 4)
	}
	s.plainCelsius()
	s.loneTolerance()
	return s
}

// token sorts one token, splitting composites such as 104J100V or 25V105°C.
func (s *scan) token(tok string, depth int) {
	if s.rating(tok) || depth == 0 {
		if depth == 0 {
			s.core = append(s.core, tok)
		}
		return
	}
	for _, re := range []*regexp.Regexp{reTailTemp, reTailVolts} {
		if m := re.FindStringSubmatch(tok); m != nil {
			s.token(m[1], depth-1)
			s.token(m[2], depth-1)
			return
		}
	}
	if m := reHeadWatts.FindStringSubmatch(tok); m != nil {
		s.token(m[1], depth-1)
		s.token(m[2], depth-1)
		return
	}
	if strings.Contains(tok, "/") && !strings.HasPrefix(tok, "/") {
		for _, p := range strings.Split(tok, "/") {
			if p != "" {
				s.token(p, depth-1)
			}
		}
		return
	}
	s.core = append(s.core, tok)
}

// rating takes a token that says itself what it is.
func (s *scan) rating(tok string) bool {
	if m := reVolts.FindStringSubmatch(tok); m != nil {
		s.volts, _ = strconv.ParseFloat(m[1], 64)
		if m[2] != "" {
			s.volts *= 1000
		}
		s.ac = strings.EqualFold(m[3], "AC") || m[3] == "~"
		return true
	}
	if m := reTempSpan.FindStringSubmatch(tok); m != nil {
		s.tempMinC, _ = strconv.ParseFloat(m[1], 64)
		s.tempMaxC, _ = strconv.ParseFloat(m[2], 64)
		return true
	}
	if m := reTemp.FindStringSubmatch(tok); m != nil {
		s.tempMaxC, _ = strconv.ParseFloat(m[1], 64)
		return true
	}
	if m := reAmps.FindStringSubmatch(tok); m != nil {
		e := 0
		if m[2] != "" {
			e = -3
		}
		s.amps = power10(m[1], e)
		return true
	}
	if m := reWatts.FindStringSubmatch(tok); m != nil {
		s.watts, _ = unit.Parse(m[1], "W")
		return true
	}
	if m := rePercent.FindStringSubmatch(tok); m != nil {
		s.tol = Symmetric(power10(m[1], -2))
		return true
	}
	return s.word(tok)
}

func (s *scan) word(tok string) bool {
	if m := reClass.FindStringSubmatch(tok); m != nil {
		s.class = strings.ToUpper(m[1])
		return true
	}
	if _, ok := decodeDielectric(tok); ok {
		s.dielectric = strings.ToUpper(tok)
		return true
	}
	if m, ok := markWords[strings.ToLower(tok)]; ok {
		s.mark = m
		return true
	}
	switch {
	case reFilm.MatchString(tok):
		s.film = true
	case strings.EqualFold(tok, "BP"), strings.EqualFold(tok, "NP"), strings.EqualFold(tok, "B.P."), strings.EqualFold(tok, "N.P."):
		s.bipolar = true
	case reNoise.MatchString(tok):
	default:
		return false
	}
	return true
}

// plainCelsius takes "105C" as a temperature when the rest shows a capacitor or a
// link: alone it may also be a code.
func (s *scan) plainCelsius() {
	if s.tempMaxC != 0 || len(s.core) == 0 {
		return
	}
	for i, tok := range s.core {
		n, err := strconv.ParseFloat(strings.TrimSuffix(tok, "C"), 64)
		if err != nil || !strings.HasSuffix(tok, "C") || len(tok) < 3 || len(tok) > 4 {
			continue
		}
		capacitor := slices.Contains([]float64{85, 105, 125, 130, 135, 150}, n) && (s.volts > 0 || s.hasFarad())
		link := s.amps > 0 && n >= 60 && n <= 300
		if capacitor && len(s.core) > 1 || link {
			s.tempMaxC = n
			s.core = slices.Delete(slices.Clone(s.core), i, i+1)
			return
		}
	}
}

func (s *scan) hasFarad() bool {
	return slices.ContainsFunc(s.core, func(t string) bool { return strings.HasSuffix(t, "F") && len(t) > 2 })
}

// loneTolerance takes a letter standing beside a value as its tolerance.
func (s *scan) loneTolerance() {
	if s.tol.High > 0 || s.amps > 0 || len(s.core) != 2 {
		return
	}
	for i, tok := range s.core {
		if reLoneTol.MatchString(tok) && strings.ContainsAny(s.core[1-i], "0123456789") && speeds[s.core[1-i]] == "" {
			s.tol = tolLetters[tok[0]]
			s.core = []string{s.core[1-i]}
			return
		}
	}
}

// voltage copies the rated voltage to a reading.
func (s *scan) voltage(r *Reading) {
	if s.volts == 0 {
		return
	}
	if s.ac {
		r.VoltsAC = s.volts
		r.Text += ", " + unit.Format(s.volts, "V") + " AC"
		return
	}
	r.VoltsDC = s.volts
	r.Text += ", " + unit.Format(s.volts, "V")
}

func (s *scan) temperature(r *Reading) {
	if s.tempMaxC == 0 {
		return
	}
	r.TempMaxC, r.TempMinC = s.tempMaxC, s.tempMinC
	r.Text += ", " + unit.Format(s.tempMaxC, "°C")
}
