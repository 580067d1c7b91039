package cli_test

import (
	"strings"
	"testing"
	"time"
)

// What happened when is told by the clock on the wall of the bench; JSON has UTC.
func TestTimesAreThoseOfTheBench(t *testing.T) {
	was := time.Local
	t.Cleanup(func() { time.Local = was })
	time.Local = time.FixedZone("", 5*3600+45*60) // no other clock shows these minutes
	b := newBench(t)
	b.must("take-in", "bread maker", "--says", "does not heat")
	shown := b.must("show")
	if now := time.Now(); !strings.Contains(shown, now.Format("2006-01-02 15:")) && !strings.Contains(shown, now.Add(-time.Minute).Format("2006-01-02 15:")) {
		t.Errorf("it is %v, and it says\n%s", now, shown)
	}
	if strings.Contains(b.must("show", "--json"), "+05:45") {
		t.Error("JSON has local times")
	}
}
