package casework_test

import (
	"strings"
	"testing"

	"fettler/internal/casework"
)

// An account tells what was done in order, why, and what it changed; what was
// undone is not told, nor what anybody said unless asked for.
func TestAccount(t *testing.T) {
	b, _ := newBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Label: "Griselda's", By: casework.By{Who: "Ada"}},
		casework.Noticing{Answers: yes("dead")}, casework.Noticing{Answers: no("smell")}, casework.Remarking{Text: "a secret"},
		casework.Checking{Check: "supply.bridge", Answers: answers("supply.bridge.bridge", "one shorted")})).Case
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.look", Answers: no("supply.look.bulged")}))
	ok[casework.Receipt](t)(b.Undo(ctx, id, 0, casework.By{}))
	bridge := ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.new-bridge"})).Seq
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.new-fuse"}))
	ok[casework.Receipt](t)(b.RecordTest(ctx, id, casework.Testing{Works: true}))
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.bridge", Answers: answers("supply.bridge.bridge", "one shorted"), Before: bridge}))
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.Fixed, Remark: "told Griselda"}))

	a := ok[*casework.Account](t)(b.Account(ctx, id, casework.Telling{}))
	var got []string
	for _, s := range a.Steps {
		got = append(got, s.Kind+" "+s.ID)
	}
	if want := "check supply.bridge; repair supply.new-bridge; repair supply.new-fuse; test ; check supply.bridge"; strings.Join(got, "; ") != want {
		t.Errorf("steps: %s, want %s", strings.Join(got, "; "), want)
	}
	first := a.Steps[0]
	if !strings.Contains(first.Why, "bridge rectifier short") || !strings.Contains(first.Meant, "bridge rectifier short: ") || strings.Join(first.Found, "") != "the diodes: one shorted" {
		t.Errorf("the first check: %+v", first)
	}
	if r := a.Steps[1]; len(r.Parts) != 1 || r.Money != 1.5 || !strings.Contains(r.Why, "it cures bridge rectifier short") {
		t.Errorf("the repair: %+v", r)
	}
	if last := a.Steps[4]; !last.Old || !strings.Contains(last.Why, "taken out") {
		t.Errorf("the test of the old part: %+v", last)
	}
	if strings.Join(a.Symptoms, "") != "completely dead" || strings.Join(a.NotThere, "") != "smells burnt" || len(a.Was) == 0 || a.Saved.Net != 68 || a.Kg != 7.5 {
		t.Errorf("account: %+v", a)
	}
	if a.Title != "Invented powered loudspeaker" || len(a.Words) > 0 || a.Remark != "" {
		t.Errorf("it tells more than asked for: %q %q %q", a.Title, a.Words, a.Remark)
	}
	full := ok[*casework.Account](t)(b.Account(ctx, id, casework.Telling{Label: true, Words: true}))
	if full.Title != "Griselda's" || strings.Join(full.Words, "") != "a secret" || full.Remark != "told Griselda" {
		t.Errorf("told in full: %q %q %q", full.Title, full.Words, full.Remark)
	}
}
