package report_test

import (
	"strings"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/report"
)

// A story tells the days as they were at the bench, not in UTC: an evening's repair on
// one side of the world is next day's in UTC, a morning's on the other the day before's.
func TestDaysAreThoseOfTheBench(t *testing.T) {
	was := time.Local
	t.Cleanup(func() { time.Local = was })
	evening := time.Date(2024, 3, 10, 2, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		hours int
		ended time.Time
		want  string
	}{
		{-8, evening.Add(time.Hour), "9 March 2024"},
		{-8, evening.Add(24 * time.Hour), "9 March 2024 to 10 March 2024"},
		{0, evening.Add(time.Hour), "10 March 2024"},
		{-8, time.Time{}, "9 March 2024"},
	} {
		time.Local = time.FixedZone("", c.hours*3600)
		s, err := report.New(ctx, &casework.Account{Title: "loudspeaker", Kind: "loudspeaker", Began: evening, Ended: c.ended}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(s.Facts, "; "); got != c.want {
			t.Errorf("%d hours from UTC, ended %v: %q, want %q", c.hours, c.ended, got, c.want)
		}
	}
}
