package casework_test

import (
	"strings"
	"testing"

	"fettler/internal/casework"
)

// What a part would not last with is not warned of any more once that has been mended.
func TestNoWarningOfWhatWasMended(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: answers("dead", "yes", "smell", "yes")},
		casework.Checking{Check: "supply.bridge", Answers: answers("supply.bridge.bridge", "one shorted")},
		casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "as marked")})
	ofBridge := func() bool {
		for _, w := range view(t, b, id).Warnings {
			if w.Repair == "supply.new-fuse" && strings.Contains(w.Mode, "bridge") {
				return true
			}
		}
		return false
	}
	if !ofBridge() {
		t.Fatalf("no warning of the bridge before it is replaced: %+v", view(t, b, id).Warnings)
	}
	for _, r := range []string{"supply.new-bridge", "supply.new-fuse"} {
		ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: r}))
		if ofBridge() {
			t.Errorf("after %s still warned of the bridge: %+v", r, view(t, b, id).Warnings)
		}
	}
}

// Where it works though nothing was done that is known to cure it, the figure is high and says why.
func TestStillThereSaysWhy(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")}, casework.Repairing{What: "pushed everything home"}, casework.Testing{Works: true})
	if v := soakOf(t, b, id); v.Still < 0.5 || !strings.Contains(v.StillFrom, "nothing was done") {
		t.Errorf("after nothing that cures it: %g, %s", v.Still, v.StillFrom)
	}
	id = loudspeaker(t, b, casework.Noticing{Answers: yes("hums")}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true})
	if v := soakOf(t, b, id); v.Still > 0.5 || strings.Contains(v.StillFrom, "nothing was done") {
		t.Errorf("after the right repair: %g, %s", v.Still, v.StillFrom)
	}
}
