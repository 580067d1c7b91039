package casework_test

import (
	"testing"

	"fettler/internal/casework"
)

// What hums is not asked whether it is completely dead, and what is dead not whether it hums:
// with testdata/notes a fault that gives both at once is a hundred times rarer than either.
func TestWhatIsAnsweredIsNotAsked(t *testing.T) {
	b, _ := newBench(t)
	for said, not := range map[string]string{"hums": "dead", "dead": "hums"} {
		id := loudspeaker(t, b, casework.Noticing{Answers: yes(said)})
		for _, q := range view(t, b, id).Ask {
			if q.Finding == not {
				t.Errorf("of what is known to show %q it is asked: %s (%.3f yes, %.3f bits)", said, q.Ask, q.Yes, q.Bits)
			}
		}
	}
}
