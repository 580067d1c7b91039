package casework_test

import (
	"slices"
	"testing"

	"fettler/internal/casework"
)

// What is said not to be here is not asked for again at that case, and hands and eyes always are.
func TestLack(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	before := view(t, b, id)
	at := slices.IndexFunc(before.Ranking, func(c casework.Card) bool { return len(c.Tools()) > 0 && c.Blocked == "" })
	if at < 0 {
		t.Fatal("no move needs a tool")
	}
	tool := before.Ranking[at].Tools()[0]
	for range 2 {
		ok[casework.Receipt](t)(b.Lack(ctx, id, tool, casework.By{}))
	}
	v := view(t, b, id)
	if !slices.Equal(v.Settings.Lacks, []string{tool}) {
		t.Errorf("lacking: %q, want %q alone", v.Settings.Lacks, tool)
	}
	for _, c := range v.Ranking {
		if slices.Contains(c.Tools(), tool) && c.Blocked == "" {
			t.Errorf("%q takes the %s that is not here", c.Title, tool)
		}
		for _, s := range []string{"eyes", "nose", "ears", "hands"} {
			if slices.Contains(c.Tools(), s) {
				t.Errorf("%q counts %s as a tool", c.Title, s)
			}
		}
	}
}
