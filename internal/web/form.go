package web

import (
	"fmt"
	"math"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// whoCookie keeps the name of whoever works at this screen.
const whoCookie = "at-the-bench"

// by says who reports and what they had seen.
func by(r *http.Request) casework.By {
	b := casework.By{}
	if c, err := r.Cookie(whoCookie); err == nil {
		b.Who = cookieName(c.Value)
	}
	b.Seen, _ = strconv.Atoi(r.PostFormValue("seen")) // not sent or no number: no matter
	b.Really = r.PostFormValue("sure") == "yes"
	return b
}

var decimalComma = regexp.MustCompile(`^([+-]?\d+),(\d{1,2}|\d{4,})$`)

// number reads a figure that may be left out. A decimal comma is taken for a
// point where it cannot be meant to part thousands: many keyboards have no point.
func number(r *http.Request, key, what string) (*float64, error) {
	text := strings.TrimSpace(r.PostFormValue(key))
	if text == "" {
		return nil, nil
	}
	v, err := strconv.ParseFloat(decimalComma.ReplaceAllString(text, "$1.$2"), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, refusal(fmt.Sprintf("%s cannot be read as a figure: %q", what, clip(text)), "write it in digits, such as 2.50")
	}
	return &v, nil
}

// orZero is number with 0 for what was left out.
func orZero(r *http.Request, key, what string) (float64, error) {
	v, err := number(r, key, what)
	if v == nil {
		return 0, err
	}
	return *v, err
}

// eventNumber reads the number of an event, 0 if none was given.
func eventNumber(text string) (int, error) {
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, missing(fmt.Sprintf("%q is no number of an event", clip(text)), "go back to the case and take one of those it lists")
	}
	return n, nil
}

func clip(s string) string {
	r := []rune(strings.ToValidUTF8(s, "?"))
	if len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return string(r)
}

// A FieldForm is a finding in a form, with what was entered.
type FieldForm struct {
	casework.Field
	Value  string   // yes, no, sometimes; the answer; or the figure of a reading
	Times  string   // sometimes: shown so many times
	Of     string   // sometimes: out of so many looks
	In     string   // reading: unit chosen
	Units  []string // reading: units to choose from
	Single bool     // the only field of its form: its answers are the buttons
}

// prefixes are those a meter shows a base unit with, the usual one first.
var prefixes = map[string][]string{
	"V": {"V", "mV", "kV"}, "A": {"A", "mA", "µA"}, "Ω": {"Ω", "kΩ", "MΩ", "mΩ"}, "F": {"µF", "nF", "pF", "mF"},
	"H": {"mH", "µH", "H"}, "Hz": {"Hz", "kHz", "MHz"}, "W": {"W", "mW", "kW"}, "s": {"s", "ms", "min"},
	"m": {"mm", "cm", "m"}, "kg": {"g", "kg"},
}

func newField(f casework.Field) FieldForm {
	x := FieldForm{Field: f}
	if f.Kind == "reading" && f.Unit != "" {
		if x.Units = prefixes[f.Unit]; x.Units == nil {
			x.Units = []string{f.Unit}
		}
		x.In = x.Units[0]
	}
	return x
}

func newFields(list []casework.Field) []FieldForm {
	out := make([]FieldForm, len(list))
	for i, f := range list {
		out[i] = newField(f)
		out[i].Single = len(list) == 1
	}
	return out
}

// enter puts what a form sent into the field.
func (f *FieldForm) enter(r *http.Request) {
	f.Value = strings.TrimSpace(r.PostFormValue("f." + f.Finding))
	f.Times, f.Of = strings.TrimSpace(r.PostFormValue("n."+f.Finding)), strings.TrimSpace(r.PostFormValue("of."+f.Finding))
	if u := r.PostFormValue("u." + f.Finding); slices.Contains(f.Units, u) {
		f.In = u
	}
	if r.PostFormValue("over") == f.Finding {
		f.Value = "overload"
	}
	if f.Value == "" && f.Kind == "sign" && r.PostFormValue("rest") == "no" {
		f.Value = "no"
	}
}

var bare = regexp.MustCompile(`^[+-]?[\d.,]+([eE][+-]?\d+)?$`)

// text is what was entered as casework reads it, "" if nothing was.
func (f *FieldForm) text() string {
	switch {
	case f.Value == "sometimes":
		return f.Times + " of " + f.Of
	case f.Kind != "reading" || f.Value == "":
		return f.Value
	case bare.MatchString(f.Value):
		return strings.TrimSpace(decimalComma.ReplaceAllString(f.Value, "$1.$2") + " " + f.In)
	}
	return f.Value
}

// know fills the field with a value known before, for a correction.
func (f *FieldForm) know(v casework.Value) {
	switch {
	case v.Shows != nil && v.Of > 0:
		f.Value, f.Times, f.Of = "sometimes", strconv.Itoa(*v.Shows), strconv.Itoa(v.Of)
	case v.Shows != nil && *v.Shows == 0:
		f.Value = "no"
	case v.Shows != nil:
		f.Value = "yes"
	case v.Answer != "":
		f.Value = v.Answer
	default:
		f.Value = v.Reading
		for _, u := range f.Units {
			if n, ok := strings.CutSuffix(v.Reading, " "+u); ok && bare.MatchString(n) {
				f.Value, f.In = n, u
			}
		}
	}
}

// enterAll reads a form's fields.
func enterAll(r *http.Request, fields []FieldForm) []casework.Answer {
	var out []casework.Answer
	for i := range fields {
		fields[i].enter(r)
		if t := fields[i].text(); t != "" {
			out = append(out, casework.Answer{Finding: fields[i].Finding, Text: t})
		}
	}
	return out
}

func knowAll(fields []FieldForm, values []casework.Value) {
	for i := range fields {
		for _, v := range values {
			if v.Finding == fields[i].Finding {
				fields[i].know(v)
			}
		}
	}
}
