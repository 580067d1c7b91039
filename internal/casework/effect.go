package casework

import (
	"encoding/json"

	"fettler/internal/journal"
	"fettler/internal/shelf"
)

// An effect is what has become of one event: its payload after corrections, and
// whether it still counts.
type effect struct {
	data   json.RawMessage
	was    []json.RawMessage // payloads before, oldest first
	void   bool
	voidBy int
}

// effects reads the journal backwards for what was undone, since an undoing may
// itself be undone later, then forwards for corrections that count. The opening
// cannot be undone.
func effects(events []Event) []effect {
	out := make([]effect, len(events))
	for i := len(events) - 1; i >= 0; i-- {
		out[i].data = events[i].Data
		if events[i].Kind != KindUndone || out[i].void {
			continue
		}
		p, err := decode[Undone](events[i], events[i].Data)
		if err == nil && p.Event >= 1 && p.Event <= i && events[p.Event-1].Kind != KindOpened {
			out[p.Event-1].void, out[p.Event-1].voidBy = true, i+1
		}
	}
	for i, e := range events {
		if e.Kind != KindCorrected || out[i].void {
			continue
		}
		p, err := decode[Corrected](e, e.Data)
		if err == nil && p.Event >= 1 && p.Event <= i && amendable(events[p.Event-1].Kind) {
			t := &out[p.Event-1]
			t.was = append(t.was, t.data)
			t.data = p.Data
		}
	}
	return out
}

// amendable tells the kinds whose payload can be corrected.
func amendable(k Kind) bool {
	switch k {
	case KindCorrected, KindUndone, KindReopened, shelf.KindStocked, shelf.KindMoved, shelf.KindUsed, shelf.KindCounted, shelf.KindRenamed:
		return false
	}
	return known(k)
}

func known(k Kind) bool {
	switch k {
	case KindOpened, KindSaid, KindNoticed, KindChecked, KindOpenedUp, KindRepaired, KindTested, KindOrdered, KindArrived,
		KindRemarked, KindPhotographed, KindCorrected, KindUndone, KindSettled, KindClosed, KindReopened:
		return true
	}
	return reworkKind(k) || proofKind(k) || shareKind(k) || shelf.IsKind(k) || k == KindOffered
}

// decode reads a payload. Fields it does not know stay in the event untouched.
func decode[T any](e Event, data json.RawMessage) (T, error) {
	return journal.Decode[T](e, data)
}

func with[T any](e Event, data json.RawMessage, do func(T)) error {
	p, err := decode[T](e, data)
	if err != nil {
		return err
	}
	do(p)
	return nil
}
