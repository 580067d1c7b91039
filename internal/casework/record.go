package casework

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"fettler/internal/journal"
)

// retries bounds how often a deed is put to a case that keeps moving.
const retries = 10

// record puts a deed to the case as it is now and appends its event. If another
// writer was faster, the deed is put to the case as it has become, provided that
// nothing it rests on has changed.
func (b *Bench) record(ctx context.Context, caseID string, d Deed) (Receipt, error) {
	if _, settling := d.(Settling); caseID == BenchCase && !settling {
		return Receipt{}, fail(NotFound, "name a case", "this belongs to a case")
	}
	return b.write(ctx, caseID, d.by(), func(c *Case, _ []Event) (Kind, any, error) {
		return d.draft(ctx, scene{b, c})
	}, exact(d))
}

// exact tells the deeds that are only right for the very case one saw.
func exact(d Deed) bool {
	_, closing := d.(Closing)
	return closing
}

// write appends the event that draft makes of the case. With strict, any event
// since the one last seen is a conflict.
func (b *Bench) write(ctx context.Context, caseID string, by By, draft func(*Case, []Event) (Kind, any, error), strict bool) (Receipt, error) {
	who, err := oneLine(by.Who, "the name")
	if err != nil {
		return Receipt{}, err
	}
	seen := by.Seen
	for range retries {
		bench, events, err := b.read(ctx, caseID)
		if err != nil {
			return Receipt{}, err
		}
		c, err := b.project(bench, events)
		if err != nil {
			return Receipt{}, err
		}
		if seen > 0 || by.Seen > 0 {
			if err := b.stillHolds(bench, events, c, seen, strict); err != nil {
				return Receipt{}, err
			}
		}
		seen = max(seen, len(events))
		kind, p, err := draft(c, events)
		if err != nil {
			return Receipt{}, err
		}
		e, err := b.event(caseID, len(events)+1, who, kind, p)
		if err != nil {
			return Receipt{}, err
		}
		err = b.journal.Append(ctx, caseID, len(events), e)
		var late *journal.Conflict
		switch {
		case err == nil:
			return Receipt{Case: caseID, Seq: e.Seq}, nil
		case !errors.As(err, &late):
			return Receipt{}, storeError(err)
		}
	}
	return Receipt{}, fail(Changed, "try again in a moment", "others keep writing to this case")
}

// stillHolds says whether what was decided at event seen may still be written.
func (b *Bench) stillHolds(bench, events []Event, c *Case, seen int, strict bool) error {
	if seen == len(events) {
		return nil
	}
	if seen > len(events) {
		return fail(Changed, "look at it again, then decide", "event %d cannot have been seen: the last here is event %d, so it was another case, or the journal was put back from a copy", seen, len(events))
	}
	changed := fail(Changed, "look at it again, then decide", "somebody else has written to this case meanwhile")
	if strict {
		return changed
	}
	then, err := b.project(bench, events[:seen])
	if err != nil {
		return err
	}
	if !slices.Equal(then.Acts, c.Acts) || (then.Closed == nil) != (c.Closed == nil) || then.Opened.Device != c.Opened.Device {
		return changed
	}
	return nil
}

// event makes an event now.
func (b *Bench) event(caseID string, seq int, who string, kind Kind, payload any) (Event, error) {
	data, err := json.Marshal(payload)
	if err != nil {
		return Event{}, &Error{Code: BadInput, Text: "this cannot be written down", Next: "check the figures", Err: err}
	}
	return Event{Case: caseID, Seq: seq, At: b.now().UTC().Truncate(time.Microsecond), Kind: kind, Who: who, Version: payloadVersion, Data: data}, nil
}

// read returns the bench's events and those of a case, which must exist.
func (b *Bench) read(ctx context.Context, caseID string) (bench, events []Event, err error) {
	if bench, err = b.events(ctx, BenchCase); err != nil {
		return nil, nil, err
	}
	if err := b.study(ctx, bench); err != nil {
		return nil, nil, err
	}
	if caseID == BenchCase {
		return nil, bench, nil
	}
	if events, err = b.events(ctx, caseID); err != nil {
		return nil, nil, err
	}
	if len(events) == 0 {
		return nil, nil, fail(NotFound, "look at the list of cases", "there is no case %q", clip(caseID))
	}
	return bench, events, nil
}

func (b *Bench) events(ctx context.Context, caseID string) ([]Event, error) {
	if caseID == BenchCase {
		return b.benchEvents(ctx)
	}
	events, err := b.journal.Events(ctx, caseID, 0)
	if err != nil {
		return nil, storeError(err)
	}
	return events, nil
}

func storeError(err error) error { return journal.Failed(err) }

// load projects a case.
func (b *Bench) load(ctx context.Context, caseID string) (*Case, error) {
	bench, events, err := b.read(ctx, caseID)
	if err != nil {
		return nil, err
	}
	return b.project(bench, events)
}

// project projects events with the model of their device.
func (b *Bench) project(bench, events []Event) (*Case, error) {
	id, err := DeviceOf(events)
	if err != nil {
		return nil, err
	}
	k := b.knowledge(id)
	if k == nil {
		return project(nil, namesOf(nil), bench, events)
	}
	c, err := project(k.m, k.names, bench, events)
	if err != nil {
		return nil, err
	}
	return c, b.shelve(c, bench)
}
