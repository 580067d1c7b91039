package casework

import (
	"encoding/json"
	"fmt"
	"strings"

	"fettler/internal/quantity"
	"fettler/internal/shelf"
)

// entryWords is an event in words, with the payload given.
func (c *Case) entryWords(e Event, data json.RawMessage) (string, error) {
	words := fmt.Sprintf("%q, written by a newer version", e.Kind)
	var err error
	switch e.Kind {
	case KindOpened:
		err = with(e, data, func(p Opened) { words = c.openedWords(p) })
	case KindSaid:
		err = with(e, data, func(p Said) { words = c.saidWords(p) })
	case KindNoticed:
		err = with(e, data, func(p Noticed) { words = "noticed: " + c.valueWords(p.Values) + beforeWords(p.Before) })
	case KindChecked:
		err = with(e, data, func(p Checked) {
			words = c.checkedWords(p) + beforeWords(p.Before)
		})
	case KindOpenedUp:
		err = with(e, data, func(p OpenedUp) { words = "now: " + c.accessTitle(p.Access) })
	case KindRepaired:
		err = with(e, data, func(p Repaired) {
			words = "repaired: " + joined(": ", c.repairTitle(p.Repair), p.What) + tookWords(p.Took)
		})
	case KindTested:
		err = with(e, data, func(p Tested) { words = c.testedWords(p) })
	case KindOrdered:
		err = with(e, data, func(p Ordered) { words = c.orderedWords(p) })
	case KindArrived:
		err = with(e, data, func(p Arrived) { words = fmt.Sprintf("arrived: the order of event %d", p.Order) })
	case KindRemarked:
		err = with(e, data, func(p Remarked) { words, _ = p.Words() })
	case KindPhotographed:
		err = with(e, data, func(p Photographed) { words = joined(": ", "picture", p.Caption) })
	case KindStepped, KindRemoved, KindRefitted, KindOriented, KindTagged:
		words, err = reworkWords(e, data)
	case KindSoakPlanned, KindSoaked, KindGoneOver:
		words, err = c.proofWords(e, data)
	case KindBenchNamed, KindTakenOver:
		words, err = shareWords(e, data)
	case shelf.KindStocked, shelf.KindMoved, shelf.KindUsed, shelf.KindCounted, shelf.KindRenamed:
		words = "shelf: " + string(e.Kind) // in words: Bench.ShelfLog
	case KindOffered:
		err = with(e, data, func(p Offered) { words = offeredWords(p) })
	case KindCorrected:
		err = with(e, data, func(p Corrected) { words = fmt.Sprintf("corrected event %d", p.Event) })
	case KindUndone:
		err = with(e, data, func(p Undone) { words = fmt.Sprintf("undid event %d", p.Event) })
	case KindSettled:
		err = with(e, data, func(p Settled) { words = p.words(c.Settings.Currency) })
	case KindClosed:
		err = with(e, data, func(p ClosedCase) { words = joined(": ", "closed, "+string(p.Verdict), p.Remark) })
	case KindReopened:
		err = with(e, data, func(p Reopened) { words = joined(": ", "reopened", p.Why) })
	}
	return words, err
}

func joined(by string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, by)
}

func (c *Case) openedWords(p Opened) string {
	kind := p.Device
	switch {
	case c.Model != nil && p.Device == c.Model.ID:
		kind = c.Model.Title
	case kind == "":
		kind = p.Category
	}
	words := "opened: " + joined(", ", p.Label, kind)
	if p.Age > 0 {
		words += fmt.Sprintf(", %g years old", p.Age)
	}
	if p.Demo {
		words += " (invented, for show)"
	}
	return words
}

// saidReadAs stands between what was said and what it was read as.
const saidReadAs = " — read as "

func (c *Case) saidWords(p Said) string {
	words := "said: “" + p.Text + "”"
	if len(p.Read) > 0 {
		words += saidReadAs + c.valueWords(p.Read)
	}
	return words
}

func (c *Case) testedWords(p Tested) string {
	if p.Works {
		words := "tested the whole: it works"
		if c.Model == nil {
			return words
		}
		showed := c.showed()
		var titles []string
		for _, f := range c.gone(p, showed) {
			if showed[f] {
				titles = append(titles, c.Model.Findings[f].Title)
			}
		}
		if len(titles) > 0 {
			words += "; no more: " + strings.Join(titles, "; ")
		}
		return joined("; ", words, c.valueWords(p.Values))
	}
	return joined(": ", "tested the whole: still wrong", c.valueWords(p.Values))
}

func (c *Case) orderedWords(p Ordered) string {
	var titles []string
	for _, id := range p.Repairs {
		titles = append(titles, c.repairTitle(id))
	}
	words := "ordered: "
	if p.Here {
		words = "bought: "
	}
	words += joined(", for ", p.What, strings.Join(titles, " and "))
	if p.Money > 0 {
		words += ", " + quantity.Format(p.Money, c.Settings.Currency, 6)
	}
	if p.Days > 0 {
		words += ", " + quantity.Days(p.Days)
	}
	return words
}

func (c *Case) valueWords(values []Value) string {
	var out []string
	for _, v := range values {
		title := v.Finding
		if f, ok := c.names.findings[v.Finding]; ok {
			title = c.Model.Findings[f].Title
		}
		out = append(out, v.phrase(title))
	}
	return strings.Join(out, "; ")
}

func beforeWords(before int) string {
	if before == 0 {
		return ""
	}
	return fmt.Sprintf(" (as it was before event %d)", before)
}

func (c *Case) checkTitle(id string) string {
	if k, ok := c.names.checks[id]; ok {
		return c.Model.Checks[k].Title
	}
	return id
}

func (c *Case) repairTitle(id string) string {
	if r, ok := c.names.repairs[id]; ok {
		return c.Model.Repairs[r].Title
	}
	return id
}

func (c *Case) accessTitle(id string) string {
	if l, ok := c.names.access[id]; ok {
		return c.Model.Access[l].Title
	}
	return id
}

func (c *Case) orderChoices() []Choice {
	var out []Choice
	for _, seq := range c.Orders {
		out = append(out, Choice{ID: fmt.Sprint(seq), Title: c.orderedWords(c.orders[seq])})
	}
	return out
}
