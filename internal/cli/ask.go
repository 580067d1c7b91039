package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// asks says that somebody is there to be asked.
func (s *session) asks() bool { return s.Asks && !s.json }

// ask puts a question and returns one line of answer, "" if there is none. It
// ends with ctx, although the line is still being waited for.
func (s *session) ask(ctx context.Context, format string, args ...any) (string, error) {
	fmt.Fprintf(s.Stderr, format, args...)
	if s.in == nil {
		s.in = bufio.NewReader(s.Stdin)
	}
	type typed struct {
		text string
		err  error
	}
	got := make(chan typed, 1)
	in := s.in
	go func() {
		text, err := in.ReadString('\n')
		got <- typed{text, err}
	}()
	var text string
	var err error
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case t := <-got:
		text, err = t.text, t.err
	}
	if err != nil && !errors.Is(err, io.EOF) {
		return "", fmt.Errorf("the answer could not be read: %w", err)
	}
	if errors.Is(err, io.EOF) && text == "" {
		fmt.Fprintln(s.Stderr)
	}
	return strings.TrimSpace(text), nil
}

// askWhich lets one of several be chosen; -1 is none of them.
func (s *session) askWhich(ctx context.Context, question string, choices []string) (int, error) {
	p := &page{w: s.Stderr}
	p.para("", question)
	for i, c := range choices {
		p.para(fmt.Sprintf("%4d  ", i+1), c)
	}
	for {
		text, err := s.ask(ctx, "number, or Enter for none of these: ")
		if err != nil || text == "" {
			return -1, err
		}
		n, err := strconv.Atoi(text)
		if err == nil && n >= 1 && n <= len(choices) {
			return n - 1, nil
		}
		p.line(fmt.Sprintf("%q is not a number from 1 to %d", text, len(choices)))
	}
}

// askFields asks what a check showed, finding by finding; Enter skips one.
func (s *session) askFields(ctx context.Context, fields []casework.Field) ([]casework.Answer, error) {
	var out []casework.Answer
	for _, f := range fields {
		p := &page{w: s.Stderr}
		q := f.Ask
		if q == "" {
			q = f.Title
		}
		p.para("", q)
		if len(f.Expect) > 0 {
			p.para("  ", strings.Join(f.Expect, "; "))
		}
		text, err := s.ask(ctx, "%s, or Enter to skip: ", blank(f))
		if err != nil {
			return nil, err
		}
		if text != "" {
			out = append(out, casework.Answer{Finding: f.Finding, Text: text})
		}
	}
	return out, nil
}
