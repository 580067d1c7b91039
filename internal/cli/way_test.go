package cli_test

import (
	"slices"
	"strings"
	"testing"

	"fettler/internal/cli"
	"fettler/internal/cli/shell"
)

// What the hint about which way round says can be typed as it stands, also where the
// part's name is of two words.
func TestTheHintAboutTheWayRoundCanBeTyped(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "battery charger", "--id", "charger")
	_, errs, exit := b.run("repair", "recap")
	flat := strings.Join(strings.Fields(errs), " ")
	_, hint, _ := strings.Cut(flat, "say it with ")
	typed, _, found := strings.Cut(hint, ", or with --meant")
	if exit != cli.Usage || !found || !strings.Contains(typed, `"electrolytic capacitors=up"`) {
		t.Fatalf("exit %d: %s", exit, errs)
	}
	words, err := shell.Split(strings.ReplaceAll(typed, " and ", " "))
	if err != nil {
		t.Fatal(err)
	}
	if out := b.must(slices.Concat([]string{"repair", "recap"}, words)...); !strings.Contains(out, "(charger)") {
		t.Errorf("it answers %s", out)
	}
}

// What fits one way only, a pack that clips in or a socket by its pins, is not asked about.
func TestWhatFitsOneWayIsNotAsked(t *testing.T) {
	for device, repair := range map[string]string{"cordless-vacuum": "pack.new-pack", "laptop": "inlet.new-socket"} {
		b := newBench(t)
		b.must("take-in", device)
		b.must("repair", repair)
	}
}
