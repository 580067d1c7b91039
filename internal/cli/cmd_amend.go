package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"fettler/internal/casework"
)

// undoCmd makes an event no longer count.
type undoCmd struct {
	Args []string `arg:"" optional:""`
}

func (c *undoCmd) run(ctx context.Context, s *session) (answer, error) {
	name, event, err := caseThenEvent(c.Args, "undo [CASE] [EVENT]")
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	r, err := s.opened.Undo(ctx, id, event, s.by())
	if err != nil {
		return nil, err
	}
	return s.done(ctx, r, 1)
}

// correctCmd puts another deed in the place of an event.
type correctCmd struct {
	Args []string `arg:"" passthrough:""`
}

const correctHow = "correct [CASE] EVENT COMMAND …, as in: fettler correct 3 notice hum=no"

func (c *correctCmd) run(ctx context.Context, s *session) (answer, error) {
	at := slices.IndexFunc(c.Args[:min(len(c.Args), 2)], func(a string) bool { _, err := strconv.Atoi(a); return err == nil })
	if at < 0 || at+1 >= len(c.Args) {
		return nil, &usageError{text: "no event and command were named", next: "type it as: fettler " + correctHow}
	}
	name, _ := onlyCase(c.Args[:at], correctHow)
	event, _ := strconv.Atoi(c.Args[at])
	inner := *s
	g, err := inner.parse(c.Args[at+1:])
	if err != nil {
		return nil, err
	}
	d, ok := g.chosen.(deedCmd)
	if !ok {
		return nil, &usageError{text: fmt.Sprintf("%q writes nothing down that could be corrected", inner.command), next: "name the command that would have been right, as in: fettler correct 3 notice hum=no"}
	}
	if other, err := d.aim(); err != nil || other != "" {
		if err == nil {
			err = &usageError{text: fmt.Sprintf("the case %q stands after the event", other), next: "name the case first: fettler " + correctHow}
		}
		return nil, err
	}
	s.flags = s.flags.with(g.Global)
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	deed, err := d.deed(ctx, s, s.lookup(ctx, id))
	if err != nil {
		return nil, err
	}
	r, err := s.opened.Correct(ctx, id, event, deed)
	if err != nil {
		return nil, err
	}
	out, err := s.done(ctx, r, 1)
	if err != nil {
		return nil, err
	}
	if said, ok := deed.(casework.Saying); ok {
		h, err := s.opened.Hear(ctx, id, said.Text)
		if err != nil {
			return nil, err
		}
		h.Receipt = casework.Receipt{Case: id, Seq: event}
		return s.settle(ctx, out, h.Without(said.Except), said)
	}
	return out, nil
}
