package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// closeCmd ends a case.
type closeCmd struct {
	Args    []string `arg:"" optional:""`
	Was     []string `name:"was"`
	Kg      *float64 `name:"kg"`
	Barrier string   `name:"barrier"`
	Remark  string   `name:"remark"`
	Sure    bool     `name:"sure"`
}

func (c *closeCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

const closeHow = "close [CASE] fixed, not-worth-it, passed-on or kept-for-parts"

func (c *closeCmd) aim() (string, error) {
	name, _, err := caseThen(c.Args, "verdict", closeHow)
	return name, err
}

func (c *closeCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	_, word, err := caseThen(c.Args, "verdict", closeHow)
	if err != nil {
		return nil, err
	}
	d := casework.Closing{By: s.sure(c.Sure), Kg: c.Kg, Barrier: c.Barrier, Remark: c.Remark}
	if d.Verdict, err = s.verdict(word); err != nil {
		return nil, err
	}
	if len(c.Was) == 0 {
		return d, nil
	}
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	ids := make([]string, len(v.Suspects))
	for i, x := range v.Suspects {
		ids[i] = x.Mode
	}
	for _, typed := range c.Was {
		id, err := s.choose("suspect", typed, ids, func(i int) string { return v.Suspects[i].Title })
		if err != nil {
			return nil, err
		}
		d.Was = append(d.Was, id)
	}
	return d, nil
}

// verdict reads a verdict, with hyphens or blanks.
func (s *session) verdict(word string) (casework.Verdict, error) {
	var names []string
	for _, v := range casework.Verdicts() {
		name := strings.ReplaceAll(string(v), " ", "-")
		if strings.EqualFold(strings.ReplaceAll(word, " ", "-"), name) {
			return v, nil
		}
		names = append(names, name)
	}
	e := &usageError{text: fmt.Sprintf("%q is no way to end a case", word), next: "say " + strings.Join(names, ", ")}
	if n := nearest(word, names); n != "" {
		e.try = s.instead(word, n)
	}
	return "", e
}

// reopenCmd takes a closed case up again.
type reopenCmd struct {
	Args []string `arg:"" optional:""`
	Why  string   `name:"why"`
}

func (c *reopenCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *reopenCmd) aim() (string, error) { return onlyCase(c.Args, "reopen [CASE]") }

func (c *reopenCmd) deed(_ context.Context, s *session, _ lookup) (casework.Deed, error) {
	return casework.Reopening{By: s.by(), Why: c.Why}, nil
}
