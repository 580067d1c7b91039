package casework

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"fettler/internal/shelf"
)

// A Took is what a repair took from the shelf.
type Took struct {
	Line  string `json:"line"`
	Count int    `json:"count"`
	Name  string `json:"name"`
	Place string `json:"place,omitempty"`
}

// took lists what picks take.
func took(picks []shelf.Pick) []Took {
	var out []Took
	for _, p := range picks {
		out = append(out, Took{p.Line, p.Count, p.Name, p.Place})
	}
	return out
}

// takes is what a repair takes from the shelf, and whether it has to be bought.
func (d Repairing) takes(c *Case, r int) (out []Took, buys bool) {
	switch {
	case d.kept != nil && len(*d.kept) > 0:
		return *d.kept, false
	case c.AtHand[r]:
		return nil, false
	case d.NoShelf || d.kept != nil || len(c.Shelf[r]) == 0:
		return nil, true
	case d.books:
		return took(c.Shelf[r]), false
	}
	return nil, false
}

// keeping is a correction that leaves what the repair took from the shelf as it is, if it is the same repair.
func (d Repairing) keeping(data json.RawMessage) Repairing {
	var was Repaired
	d.kept = &[]Took{}
	if json.Unmarshal(data, &was) == nil && was.Repair == d.Repair {
		d.kept = &was.Took
	}
	return d
}

// shelfDebt is what a repair of a case should have taken from the shelf.
type shelfDebt struct {
	event int
	what  string
	takes []Took
	holds bool // the repair counts and still takes them
}

// shelfDebts lists the repairs of a case that ever took something.
func (c *Case) shelfDebts(events []Event) []shelfDebt {
	var out []shelfDebt
	eff := effects(events)
	for i, e := range events {
		if e.Kind != KindRepaired {
			continue
		}
		first, err := decode[Repaired](e, e.Data)
		if err != nil || len(first.Took) == 0 {
			continue
		}
		now, err := decode[Repaired](e, eff[i].data)
		out = append(out, shelfDebt{event: e.Seq, what: c.repairTitle(first.Repair), takes: first.Took, holds: err == nil && !eff[i].void && len(now.Took) > 0})
	}
	return out
}

// thenShelf is followShelf after a deed that has been written already. It is not given up because
// whoever did it goes away, and if it fails the error says what stands and what does not.
func (b *Bench) thenShelf(ctx context.Context, r Receipt, deed string, back int, by By) error {
	err := b.followShelf(context.WithoutCancel(ctx), r.Case, back, by)
	if err == nil {
		return nil
	}
	out := fail(StoreFail, fmt.Sprintf("do not write it down again: the shelf follows with the next repair or undoing in case %s, or put its count right by hand", r.Case),
		"the %s is written down as event %d, but the shelf could not be brought in line with it", deed, r.Seq)
	out.Err = err
	return out
}

// followShelf brings the journal of the bench in line with the repairs of a case: what a repair took
// is used, what an undone one took is there again. The case's journal is the truth; should the program
// be stopped between the two, the next such deed makes good for it. back is the event that was just
// undone or brought back, 0 if none.
func (b *Bench) followShelf(ctx context.Context, caseID string, back int, by By) error {
	_, events, err := b.read(ctx, caseID)
	if err != nil {
		return err
	}
	c, err := project(nil, namesOf(nil), nil, events)
	if err != nil {
		return err
	}
	if device, err := DeviceOf(events); err == nil {
		if k := b.knowledge(device); k != nil {
			c.Model, c.names = k.m, k.names
		}
	}
	debts, back := c.shelfDebts(events), aboutEvent(events, back)
	if len(debts) == 0 {
		return nil
	}
	_, err = b.writeShelf(ctx, by, func(_ *shelf.Shelf, bench []Event) (Kind, []any, error) {
		undo, _ := settleDebts(caseID, debts, bench, back)
		return KindUndone, undo, nil
	})
	if err == nil {
		_, err = b.writeShelf(ctx, by, func(_ *shelf.Shelf, bench []Event) (Kind, []any, error) {
			_, use := settleDebts(caseID, debts, bench, back)
			return shelf.KindUsed, use, nil
		})
	}
	return err
}

// aboutEvent is the event that an undoing, or an undoing of one, is about.
func aboutEvent(events []Event, n int) int {
	for n >= 1 && n <= len(events) && (events[n-1].Kind == KindUndone || events[n-1].Kind == KindCorrected) {
		p, err := decode[Undone](events[n-1], events[n-1].Data) // a correction names its event alike
		if err != nil || p.Event >= n {
			return 0
		}
		n = p.Event
	}
	return n
}

// settleDebts compares what the repairs should have taken with what the bench has written down.
func settleDebts(caseID string, debts []shelfDebt, bench []Event, back int) (undo, use []any) {
	eff := effects(bench)
	live, void := map[int][]int{}, map[int][]int{}
	for i, e := range bench {
		if e.Kind != shelf.KindUsed {
			continue
		}
		if p, err := decode[shelf.Used](e, e.Data); err == nil && p.Case == caseID && p.Event > 0 {
			if eff[i].void {
				void[p.Event] = append(void[p.Event], eff[i].voidBy)
			} else {
				live[p.Event] = append(live[p.Event], e.Seq)
			}
		}
	}
	for _, d := range debts {
		switch {
		case !d.holds:
			for _, n := range live[d.event] {
				undo = append(undo, Undone{Event: n})
			}
		case len(live[d.event])+len(void[d.event]) == 0:
			for _, t := range d.takes {
				use = append(use, shelf.Used{Line: t.Line, Count: t.Count, Case: caseID, Event: d.event, What: d.what})
			}
		case d.event == back && len(live[d.event]) == 0:
			slices.Sort(void[d.event])
			for _, n := range slices.Compact(void[d.event]) {
				undo = append(undo, Undone{Event: n})
			}
		}
	}
	return undo, use
}
