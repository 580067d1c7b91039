package marking

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// decoder gives the readings of one core token in its inscription. The token is
// empty when there are only ratings.
type decoder func(tok string, s *scan) []Reading

var decoders = []decoder{
	resistorCodes, ceramicFilm, electrolytics, tantalums, inductors, suppressors,
	fuses, thermalLinks, varistors, zeners, crystals, dates, fragments, barOnly,
}

// wild is what a "?" may stand for.
const wild = "0123456789RKM"

const longest = 64

// Read gives every reading of a marking, the most plausible first. The text is
// colours in words or an inscription; "?" stands for one character or band that
// cannot be made out (at most two). It returns an error, in a sentence, when there
// is no reading at all.
func Read(text string, h Hint) ([]Reading, error) {
	t := unit.Clean(text)
	switch {
	case t == "" || strings.Trim(t, "? ") == "":
		return nil, fmt.Errorf("there is nothing to read; type what can be made out, with ? for a character or band that cannot")
	case len(t) > longest || !utf8.ValidString(t):
		return nil, fmt.Errorf("the marking is longer than %d characters or not text; type one line of it", longest)
	}
	cs, err := ParseColours(t)
	if err == nil {
		rs, err := readBands(cs, h)
		if err != nil {
			return nil, err
		}
		return rank(rs, h.Limit), nil
	}
	rs, inkErr := readInk(t, h)
	if inkErr != nil {
		return nil, inkErr
	}
	if len(rs) == 0 {
		if looksLikeColours(t) {
			return nil, err
		}
		return nil, fmt.Errorf("%q fits no code known here; type only the part that looks like a value, and ? for characters that cannot be made out", text)
	}
	return rank(rs, h.Limit), nil
}

func readInk(t string, h Hint) ([]Reading, error) {
	n := strings.Count(t, "?")
	if n > 2 {
		return nil, fmt.Errorf("%d characters cannot be made out: too many readings remain; measure the part or look for its twin on the board", n)
	}
	var out []Reading
	for _, g := range expand(t) {
		for _, r := range readAll(g.text) {
			if n > 0 {
				r.times(g.weight, "with ? taken: "+g.text)
				r.Text = g.text + ": " + r.Text
			}
			h.apply(&r, r.tech)
			h.dates(&r)
			if r.weight > 0 {
				out = append(out, r)
			}
		}
	}
	return out, nil
}

// guess is the text with every ? filled in.
type guess struct {
	text   string
	weight float64
}

// expand fills in each ?: a digit is three times as likely as a letter.
func expand(t string) []guess {
	i := strings.IndexByte(t, '?')
	if i < 0 {
		return []guess{{t, 1}}
	}
	var out []guess
	for _, c := range wild {
		w := 3.0 / 33
		if c > '9' {
			w = 1.0 / 33
		}
		for _, g := range expand(t[:i] + string(c) + t[i+1:]) {
			out = append(out, guess{g.text, g.weight * w})
		}
	}
	return out
}

// readAll reads a text, and a lone "68A" or "106A" also as a code, not a current.
func readAll(text string) []Reading {
	s := scanText(text)
	out := readScan(s)
	if s.amps > 0 && len(s.core) == 0 && s.volts == 0 && s.tempMaxC == 0 && reCodeA.MatchString(s.text) {
		out = append(out, readScan(scan{text: s.text, core: []string{s.text}})...)
	}
	return out
}

var reCodeA = regexp.MustCompile(`^\d{2,3}A$`)

func readScan(s scan) []Reading {
	tokens := s.core
	if len(tokens) == 0 {
		tokens = []string{""}
	}
	var out []Reading
	for i, tok := range tokens {
		for _, d := range decoders {
			sub := s
			rs := d(tok, &sub)
			for _, r := range rs {
				for j, o := range tokens {
					if j != i {
						leftOver(&r, o)
					}
				}
				out = append(out, r)
			}
		}
	}
	return out
}

// leftOver weighs a token the reading does not explain.
func leftOver(r *Reading, tok string) {
	if usesToken(r, tok) {
		return
	}
	if ds, err := DecodeYearMonth(tok); err == nil && r.Scheme != "date code" {
		r.times(0.8, fmt.Sprintf("%s may be the date: %s", tok, joinDates(ds)))
		return
	}
	if d, err := DecodeYearWeek(tok); err == nil && r.Scheme != "date code" {
		r.times(0.7, fmt.Sprintf("%s may be the date: %s", tok, d))
		return
	}
	r.times(0.2, fmt.Sprintf("%q is not explained", tok))
}

// usesToken reports a neighbouring token already put to use by its decoder.
func usesToken(r *Reading, tok string) bool {
	switch r.Kind {
	case part.Fuse:
		return tok == r.Speed || tok == r.Breaking
	case part.ThermalFuse:
		return strings.EqualFold(tok, "TF")
	}
	coded, _ := RatedVoltage(tok)
	return r.VoltsDC > 0 && (bareVolts(tok) == r.VoltsDC || coded == r.VoltsDC)
}

// dates drops the years to come and the reading with them.
func (h Hint) dates(r *Reading) {
	if len(r.Dates) == 0 || h.Year == 0 {
		return
	}
	r.Dates = past(r.Dates, h.Year)
	if len(r.Dates) == 0 {
		r.weight = 0
		return
	}
	r.Text = "made " + joinDates(r.Dates)
}

func looksLikeColours(t string) bool {
	for _, w := range strings.Fields(t) {
		if _, err := ParseColour(w); err == nil {
			return true
		}
	}
	return false
}

func joinDates(ds []Date) string {
	w := make([]string, len(ds))
	for i, d := range ds {
		w[i] = d.String()
	}
	return strings.Join(w, " or ")
}
