package cli

import (
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
)

// choose finds the ID that was meant among those of a case, by itself or by
// what stands after its last dot. Names it does not know come back with the
// nearest one.
func (s *session) choose(what, typed string, ids []string, titles func(i int) string) (string, error) {
	if id, ok := pick(typed, ids); ok {
		return id, nil
	}
	err := &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("this device's note has no %s %q", what, typed)}
	for i, id := range ids {
		if strings.HasSuffix(strings.ToLower(id), "."+strings.ToLower(typed)) {
			err.Code, err.Text = casework.Ambiguous, fmt.Sprintf("several %ss end in %q", what, typed)
			err.Choices = append(err.Choices, casework.Choice{ID: id, Title: titles(i)})
		}
	}
	if n := near(typed, ids); n != "" && err.Code == casework.NotFound {
		i := slices.Index(ids, n)
		err.Next = fmt.Sprintf("did you mean %s (%s)?", n, titles(i))
		return "", &tryError{err, s.instead(typed, n)}
	}
	if len(err.Choices) == 0 {
		for i, id := range ids {
			err.Choices = append(err.Choices, casework.Choice{ID: id, Title: titles(i)})
		}
		err.Next = "take one of these"
		if len(ids) == 0 {
			err.Next = "it has none at all"
		}
	}
	return "", err
}

// with is the arguments with one word put right, if it is in there.
func (s *session) with(typed, right string) []string {
	if i := slices.Index(s.Args, typed); i >= 0 {
		return replaced(s.Args, i, right)
	}
	return slices.Clone(s.Args)
}

// instead is the command line with one word put right, if it is in there.
func (s *session) instead(typed, right string) []string {
	for i, a := range s.Args {
		if a == typed {
			return []string{line(replaced(s.Args, i, right))}
		}
		if strings.HasPrefix(a, typed+"=") {
			return []string{line(replaced(s.Args, i, right+a[len(typed):]))}
		}
	}
	return nil
}

func (s *session) chooseStep(what, typed string, steps []casework.Step) (casework.Step, error) {
	ids := make([]string, len(steps))
	for i, c := range steps {
		ids[i] = c.ID
	}
	id, err := s.choose(what, typed, ids, func(i int) string { return steps[i].Title })
	if err != nil {
		return casework.Step{}, err
	}
	return steps[slices.Index(ids, id)], nil
}

// fields completes the names of findings in answers.
func (s *session) fields(answers []casework.Answer, fields []casework.Field) ([]casework.Answer, error) {
	ids := make([]string, len(fields))
	for i, f := range fields {
		ids[i] = f.Finding
	}
	out := slices.Clone(answers)
	for i, a := range out {
		id, err := s.choose("finding", a.Finding, ids, func(i int) string { return fields[i].Title })
		if err != nil {
			return nil, err
		}
		out[i].Finding = id
	}
	return out, nil
}

// template is the command that writes a check down, with what to fill in.
func template(c casework.Step) string {
	return line(append([]string{"check", c.ID}, blanks(c)...))
}

// blanks are the findings of a check, with what to fill in.
func blanks(c casework.Step) []string {
	var words []string
	for _, f := range c.Fields {
		words = append(words, f.Finding[strings.LastIndexByte(f.Finding, '.')+1:]+"="+blank(f))
	}
	return words
}

// blank is what to write for a finding.
func blank(f casework.Field) string {
	switch {
	case f.Kind == "pick":
		return strings.Join(f.Answers, "/")
	case f.Kind == "reading" && f.Unit == "":
		return "..."
	case f.Kind == "reading":
		return "..." + f.Unit
	case f.Comes:
		return "yes/no/3of10"
	}
	return "yes/no"
}
