package cli_test

import (
	"strings"
	"testing"

	"fettler/internal/cli"
)

// Closing as fixed asks for the test of the result where a repair was written down,
// refuses nobody who means it, and the case and its story say that it is missing.
func TestClosingWithoutATest(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "powered loudspeaker", "--id", "left", "--says", "it hums")
	b.must("repair", "supply.recap", "--meant")
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	if _, errs, exit := b.run("close", "left", "fixed"); exit != cli.Usage || !strings.Contains(flat(errs), "nothing shows that it holds") || !strings.Contains(errs, "fettler close left fixed --sure") {
		t.Errorf("not asked for the test: exit %d: %s", exit, errs)
	}
	out := flat(b.must("close", "left", "fixed", "--sure"))
	for _, want := range []string{"warning: not tested after the repair", "fettler reopen left, fettler test left works, fettler close left fixed"} {
		if !strings.Contains(out, want) {
			t.Errorf("closing does not say %q: %s", want, out)
		}
	}
	for _, args := range [][]string{{"story", "left"}, {"show", "left"}} {
		if out := b.must(args...); !strings.Contains(strings.ToLower(out), "not tested after the repair") {
			t.Errorf("fettler %q does not say so: %s", args, out)
		}
	}
	b.must("reopen", "left")
	b.must("test", "left", "works")
	if out := b.must("close", "left", "fixed") + b.must("story", "left"); strings.Contains(strings.ToLower(out), "not tested") {
		t.Errorf("tested, and yet: %s", out)
	}

	b.must("take-in", "kettle", "--id", "kettle")
	if out := flat(b.must("close", "kettle", "fixed")); !strings.Contains(out, "not tested: nothing written down shows that it works") {
		t.Errorf("nothing repaired and nothing tried: %s", out)
	}
	b.must("take-in", "kettle", "--id", "other")
	if out := b.must("close", "other", "passed-on"); strings.Contains(out, "not tested") {
		t.Errorf("passed on: %s", out)
	}
}
