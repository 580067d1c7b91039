package cli

import (
	"context"
	"strconv"

	"fettler/internal/casework"
)

// offCmd writes down what was taken off and where it is kept.
type offCmd struct {
	Args  []string `arg:"" optional:""`
	Sort  string   `name:"sort"`
	Count int      `name:"count"`
	Where string   `name:"where"`
}

const offHow = `off [CASE] "long ones, back plate" --count 8 --where "tray A"`

func (c *offCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *offCmd) aim() (string, error) {
	name, _, err := caseThen(c.Args, "thing taken off", offHow)
	return name, err
}

func (c *offCmd) deed(_ context.Context, s *session, _ lookup) (casework.Deed, error) {
	_, what, err := caseThen(c.Args, "thing taken off", offHow)
	sort := c.Sort
	if sort == "" {
		sort = casework.RemovedSorts()[0]
	}
	return casework.Removing{By: s.by(), Sort: sort, What: what, Where: c.Where, Count: c.Count}, err
}

// backCmd writes down that something is back in.
type backCmd struct {
	Args  []string `arg:"" optional:""`
	Count int      `name:"count"`
}

func (c *backCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

const backHow = "back [CASE] [EVENT]"

func (c *backCmd) aim() (string, error) {
	name, _, err := caseThenEvent(c.Args, backHow)
	return name, err
}

// deed names the event that took it off; without one it is the only thing out.
func (c *backCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	_, event, err := caseThenEvent(c.Args, backHow)
	d := casework.Refitting{By: s.by(), Removed: event, Count: c.Count}
	if err != nil || event != 0 {
		return d, err
	}
	v, err := look()
	if err != nil {
		return nil, err
	}
	switch len(v.Out) {
	case 0:
		return nil, &casework.Error{Code: casework.BadInput, Text: "nothing is noted as off", Next: "fettler off notes what comes off"}
	case 1:
		d.Removed = v.Out[0].Event
		return d, nil
	}
	several := &casework.Error{Code: casework.Ambiguous, Text: "several things are off", Next: "say which by the number of its event"}
	for _, o := range v.Out {
		several.Choices = append(several.Choices, casework.Choice{ID: strconv.Itoa(o.Event), Title: o.Words()})
	}
	return nil, several
}
