package casework_test

import (
	"strings"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/openrepair"
	"fettler/internal/store/memory"
)

// The journal keeps UTC; a day is told as it was at the bench. Nine in the morning of the
// 10th is still the 9th in UTC, fourteen hours ahead (IANA time zone database, Pacific/Kiritimati).
func TestDaysAreThoseOfTheBench(t *testing.T) {
	b := casework.New(memory.New(), notes(t), casework.Options{Now: clock(), Zone: time.FixedZone("", 14*3600)})
	one, two := loudspeaker(t, b), loudspeaker(t, b)
	_, err := b.FindCase(ctx, "invented")
	if e, ok := err.(*casework.Error); !ok || len(e.Choices) != 2 || !strings.HasSuffix(e.Choices[0].About, "opened 2024-03-10") {
		t.Errorf("to choose from: %+v", err)
	}
	for _, l := range ok[[]casework.LabelText](t)(b.Labels(ctx, casework.LabelAsk{What: casework.LabelDevices, Text: one})) {
		if !strings.Contains(l.Words, "taken in 10 March 2024") {
			t.Errorf("the label says %q", l.Words)
		}
	}
	ok[casework.Receipt](t)(b.Close(ctx, two, casework.Closing{Verdict: casework.PassedOn}))
	if r := ok[[]openrepair.Record](t)(b.OpenRecords(ctx, casework.OpenData{})); len(r) != 1 || r[0].Date != "2024-03-10" {
		t.Errorf("records %+v", r)
	}
	if v := view(t, b, two); v.Header.Opened.Location() != time.UTC {
		t.Errorf("the moment itself is told in UTC, not as %v", v.Header.Opened)
	}
}
