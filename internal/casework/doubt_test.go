package casework_test

import (
	"strings"
	"testing"

	"fettler/internal/casework"
)

// What no hand meter shows, and what is ten times outside all that the note expects, is
// asked about and not written down; whoever is sure may write it down all the same.
// The last ranges of hand meters: common practice, no source.
func TestAReadingHardToBelieve(t *testing.T) {
	for _, c := range []struct{ reading, asks string }{
		{"99999 V", "hand meter shows 1 kV at most"},
		{"600 V", "lets expect 30 to 42 V"},
		{"-38 V", "the other way round"},
		{"38 V", ""}, {"55 V", ""}, {"0 V", ""}, {"overload", ""}, {"38000 mV", ""},
	} {
		b, _ := newBench(t)
		id := loudspeaker(t, b)
		in := casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", c.reading)}
		_, err := b.RecordCheck(ctx, id, in)
		if (c.asks == "") != (err == nil) {
			t.Errorf("%s: %v", c.reading, err)
			continue
		}
		if err == nil {
			continue
		}
		if casework.CodeOf(err) != casework.Doubtful || !strings.Contains(err.Error(), c.asks) || !strings.Contains(err.Error(), c.reading) {
			t.Errorf("%s: %v", c.reading, err)
		}
		if v := view(t, b, id); v.Header.Seq != 1 {
			t.Errorf("%s was written down", c.reading)
		}
		in.Really = true
		if _, err := b.RecordCheck(ctx, id, in); err != nil {
			t.Errorf("%s, sure: %v", c.reading, err)
		}
	}
}
