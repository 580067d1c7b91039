package journal_test

import (
	"encoding/json"
	"strings"
	"testing"

	"fettler/internal/failure"
	"fettler/internal/journal"
)

func TestDecodeLeavesAloneWhatItDoesNotKnow(t *testing.T) {
	type moved struct{ Place string }
	e := journal.Event{Case: "hall-left", Seq: 4, Data: json.RawMessage(`{"place":"drawer 3","shade":"red"}`)}
	p, err := journal.Decode[moved](e, e.Data)
	if err != nil || p.Place != "drawer 3" || !strings.Contains(string(e.Data), "shade") {
		t.Errorf("%+v, %v, %s", p, err, e.Data)
	}
	_, err = journal.Decode[moved](e, json.RawMessage(`{"place":3}`))
	if failure.CodeOf(err) != failure.StoreFail || !strings.Contains(err.Error(), `event 4 of case "hall-left"`) {
		t.Error(err)
	}
}

func TestAConflictSaysHowFarTheCaseIs(t *testing.T) {
	if got := (&journal.Conflict{Case: "a", After: 1, Now: 2}).Error(); got != `case "a" has moved on from event 1 to event 2` {
		t.Error(got)
	}
}
