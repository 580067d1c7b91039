package cli

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// shoppingCmd shows what all open cases may need.
type shoppingCmd struct{}

// shoppingList is the list.
type shoppingList struct{ casework.Shopping }

func (c *shoppingCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	list, err := b.Shopping(ctx)
	if err != nil {
		return nil, err
	}
	return &shoppingList{*list}, nil
}

func (a *shoppingList) no() bool { return len(a.Lines)+len(a.Twice) == 0 }

func (a *shoppingList) text(p *page) {
	for _, l := range strings.Split(strings.TrimSuffix(a.Text(), "\n"), "\n") {
		lead := l[:len(l)-len(strings.TrimLeft(l, " "))]
		if strings.HasPrefix(l, "[ ] ") {
			lead, l = "[ ] ", l[4:]
		}
		p.para(lead, l)
	}
	if a.More > 0 {
		p.line(fmt.Sprintf("(%d open cases left out)", a.More))
	}
}

// offersCmd writes down offers for a case and says what to order.
type offersCmd struct {
	Args []string `arg:"" optional:""`
	Add  []string `name:"add" sep:"none"`
	File string   `name:"file"`
	None bool     `name:"none"`
}

// offersWeighed is what to order.
type offersWeighed struct{ casework.Basket }

func (c *offersCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := onlyCase(c.Args, "offers [CASE] --add OFFER")
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, false)
	if err != nil {
		return nil, err
	}
	if err := c.write(ctx, s, id); err != nil {
		return nil, s.tryAgain(err, id)
	}
	k, err := s.opened.Basket(ctx, id)
	if err != nil {
		return nil, err
	}
	return &offersWeighed{*k}, nil
}

// write records the offers as typed, in place of those before or after them.
func (c *offersCmd) write(ctx context.Context, s *session, id string) error {
	if len(c.Add) == 0 && c.File == "" && !c.None {
		return nil
	}
	in := casework.Offering{By: s.by()}
	if c.File == "" && !c.None {
		k, err := s.opened.Basket(ctx, id)
		if err != nil {
			return err
		}
		for _, o := range k.Offers {
			in.Offers = append(in.Offers, o.Offer)
		}
	}
	typed := strings.Join(c.Add, "\n")
	if c.File != "" {
		data, err := readInput(s, c.File)
		if err != nil {
			return err
		}
		typed = string(data) + "\n" + typed
	}
	more, err := casework.ParseOffers(typed)
	if err != nil {
		return err
	}
	in.Offers = append(in.Offers, more...)
	_, err = s.opened.SetOffers(ctx, id, in)
	return err
}

func (a *offersWeighed) no() bool { return a.Trouble != "" }

func (a *offersWeighed) text(p *page) {
	p.head("%s (%s): what to buy", a.Title, a.Case)
	switch {
	case a.Trouble != "":
		p.para("  ", a.Trouble)
		return
	case len(a.Offers) == 0:
		p.para("  ", "no offers are written down; add them with --add, one each: 2 × 4700 µF 63 V -> supply.recap; 6.40; 3.50; 4")
		return
	}
	p.para("  ", a.Words)
	if len(a.Buy) > 0 {
		p.para("  ", fmt.Sprintf("%s to pay now, %s until the last of it is here", money(a.Money, a.Currency), quantity.Days(a.Days)))
	}
	p.para("  ", fmt.Sprintf("%s expected to the end, with your time and the waiting", money(a.Total, a.Currency)))
	for _, w := range a.Why {
		p.para("  - ", w)
	}
	for _, w := range a.Later {
		p.para("  - ", w)
	}
	p.gap()
	for i, o := range a.Offers {
		mark := "    "
		if o.Now {
			mark = "  * "
		}
		p.para(fmt.Sprintf("%s%d  ", mark, i+1), fmt.Sprintf("%s, %s: %s", o.What, money(o.Price, a.Currency), o.Words))
	}
}

// salvageCmd notes parts of a device kept for parts on the shelf.
type salvageCmd struct {
	Args  []string `arg:"" optional:""`
	Take  []string `name:"take" sep:"none"`
	Place string   `name:"place"`
}

// salvaged is what a device has to give.
type salvaged struct {
	casework.Salvage
	Written *casework.ShelfReceipt `json:"written"` // null: only looked at
}

func (c *salvageCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := onlyCase(c.Args, "salvage [CASE] --take PART")
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	from, err := s.opened.SalvageOf(ctx, id)
	if err != nil {
		return nil, err
	}
	a := &salvaged{Salvage: *from}
	if len(c.Take) == 0 {
		return a, nil
	}
	in := casework.Salvaging{By: s.by(), Parts: map[string]int{}, Place: c.Place}
	for _, typed := range c.Take {
		part, count, err := c.part(from, typed)
		if err != nil {
			return nil, err
		}
		in.Parts[part] = count
	}
	r, err := s.opened.Salvage(ctx, id, in)
	if err != nil {
		return nil, err
	}
	a.Written = &r
	return a, nil
}

// part reads "supply.bridge" or "supply.reservoir=2".
func (c *salvageCmd) part(from *casework.Salvage, typed string) (string, int, error) {
	name, many, counted := strings.Cut(typed, "=")
	for _, p := range from.Parts {
		if p.Part != name {
			continue
		}
		if !counted {
			return name, p.Count, nil
		}
		n, err := strconv.Atoi(many)
		if err != nil {
			return "", 0, &usageError{text: fmt.Sprintf("%q is no number of pieces", many), next: "type it as: --take " + name + "=2"}
		}
		return name, n, nil
	}
	return "", 0, &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("this device has no part %q to give", name), Next: "fettler salvage lists them"}
}

func (a *salvaged) text(p *page) {
	if a.Written != nil {
		p.para("", fmt.Sprintf("%s; fettler shelf undo %d takes it back", a.Written.Words, a.Written.Event))
		return
	}
	p.head("%s (%s): parts to give", a.Title, a.Case)
	for _, x := range a.Parts {
		words := fmt.Sprintf("%d × %s", x.Count, x.Name)
		switch {
		case x.Safe:
			words += "; a safety part, not used a second time"
		case x.Bad >= 0.02:
			words += "; may be what was wrong: " + percent(x.Bad)
		}
		p.para("  "+x.Part+"  ", words)
	}
}
