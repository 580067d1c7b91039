package library_test

import (
	"context"
	"slices"
	"testing"

	"fettler/internal/note"
	"fettler/internal/words"
	"fettler/library"
)

// Sentences as they are typed at a repair evening, read with the symptoms of the
// shipped notes. Each must be read as what is stated, and as nothing else stated.
// The sentences are made up for this test: common practice, no source.
func TestSpoken(t *testing.T) {
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		device, text string
		stated       []string
	}{
		{"hifi-amplifier", "no light no sound completely dead", []string{"dead"}},
		{"hifi-amplifier", "no output and the display is dark", []string{"silent", "front-bad"}},
		{"powered-loudspeaker", "no light no sound completely dead", []string{"dead"}},
		{"bench-supply", "no output and the display is dark", []string{"no-output", "meter"}},
		{"flat-panel-display-led", "no light no sound completely dead", []string{"dead"}},
		{"flat-panel-display-led", "no picture no sound no light", []string{"dead"}},
		{"kettle", "no light no sound", []string{"dead"}},
		{"kettle", "no light no heat nothing", []string{"dead"}},
		{"kettle", "my husband changed the fuse and still nothing", []string{"dead"}},
		{"kettle", "light comes on but water stays cold", []string{"light-no-heat"}},
		{"kettle", "leaks from the bottom since i dropped it", []string{"base.leaks"}},
		{"kettle", "it wont click off when it boils", []string{"base.keeps-boiling"}},
		{"toaster", "no heat no light completely dead", []string{"dead"}},
		{"toaster", "lever doesnt stay down anymore", []string{"lever-up"}},
		{"toaster", "only one side toasts", []string{"one-side"}},
		{"vacuum-mains", "my hoover has lost suction", []string{"airway.no-suction"}},
		{"vacuum-mains", "no sound no nothing completely dead", []string{"dead"}},
		{"vacuum-mains", "no suction and it smells of burning", []string{"airway.no-suction", "burnt-smell"}},
		{"vacuum-mains", "brush doesnt turn but it sucks ok", []string{"brush-still"}},
		{"vacuum-mains", "motor cuts out after ten mins when its hot", []string{"cuts-out"}},
		{"washing-machine", "no lights no sound dead", []string{"dead"}},
		{"washing-machine", "wont drain and door wont open", []string{"no-drain"}},
		{"hair-dryer", "no heat only cold air", []string{"no-heat"}},
		{"laptop", "screen is black but you can hear the fan", []string{"black"}},
		{"bread-maker", "no display no sound completely dead", []string{"dead"}},
		{"bread-maker", "paddle doesnt turn", []string{"no-knead"}},
		{"sewing-machine-electronic", "light comes on but the needle doesnt move", []string{"works.needle-still"}},
		{"coffee-maker-filter", "no light no sound nothing", []string{"dead"}},
		{"microwave-oven", "runs but doesnt heat", []string{"micro.no-heat"}},
		{"portable-radio", "no sound no light completely dead", []string{"dead"}},
		{"dab-radio", "no sound and the display is dark", []string{"silent", "display"}},
		{"sewing-machine-mechanical", "skips stitches, breaks needles", []string{"works.skips"}},
		{"sewing-machine-mechanical", "jammed while sewing thick denim, since then it does not make stitches", []string{"works.since-jam", "works.skips"}},
		{"cordless-vacuum", "stops after ten seconds, light flashes red", []string{"cuts-out", "warns"}},
		{"desk-lamp-led", "flickers and goes out when the arm is moved", []string{"led.flickers", "led.moves-light"}},
		{"record-player", "platter turns but no sound", []string{"silent"}},
	} {
		m, err := lib.Model(c.device)
		if err != nil {
			t.Errorf("%s: %v", c.device, err)
			continue
		}
		var entries []words.Entry
		for i := range m.Findings {
			if f := &m.Findings[i]; f.Check < 0 && f.Kind == note.Sign {
				entries = append(entries, words.Entry{ID: f.ID, Title: f.Title, Phrases: f.Says})
			}
		}
		x, err := words.NewIndex(entries)
		if err != nil {
			t.Errorf("%s: %v", c.device, err)
			continue
		}
		var got []string
		for _, r := range x.Read(c.text).Matches {
			if !r.Denied {
				got = append(got, r.ID)
			}
		}
		slices.Sort(got)
		want := slices.Sorted(slices.Values(c.stated))
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q is read as %v, want %v", c.device, c.text, got, want)
		}
	}
}
