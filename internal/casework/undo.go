package casework

import (
	"context"
	"encoding/json"
	"fmt"
)

// Undo makes event seq no longer count; seq 0 is the latest that counts.
// Undoing an undone event's undoing brings it back.
func (b *Bench) Undo(ctx context.Context, caseID string, seq int, by By) (Receipt, error) {
	r, err := b.write(ctx, caseID, by, func(c *Case, events []Event) (Kind, any, error) {
		at, err := c.undoable(events, seq)
		return KindUndone, Undone{Event: at}, err
	}, seq == 0)
	if err == nil && caseID != BenchCase {
		err = b.thenShelf(ctx, r, "undoing", r.Seq, by)
	}
	return r, err
}

func (c *Case) undoable(events []Event, seq int) (int, error) {
	if seq == 0 {
		for i := len(c.Timeline) - 1; i >= 0; i-- {
			if e := c.Timeline[i]; e.CanUndo && e.Kind != KindUndone {
				return e.Event, nil
			}
		}
		return 0, fail(BadInput, "close the case if it was opened by mistake", "there is nothing left to undo")
	}
	if seq < 0 || seq > len(events) {
		return 0, fail(NotFound, fmt.Sprintf("take one from 1 to %d", len(events)), "this case has no event %d", seq)
	}
	e := c.Timeline[seq-1]
	switch {
	case e.CanUndo:
		return seq, nil
	case e.Void:
		return 0, fail(BadInput, fmt.Sprintf("undo event %d to bring it back", e.VoidBy), "event %d has been undone already", seq)
	}
	return 0, fail(BadInput, "close the case if it was opened by mistake, or correct what the opening says", "the opening of a case cannot be undone")
}

// Correct puts in in place of what event seq says; in must be of the sort that
// made the event. To correct the opening, use an Opening with the fields as they should be.
//
// The deed is checked against the case as it was just before that event, so a
// correction is as if it had been written down right in the first place.
func (b *Bench) Correct(ctx context.Context, caseID string, seq int, in Deed) (Receipt, error) {
	r, err := b.write(ctx, caseID, in.by(), func(c *Case, events []Event) (Kind, any, error) {
		if seq < 1 || seq > len(events) {
			return "", nil, fail(NotFound, fmt.Sprintf("take one from 1 to %d", len(events)), "this case has no event %d", seq)
		}
		e := c.Timeline[seq-1]
		if !e.CanAmend {
			return "", nil, fail(BadInput, "undo it instead, or write a remark", "event %d (%s) cannot be corrected", seq, e.Words)
		}
		then, err := b.before(ctx, caseID, events, seq)
		if err != nil {
			return "", nil, err
		}
		if d, repairing := in.(Repairing); repairing && e.Kind == KindRepaired {
			in = d.keeping(effects(events)[seq-1].data)
		}
		kind, p, err := in.draft(ctx, scene{b, then})
		if err != nil {
			return "", nil, err
		}
		if kind != e.Kind {
			return "", nil, fail(BadInput, "give a correction of the same sort, or undo it and record the right thing", "event %d is %q and cannot become %q", seq, e.Kind, kind)
		}
		if o, opening := p.(Opened); opening {
			o.Record = c.Opened.Record // where it was taken over from cannot be corrected
			p = o
		}
		if r, remark := p.(Remarked); remark && r.Private == nil {
			p = r.keeping(effects(events)[seq-1].data)
		}
		data, err := merge(effects(events)[seq-1].data, p)
		return KindCorrected, Corrected{Event: seq, Data: data}, err
	}, false)
	if err == nil && caseID != BenchCase {
		err = b.thenShelf(ctx, r, "correction", r.Seq, in.by())
	}
	return r, err
}

// before is the case as it was when event seq came, later corrections and
// undoings of earlier events taken into account.
func (b *Bench) before(ctx context.Context, caseID string, events []Event, seq int) (*Case, error) {
	var bench []Event
	if caseID != BenchCase {
		var err error
		if bench, err = b.events(ctx, BenchCase); err != nil {
			return nil, err
		}
	}
	past := make([]Event, 0, seq)
	for i, f := range effects(events)[:seq-1] {
		e := events[i]
		e.Data = f.data
		if f.void || !amendable(e.Kind) && e.Kind != KindReopened {
			e = nothing(e)
		}
		past = append(past, e)
	}
	return b.project(bench, past)
}

// nothing is an event in e's place that changes nothing.
func nothing(e Event) Event {
	e.Kind, e.Data = KindRemarked, json.RawMessage(`{"text":""}`)
	return e
}

// merge writes the new payload over the old one, so that fields a newer version
// wrote and this one does not know are kept.
func merge(old json.RawMessage, p any) (json.RawMessage, error) {
	fresh, err := json.Marshal(p)
	if err != nil {
		return nil, &Error{Code: BadInput, Text: "this cannot be written down", Next: "check the figures", Err: err}
	}
	var was, now map[string]json.RawMessage
	if json.Unmarshal(old, &was) != nil || json.Unmarshal(fresh, &now) != nil {
		return fresh, nil
	}
	for k := range fieldsOf(p) {
		delete(was, k)
	}
	if len(was) == 0 {
		return fresh, nil
	}
	for k, v := range now {
		was[k] = v
	}
	return json.Marshal(was)
}
