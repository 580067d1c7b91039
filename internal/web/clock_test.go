package web_test

import (
	"net/http"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// How long the present run is stands on the page of a soak as on a clock, also without the script.
func TestTheClockOfASoak(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2024, 3, 9, 18, 0, 0, 0, time.UTC)
	b := casework.New(memory.New(), lib, casework.Options{Now: func() time.Time { return at }})
	v := visitBench(t, b, web.Options{Notes: lib})
	must := func(r casework.Receipt, err error) string {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r.Case
	}
	id := must(b.Open(t.Context(), casework.Opening{Category: "Toaster", Label: "toaster"}))
	must(b.RecordRepair(t.Context(), id, casework.Repairing{What: "bent the latch"}))
	must(b.RecordTest(t.Context(), id, casework.Testing{Works: true}))
	must(b.PlanSoak(t.Context(), id, casework.SoakPlanning{SoakPlanned: casework.SoakPlanned{SoakHistory: casework.SoakHistory{Pattern: "on average", EveryMin: 600}}}))
	must(b.RecordSoak(t.Context(), id, casework.Soaking{What: "started"}))
	began := at
	for _, c := range []struct {
		after time.Duration
		want  string
	}{
		{0, "0:00:00"}, {4 * time.Second, "0:00:04"}, {10 * time.Second, "0:00:10"}, {70 * time.Second, "0:01:10"}, {59*time.Minute + 59*time.Second, "0:59:59"},
		{time.Hour, "1:00:00"}, {26*time.Hour + 5*time.Minute + 30*time.Second, "26:05:30"},
	} {
		at = began.Add(c.after)
		v.get("/case/"+id+"/soak").want(http.StatusOK).says("[data-clock]", c.want)
	}
}
