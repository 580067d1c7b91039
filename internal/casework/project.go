package casework

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/shelf"
)

// DeviceOf returns the ID of the note a case is about, "" if there is none.
func DeviceOf(events []Event) (string, error) {
	eff := effects(events)
	if len(eff) == 0 || events[0].Kind != KindOpened {
		return "", nil
	}
	o, err := decode[Opened](events[0], eff[0].data)
	return o.Device, err
}

// Project returns what the events of a case amount to. bench is the events of
// BenchCase. m is the model of the case's device, nil if there is none; what
// the journal names and m does not know is listed in Case.Ignored and counts
// for nothing. It depends on nothing else.
//
// It fails if the events are not numbered 1, 2, … or a payload is broken.
func Project(m *note.Model, bench, events []Event) (*Case, error) {
	if m != nil {
		m = distinct(m)
	}
	c, err := project(m, namesOf(m), bench, events)
	if err != nil {
		return nil, err
	}
	s, err := readShelf(new(shelf.Reader), bench)
	if err != nil {
		return nil, err
	}
	return c, c.fromShelf(s)
}

func project(m *note.Model, n *names, bench, events []Event) (*Case, error) {
	c := &Case{Model: m, names: n, AtHand: map[int]bool{}, Checks: map[int]int{}, Repairs: map[int]int{}, orders: map[int]Ordered{}, been: map[int]bool{}}
	eff := effects(events)
	if err := c.settle(bench, events, eff); err != nil {
		return nil, err
	}
	for i, e := range events {
		if e.Seq != i+1 {
			return nil, fail(StoreFail, "restore the file from a copy", "the journal of case %q is damaged: event %d stands where event %d belongs", e.Case, e.Seq, i+1)
		}
		c.ID, c.Seq, c.Last = e.Case, e.Seq, e.At
		if err := c.take(e, eff[i]); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// take applies one event.
func (c *Case) take(e Event, f effect) error {
	entry := Entry{Event: e.Seq, At: e.At, Kind: e.Kind, Who: e.Who, Void: f.void, VoidBy: f.voidBy, Epoch: len(c.Evidence.Acts)}
	for _, old := range f.was {
		words, err := c.entryWords(e, old)
		if err != nil {
			return err
		}
		entry.Was = append(entry.Was, words)
	}
	words, err := c.entryWords(e, f.data)
	if err != nil {
		return err
	}
	entry.Words = words
	entry.CanUndo = !f.void && e.Kind != KindOpened
	entry.CanAmend = !f.void && amendable(e.Kind)
	if !f.void {
		ignored := len(c.Ignored)
		if err := c.apply(e, f.data, &entry); err != nil {
			return err
		}
		entry.Ignored = len(c.Ignored) > ignored
		c.Money += entry.Money
		c.Minutes += entry.Minutes
	}
	c.Timeline = append(c.Timeline, entry)
	return nil
}

// apply lets an event that counts change the case.
func (c *Case) apply(e Event, data json.RawMessage, entry *Entry) error {
	switch e.Kind {
	case KindOpened:
		return with(e, data, func(p Opened) { c.Opened, c.Since = p, e.At })
	case KindSaid:
		return with(e, data, func(p Said) { c.look(e, "said", p.Read, 0) })
	case KindNoticed:
		return with(e, data, func(p Noticed) { c.look(e, "noticed", p.Values, p.Before) })
	case KindChecked:
		return with(e, data, func(p Checked) { c.check(e, p, entry) })
	case KindOpenedUp:
		return with(e, data, func(p OpenedUp) { c.openUp(p, entry) })
	case KindRepaired:
		return with(e, data, func(p Repaired) { c.repair(e, p, entry) })
	case KindTested:
		return with(e, data, func(p Tested) { c.test(e, p, entry) })
	case KindOrdered:
		return with(e, data, func(p Ordered) { c.order(e, p, entry) })
	case KindArrived:
		return with(e, data, func(p Arrived) { c.arrive(p) })
	case KindRemarked:
		return with(e, data, func(p Remarked) { _, entry.Private = p.Words() })
	case KindPhotographed:
		return with(e, data, func(p Photographed) { entry.Photo, entry.PhotoOf = p.Hash, p.About; c.rework.take(e, p) })
	case KindStepped, KindRemoved, KindRefitted, KindOriented, KindTagged:
		return c.takeRework(e, data)
	case KindSoakPlanned, KindSoaked, KindGoneOver:
		return c.takeProof(e, data)
	case KindOffered:
		return with(e, data, func(p Offered) { c.Offers = p.Offers })
	case KindClosed:
		return with(e, data, func(p ClosedCase) { c.close(e, p, entry) })
	case KindReopened:
		c.Closed, c.ClosedAt = nil, time.Time{}
	}
	return nil
}

// look adds observations; before is the event of the repair before which they held.
func (c *Case) look(e Event, from string, values []Value, before int) {
	epoch := c.epochBefore(before)
	for _, v := range values {
		c.lookAt(e, from, v, epoch)
	}
	if c.Model != nil {
		c.deny(e, from, values, epoch)
	}
}

func (c *Case) lookAt(e Event, from string, v Value, epoch int) {
	f, ok := c.names.findings[v.Finding]
	if !ok {
		c.ignore("event %d: nothing called %q to look at", e.Seq, clip(v.Finding))
		return
	}
	o, err := v.observe(c.Model, f, epoch)
	if err != nil {
		c.ignore("event %d: %v", e.Seq, err)
		return
	}
	if x := &c.Model.Findings[f]; epoch == len(c.Evidence.Acts) && x.Check < 0 && x.Kind == note.Sign && o.Value > 0 && from != "tested" {
		c.Works = false
	}
	c.forgetImplied(f, epoch)
	c.Evidence.Seen = append(c.Evidence.Seen, o)
	c.Looks = append(c.Looks, Look{Event: e.Seq, At: e.At, From: from, Value: v})
}

// deny adds what the symptoms seen in an epoch say is not there: what runs loudly
// is not dead. What has been looked for itself is left as it was seen.
func (c *Case) deny(e Event, from string, values []Value, epoch int) {
	for _, v := range values {
		f, ok := c.names.findings[v.Finding]
		if !ok || v.Shows == nil || *v.Shows == 0 {
			continue
		}
		for _, other := range c.Model.Findings[f].Denies {
			if c.lookedFor(other, epoch) {
				continue
			}
			n := len(c.Looks)
			c.lookAt(e, from, Value{Finding: c.Model.Findings[other].ID, Shows: new(int)}, epoch)
			for i := n; i < len(c.Looks); i++ {
				c.Looks[i].Implied = true
			}
		}
	}
}

// forgetImplied drops what was only concluded about a finding; it has been looked for now.
func (c *Case) forgetImplied(finding, epoch int) {
	for i := len(c.Looks) - 1; i >= 0; i-- {
		if o := c.Evidence.Seen[i]; c.Looks[i].Implied && o.Finding == finding && o.Epoch == epoch {
			c.Looks = slices.Delete(c.Looks, i, i+1)
			c.Evidence.Seen = slices.Delete(c.Evidence.Seen, i, i+1)
		}
	}
}

// lookedFor tells whether there is an observation of the finding in the epoch.
func (c *Case) lookedFor(finding, epoch int) bool {
	return slices.ContainsFunc(c.Evidence.Seen, func(o belief.Observation) bool { return o.Finding == finding && o.Epoch == epoch })
}

// epochBefore is the epoch that the repair of event before ended, or the
// present one if that is 0 or no longer counts.
func (c *Case) epochBefore(before int) int {
	for k, event := range c.Acts {
		if event == before {
			return k
		}
	}
	return len(c.Evidence.Acts)
}

func (c *Case) ignore(format string, args ...any) {
	if c.Model != nil {
		c.Ignored = append(c.Ignored, fmt.Sprintf(format, args...))
	}
}

func (c *Case) check(e Event, p Checked, entry *Entry) {
	from := "check"
	entry.Minutes = p.Minutes
	if k, ok := c.names.checks[p.Check]; ok {
		x := &c.Model.Checks[k]
		from = x.Title
		c.Checks[k]++
		if p.Before == 0 {
			c.goTo(x.Access, x.Live, entry)
		}
	} else {
		c.ignore("event %d: no check called %q", e.Seq, clip(p.Check))
	}
	c.look(e, from, p.Values, p.Before)
}

// goTo opens or closes the device as a step at that level needs.
func (c *Case) goTo(level int, live bool, entry *Entry) {
	at, minutes := reach(c.Model, c.Access, level, live)
	entry.Minutes += minutes
	c.Access, c.been[level] = at, true
}

func (c *Case) openUp(p OpenedUp, entry *Entry) {
	entry.Minutes = p.Minutes
	if l, ok := c.names.access[p.Access]; ok {
		c.Access = l
	} else {
		c.ignore("event %d: no way of opening it called %q", entry.Event, clip(p.Access))
	}
}

func (c *Case) repair(e Event, p Repaired, entry *Entry) {
	entry.Money, entry.Minutes = p.Money, p.Minutes
	act := belief.Act{Repair: -1}
	if r, ok := c.names.repairs[p.Repair]; ok {
		act.Repair = r
		c.Repairs[r]++
		delete(c.AtHand, r)
		c.goTo(c.Model.Repairs[r].Access, c.Model.Repairs[r].Live, entry)
	} else if p.Repair != "" {
		c.ignore("event %d: no repair called %q", e.Seq, clip(p.Repair))
	}
	c.Evidence.Acts = append(c.Evidence.Acts, act)
	c.Acts = append(c.Acts, e.Seq)
	c.Pending, c.Works = true, false
}

// test takes a trial of the whole. That it works says that nothing it came with, or
// has shown since, is there any more; and that nothing else shows that would show
// whenever it is on. Nobody looked for the latter one by one, so those looks are
// marked as implied. Of what comes and goes and was never seen it says nothing.
func (c *Case) test(e Event, p Tested, entry *Entry) {
	entry.Minutes = p.Minutes
	c.Pending, c.Works = false, p.Works
	c.trials = append(c.trials, trial{e.Seq, len(c.Evidence.Acts), p.Works})
	if c.Model == nil {
		return
	}
	if !p.Open {
		at := trialLevel(c.Model, c.Access, c.Settings.shut())
		entry.Minutes += travel(c.Model, c.Access, at)
		c.Access = at
	}
	if p.Works {
		showed := c.showed()
		for _, f := range c.gone(p, showed) {
			n := len(c.Looks)
			c.lookAt(e, "tested", Value{Finding: c.Model.Findings[f].ID, Shows: new(int)}, len(c.Evidence.Acts))
			for i := n; i < len(c.Looks); i++ {
				c.Looks[i].Implied = !showed[f]
			}
		}
	}
	c.look(e, "tested", p.Values, 0)
}

// gone lists the symptoms that a trial in which the whole worked denies besides
// those it names: what has shown before, and what would show whenever it is on.
func (c *Case) gone(p Tested, showed map[int]bool) (findings []int) {
	for i := range c.Model.Findings {
		f := &c.Model.Findings[i]
		named := slices.ContainsFunc(p.Values, func(v Value) bool { return v.Finding == f.ID })
		if f.Check < 0 && f.Kind == note.Sign && !named && (showed[i] || !f.Comes) {
			findings = append(findings, i)
		}
	}
	return findings
}

// close ends the case; what is fixed is put together first.
func (c *Case) close(e Event, p ClosedCase, entry *Entry) {
	c.Closed, c.ClosedAt = &p, e.At
	if p.Verdict == Fixed && c.Model != nil {
		entry.Minutes = travel(c.Model, c.Access, 0)
		c.Access = 0
	}
}

// showed tells the signs that were seen at least once, in any epoch.
func (c *Case) showed() map[int]bool {
	out := map[int]bool{}
	for _, o := range c.Evidence.Seen {
		if c.Model.Findings[o.Finding].Kind == note.Sign && o.Value > 0 {
			out[o.Finding] = true
		}
	}
	return out
}

func (c *Case) order(e Event, p Ordered, entry *Entry) {
	entry.Money = p.Money
	c.orders[e.Seq] = p
	c.Orders = append(c.Orders, e.Seq)
	for _, id := range p.Repairs {
		if _, ok := c.names.repairs[id]; !ok {
			c.ignore("event %d: no repair called %q", e.Seq, clip(id))
		}
	}
	if p.Here {
		c.arrive(Arrived{Order: e.Seq})
	}
}

func (c *Case) arrive(p Arrived) {
	for i, o := range c.Orders {
		if o != p.Order {
			continue
		}
		c.Orders = append(c.Orders[:i:i], c.Orders[i+1:]...)
		for _, id := range c.orders[o].Repairs {
			if r, ok := c.names.repairs[id]; ok {
				c.AtHand[r] = true
			}
		}
		return
	}
}
