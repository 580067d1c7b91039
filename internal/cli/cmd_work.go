package cli

import (
	"context"
	"fmt"
	"strconv"

	"fettler/internal/casework"
)

// openedCmd writes down how far the device is open.
type openedCmd struct {
	Args    []string `arg:"" optional:""`
	Minutes *float64 `name:"minutes"`
}

func (c *openedCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

const openedHow = "opened [CASE] LEVEL"

func (c *openedCmd) lone() (word, what, how string) { return loneOf(c.Args), "level", openedHow }

func (c *openedCmd) aim() (string, error) {
	name, _, err := caseThen(c.Args, "level", openedHow)
	return name, err
}

func (c *openedCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	_, typed, err := caseThen(c.Args, "level", openedHow)
	if err != nil {
		return nil, err
	}
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	ids := make([]string, len(v.Levels))
	for i, l := range v.Levels {
		ids[i] = l.ID
	}
	id, err := s.choose("way of opening it", typed, ids, func(i int) string { return v.Levels[i].Title })
	return casework.OpeningUp{By: s.by(), Access: id, Minutes: c.Minutes}, err
}

// repairCmd writes down a repair.
type repairCmd struct {
	Args    []string `arg:"" optional:""`
	What    string   `name:"what"`
	Money   *float64 `name:"money"`
	Minutes *float64 `name:"minutes"`
	NoShelf bool     `name:"no-shelf"`
	Ways
}

// run asks which way round the polarised parts sat and sit before it writes the repair.
func (c *repairCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := c.aim()
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, false)
	if err != nil {
		return nil, unquoted(err, c)
	}
	d, err := c.deed(ctx, s, s.lookup(ctx, id))
	if err != nil {
		return nil, s.caseAlone(ctx, c, err)
	}
	wrote, first, err := c.ask(ctx, s, id, d.(casework.Repairing).Repair)
	if err != nil {
		return nil, s.tryAgain(err, id)
	}
	r, err := s.record(ctx, id, d)
	if err != nil {
		return nil, s.tryAgain(err, id)
	}
	if wrote > 0 {
		r = first
	}
	return s.done(ctx, r, wrote+1)
}

const repairHow = `repair [CASE] REPAIR, or: fettler repair --what "what was done"`

// words are the case and the repair; a repair only described in words has no name.
func (c *repairCmd) words() (name, repair string, err error) {
	if len(c.Args) == 0 && c.What != "" {
		return "", "", nil
	}
	return caseThen(c.Args, "repair", repairHow)
}

func (c *repairCmd) lone() (word, what, how string) { return loneOf(c.Args), "repair", repairHow }

func (c *repairCmd) aim() (string, error) {
	name, _, err := c.words()
	return name, err
}

func (c *repairCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	_, typed, err := c.words()
	d := casework.Repairing{By: s.by(), What: c.What, Money: c.Money, Minutes: c.Minutes, NoShelf: c.NoShelf}
	if err != nil || typed == "" {
		return d, err
	}
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	step, err := s.chooseStep("repair", typed, v.Repairs)
	d.Repair = step.ID
	return d, err
}

// orderCmd writes down parts bought.
type orderCmd struct {
	Args  []string `arg:"" optional:""`
	For   []string `name:"for"`
	What  string   `name:"what"`
	Money float64  `name:"money"`
	Days  float64  `name:"days"`
	Here  bool     `name:"here"`
}

func (c *orderCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *orderCmd) aim() (string, error) {
	return onlyCase(c.Args, `order [CASE] --for REPAIR --what "what was bought" --money 5 --days 3`)
}

func (c *orderCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	d := casework.Ordering{By: s.by(), What: c.What, Money: c.Money, Days: c.Days, Here: c.Here}
	for _, typed := range c.For {
		v, err := look.noted()
		if err != nil {
			return nil, err
		}
		step, err := s.chooseStep("repair", typed, v.Repairs)
		if err != nil {
			return nil, err
		}
		d.Repairs = append(d.Repairs, step.ID)
	}
	return d, nil
}

// arrivedCmd writes down that an order has come.
type arrivedCmd struct {
	Args []string `arg:"" optional:""`
}

func (c *arrivedCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *arrivedCmd) aim() (string, error) {
	name, _, err := caseThenEvent(c.Args, "arrived [CASE] [EVENT]")
	return name, err
}

func (c *arrivedCmd) deed(_ context.Context, s *session, _ lookup) (casework.Deed, error) {
	_, order, err := caseThenEvent(c.Args, "arrived [CASE] [EVENT]")
	return casework.Arriving{By: s.by(), Order: order}, err
}

// remarkCmd writes a remark down.
type remarkCmd struct {
	Args    []string `arg:"" optional:""`
	Private bool     `name:"private"`
}

func (c *remarkCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

// whole is the command and its words.
func (c *remarkCmd) whole() []string {
	out := append([]string{"remark"}, c.Args...)
	if c.Private {
		out = append(out, "--private")
	}
	return out
}

func (c *remarkCmd) aim() (string, error) {
	name, _, err := caseThen(c.Args, "remark", `remark [CASE] "text"`)
	return name, err
}

func (c *remarkCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	name, text, err := caseThen(c.Args, "remark", `remark [CASE] "text"`)
	if err == nil {
		err = s.meantCase(name, text, look)
	}
	return casework.Remarking{By: s.by(), Text: text, Private: c.Private}, err
}

// caseThenEvent reads an optional case and an optional event number, 0 if there is none.
func caseThenEvent(args []string, how string) (name string, event int, err error) {
	if len(args) > 0 {
		if n, err := strconv.Atoi(args[len(args)-1]); err == nil {
			if n < 1 {
				return "", 0, &usageError{text: fmt.Sprintf("there is no event %d", n), next: "events are numbered from 1; fettler show lists them"}
			}
			event, args = n, args[:len(args)-1]
		}
	}
	name, err = onlyCase(args, how)
	return name, event, err
}
