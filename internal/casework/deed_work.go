package casework

import (
	"context"
	"slices"
)

func (d OpeningUp) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	if err := c.needNote(); err != nil {
		return "", nil, err
	}
	l, ok := c.names.access[d.Access]
	if !ok {
		next := "take one of"
		for i, a := range c.Model.Access {
			if i > 0 {
				next += ","
			}
			next += " " + a.ID
		}
		return "", nil, fail(NotFound, next, "this device's note knows no way of opening it called %q", clip(d.Access))
	}
	minutes, err := figure(d.Minutes, travel(c.Model, c.Access, l), "the minutes", maxMinutes)
	return KindOpenedUp, OpenedUp{Access: d.Access, Minutes: minutes}, err
}

func (d Repairing) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	p := Repaired{Repair: d.Repair}
	var err error
	if p.What, err = oneLine(d.What, "what was done"); err != nil {
		return "", nil, err
	}
	price, takes := 0.0, 0.0
	switch r, ok := c.names.repairs[d.Repair]; {
	case ok:
		x := &c.Model.Repairs[r]
		takes = x.Minutes
		var buys bool
		if p.Took, buys = d.takes(c, r); buys {
			price = x.Price
		}
	case d.Repair != "":
		return "", nil, fail(NotFound, "take one of those the case lists, or leave it out and say in words what was done", "this device's note has no repair %q", clip(d.Repair))
	case p.What == "":
		return "", nil, fail(BadInput, "name a repair of the note, or say in words what was done", "no repair was named")
	}
	if p.Money, err = figure(d.Money, price, "the money", maxMoney); err != nil {
		return "", nil, err
	}
	p.Minutes, err = figure(d.Minutes, takes, "the minutes", maxMinutes)
	return KindRepaired, p, err
}

func (d Ordering) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	p := Ordered{Repairs: slices.Clone(d.Repairs), Here: d.Here}
	for _, id := range d.Repairs {
		if _, ok := c.names.repairs[id]; !ok {
			return "", nil, fail(NotFound, "take one of those the case lists", "this device's note has no repair %q", clip(id))
		}
	}
	var err error
	if p.What, err = oneLine(d.What, "what was ordered"); err != nil {
		return "", nil, err
	}
	if p.What == "" && len(p.Repairs) == 0 {
		return "", nil, fail(BadInput, "say what was bought, or for which repair", "the order says nothing")
	}
	if p.Money, err = figure(&d.Money, 0, "the money", maxMoney); err != nil {
		return "", nil, err
	}
	p.Days, err = figure(&d.Days, 0, "the days of waiting", maxDays)
	return KindOrdered, p, err
}

func (d Arriving) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := c.open(); err != nil {
		return "", nil, err
	}
	order := d.Order
	switch {
	case len(c.Orders) == 0:
		return "", nil, fail(BadInput, "record an order first", "nothing is on order")
	case order == 0 && len(c.Orders) > 1:
		return "", nil, &Error{Code: Ambiguous, Text: "several orders are outstanding", Next: "say which by the number of its event", Choices: c.orderChoices()}
	case order == 0:
		order = c.Orders[0]
	case !slices.Contains(c.Orders, order):
		return "", nil, &Error{Code: NotFound, Text: "no order with that number is outstanding", Next: "take one of the outstanding ones", Choices: c.orderChoices()}
	}
	return KindArrived, Arrived{Order: order}, nil
}

// OpenUp records how far the device is open.
func (b *Bench) OpenUp(ctx context.Context, caseID string, in OpeningUp) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// RecordRepair records a repair done. What it needs is taken from the shelf if all of it is there.
func (b *Bench) RecordRepair(ctx context.Context, caseID string, in Repairing) (Receipt, error) {
	in.books = true
	r, err := b.record(ctx, caseID, in)
	if err == nil {
		err = b.thenShelf(ctx, r, "repair", 0, in.By)
	}
	return r, err
}

// Order records parts bought.
func (b *Bench) Order(ctx context.Context, caseID string, in Ordering) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Arrive records that an order has come.
func (b *Bench) Arrive(ctx context.Context, caseID string, in Arriving) (Receipt, error) {
	return b.record(ctx, caseID, in)
}
