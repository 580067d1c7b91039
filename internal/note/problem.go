package note

import (
	"fmt"
	"sort"
	"strings"
)

// A Problem is one thing wrong in a note.
type Problem struct {
	Pos
	Text    string // what is wrong
	Hint    string // what was expected, or the nearest valid name; may be empty
	Warning bool   // the note can be used all the same
}

// String is "file:line:column: text; hint".
func (p Problem) String() string {
	var b strings.Builder
	b.WriteString(p.Pos.String())
	if p.Warning {
		b.WriteString("warning: ")
	}
	b.WriteString(p.Text)
	if p.Hint != "" {
		b.WriteString("; ")
		b.WriteString(p.Hint)
	}
	return b.String()
}

// String is "file:line:column: ", or what is known of it.
func (p Pos) String() string {
	switch {
	case p.File == "":
		return ""
	case p.Line == 0:
		return p.File + ": "
	}
	return fmt.Sprintf("%s:%d:%d: ", p.File, p.Line, p.Column)
}

// Problems are all that was found wrong, in the order of the files.
type Problems []Problem

// Error lists every problem, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// Errors returns the problems that are not mere warnings.
func (ps Problems) Errors() Problems {
	var errs Problems
	for _, p := range ps {
		if !p.Warning {
			errs = append(errs, p)
		}
	}
	return errs
}

// err is nil if there is nothing but warnings.
func (ps Problems) err() error {
	if errs := ps.Errors(); len(errs) > 0 {
		return errs
	}
	return nil
}

// sorted returns the problems by file and place, each said once.
func (ps Problems) sorted() Problems {
	out := append(Problems(nil), ps...)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.File != b.File:
			return a.File < b.File
		case a.Line != b.Line:
			return a.Line < b.Line
		case a.Column != b.Column:
			return a.Column < b.Column
		}
		return a.Text < b.Text
	})
	kept := out[:0]
	for i, p := range out {
		if i == 0 || p != out[i-1] {
			kept = append(kept, p)
		}
	}
	return kept
}

// A sink collects problems; every stage of reading writes into one.
type sink struct{ list Problems }

func (s *sink) fail(at *node, hint, format string, args ...any) {
	s.list = append(s.list, Problem{Pos: at.pos(), Text: fmt.Sprintf(format, args...), Hint: hint})
}

func (s *sink) warn(at *node, hint, format string, args ...any) {
	s.list = append(s.list, Problem{Pos: at.pos(), Text: fmt.Sprintf(format, args...), Hint: hint, Warning: true})
}

// failed reports whether anything but warnings has come in since the list had length n.
func (s *sink) failed(since int) bool {
	for _, p := range s.list[since:] {
		if !p.Warning {
			return true
		}
	}
	return false
}
