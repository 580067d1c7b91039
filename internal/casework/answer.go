package casework

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/quantity"
)

// maxLooks bounds how often a sign can be counted.
const maxLooks = 1000

// readAnswers reads answers to findings; allowed says which may be answered here, sure
// that what is hard to believe is so.
func (c *Case) readAnswers(in []Answer, sure bool, allowed func(f int) error) ([]Value, error) {
	var out []Value
	for _, a := range in {
		i, ok := c.names.findings[a.Finding]
		if !ok {
			return nil, fail(NotFound, "take one of those the case lists", "this device's note has nothing called %q to look at", clip(a.Finding))
		}
		if err := allowed(i); err != nil {
			return nil, err
		}
		v, err := readValue(&c.Model.Findings[i], a.Text)
		if err != nil {
			return nil, err
		}
		if err := c.believable(i, v, sure); err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(o Value) bool { return o.Finding == v.Finding }) {
			return nil, fail(BadInput, "give one answer for it", "%q is answered twice", c.Model.Findings[i].Title)
		}
		out = append(out, v)
	}
	return out, nil
}

// readValue reads what somebody wrote down for a finding.
func readValue(f *note.Finding, text string) (Value, error) {
	text = strings.Join(strings.Fields(text), " ")
	v := Value{Finding: f.ID}
	var err error
	switch f.Kind {
	case note.Sign:
		v.Shows, v.Of, err = readSign(f, text)
	case note.Pick:
		v.Answer, err = readPick(f, text)
	default:
		v.Reading, err = readReading(f, text)
	}
	return v, err
}

var counted = regexp.MustCompile(`^(\d+) ?(?:of|/|out of) ?(\d+)$`)

func readSign(f *note.Finding, text string) (*int, int, error) {
	shows := func(n int) *int { return &n }
	switch strings.ToLower(text) {
	case "yes", "y", "shows", "true", "there":
		return shows(1), 0, nil
	case "no", "n", "not there", "false", "not", "none":
		return shows(0), 0, nil
	}
	m := counted.FindStringSubmatch(strings.ToLower(text))
	if m == nil {
		return nil, 0, fail(BadInput, `write "yes", "no" or a count such as "3 of 10"`, "%q is no answer to %q", clip(text), f.Title)
	}
	k, err1 := strconv.Atoi(m[1])
	n, err2 := strconv.Atoi(m[2])
	if err1 != nil || err2 != nil || n < 1 || n > maxLooks || k > n {
		return nil, 0, fail(BadInput, fmt.Sprintf("count from 0 of 1 to %d of %d", maxLooks, maxLooks), "%q cannot have shown %s times", f.Title, clip(text))
	}
	return shows(k), n, nil
}

func readPick(f *note.Finding, text string) (string, error) {
	var starts []string
	for _, a := range f.Answers {
		if strings.EqualFold(a, text) {
			return a, nil
		}
		if text != "" && strings.HasPrefix(strings.ToLower(a), strings.ToLower(text)) {
			starts = append(starts, a)
		}
	}
	if len(starts) == 1 {
		return starts[0], nil
	}
	return "", fail(BadInput, "answer one of: "+strings.Join(f.Answers, ", "), "%q is no answer to %q", clip(text), f.Title)
}

const overload = "overload"

func readReading(f *note.Finding, text string) (string, error) {
	switch strings.ToLower(text) {
	case overload, "ol", "o.l", "0l", "over", "overrange", "∞", "open", "1 .":
		if !overloads(f.Measure) {
			return "", fail(BadInput, "write the figure with its unit ("+unitWord(f.Measure)+"); beyond the end of the scale, write the end of the scale", "%q: overload is what a meter shows for volts, amperes, ohms, farads and henries, not for %s", f.Title, unitWord(f.Measure))
		}
		return overload, nil
	}
	if _, err := quantity.ParseIn(text, f.Measure); err != nil {
		return "", &Error{Code: BadInput, Text: fmt.Sprintf("%q: %v", f.Title, err), Next: "write what the meter shows with its unit (" + unitWord(f.Measure) + ")" + orOverload(f.Measure), Err: err}
	}
	if q, err := quantity.Parse(text); err == nil && q.Unit == "" && f.Measure != "" {
		return text + " " + f.Measure, nil
	}
	return text, nil
}

// overloads says whether a meter that reads this unit may show overload instead.
// Common practice, no source.
func overloads(unit string) bool {
	return slices.Contains([]string{"V", "A", "Ω", "F", "H"}, unit)
}

func orOverload(unit string) string {
	if overloads(unit) {
		return ", or overload"
	}
	return ""
}

func unitWord(u string) string {
	if u == "" {
		return "a plain number"
	}
	return u
}

// observe turns a value into an observation of the finding with index f. The
// error says why the note cannot take it.
func (v Value) observe(m *note.Model, f, epoch int) (belief.Observation, error) {
	x := &m.Findings[f]
	o := belief.Observation{Finding: f, Epoch: epoch}
	switch x.Kind {
	case note.Sign:
		if v.Shows == nil || *v.Shows < 0 || v.Of < 0 || v.Of > maxLooks || *v.Shows > max(v.Of, 1) {
			return o, fmt.Errorf("%s is a sign that shows or does not", v.Finding)
		}
		o.Value, o.Of = *v.Shows, v.Of
	case note.Pick:
		o.Value = slices.Index(x.Answers, v.Answer)
		if o.Value < 0 {
			return o, fmt.Errorf("%s has no answer %q", v.Finding, clip(v.Answer))
		}
	default:
		if v.Reading == overload {
			o.Number = math.Inf(1)
			return o, nil
		}
		n, err := quantity.ParseIn(v.Reading, x.Measure)
		if err != nil {
			return o, fmt.Errorf("%s: %w", v.Finding, err)
		}
		o.Number = n
	}
	return o, nil
}

// denied says that a sign was looked for and never there.
func (v Value) denied() bool { return v.Shows != nil && *v.Shows == 0 }

// words is the value as one says it.
func (v Value) words() string {
	switch {
	case v.Shows != nil && v.Of > 0:
		return fmt.Sprintf("%d of %d times", *v.Shows, v.Of)
	case v.denied():
		return "no"
	case v.Shows != nil:
		return "yes"
	case v.Answer != "":
		return v.Answer
	}
	return v.Reading
}

// phrase is title and value as one phrase.
func (v Value) phrase(title string) string {
	switch {
	case v.Shows != nil && v.Of == 0 && *v.Shows == 1:
		return title
	case v.Shows != nil && v.Of > 0:
		return title + ", " + v.words()
	case v.denied():
		return absent(title)
	}
	return title + ": " + v.words()
}
