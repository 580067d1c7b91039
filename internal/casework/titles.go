package casework

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"fettler/internal/note"
)

// distinct returns the model with titles that tell its items apart: a device
// with two amplifiers has two checks called "Look over the amplifier board", and
// each is given the title of its block in front, and what only trained hands may
// do is marked (guard.go). The model itself is not altered.
func distinct(m *note.Model) *note.Model {
	c := *m
	c.Findings = append([]note.Finding(nil), m.Findings...)
	c.Checks = append([]note.Check(nil), m.Checks...)
	c.Repairs = append([]note.Repair(nil), m.Repairs...)
	c.Modes = append([]note.Mode(nil), m.Modes...)
	unit := func(u int) string {
		if u < 0 || u >= len(m.Units) {
			return ""
		}
		return m.Units[u].Title
	}
	tell(len(c.Findings), func(i int) (*string, string) { return &c.Findings[i].Title, unit(c.Findings[i].Unit) })
	tell(len(c.Checks), func(i int) (*string, string) { return &c.Checks[i].Title, unit(c.Checks[i].Unit) })
	tell(len(c.Repairs), func(i int) (*string, string) { return &c.Repairs[i].Title, unit(c.Repairs[i].Unit) })
	tell(len(c.Modes), func(i int) (*string, string) { return &c.Modes[i].Title, unit(m.Parts[c.Modes[i].Part].Unit) })
	alone(&c)
	guard(&c)
	return &c
}

func tell(n int, item func(i int) (title *string, unit string)) {
	times := map[string]int{}
	for i := range n {
		t, _ := item(i)
		times[*t]++
	}
	for i := range n {
		t, unit := item(i)
		if times[*t] > 1 && unit != "" {
			*t = unit + ": " + lowered(*t)
		}
	}
}

// alone gives a sign whose title says nothing by itself ("open", "it hisses
// somewhere") the title of its check, since it is also read where that is not in sight.
func alone(m *note.Model) {
	for i := range m.Findings {
		f := &m.Findings[i]
		if f.Check < 0 || f.Kind != note.Sign {
			continue
		}
		word, _, several := strings.Cut(f.Title, " ")
		if title := m.Checks[f.Check].Title; (!several || pointing[strings.ToLower(word)]) && !strings.HasPrefix(f.Title, title) {
			f.Title = title + ": " + lowered(f.Title)
		}
	}
}

// pointing are words that point at something said before.
var pointing = map[string]bool{"it": true, "its": true, "one": true, "then": true, "they": true, "that": true, "this": true, "after": true, "both": true, "there": true}

// lowered makes the first letter small, unless the word is an abbreviation.
func lowered(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[size:])
	if !unicode.IsUpper(first) || !unicode.IsLower(second) {
		return s
	}
	return strings.ToLower(s[:size]) + s[size:]
}

// raised makes the first letter a capital.
func raised(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
