package shelf

import "testing"

// What does for a part by its name. The names are those of the notes, the judgements
// common practice, no source.
func TestWordsFit(t *testing.T) {
	for _, c := range []struct {
		item, line string
		want       bool
	}{
		{"plug fuse", "plug fuse 13 A", true}, {"plug fuse", "13 A plug fuses, BS 1362", true}, {"plug fuse", "Plug fuse", true},
		{"push-button", "push-button 6 x 6 mm", true}, {"micro switch", "micro switch 16 A with lever", true}, {"push-buttons", "push-button (tactile)", true},
		{"display", "display cable", false}, {"plug fuse", "fuse holder, plug", false}, {"belt", "belt set", false}, {"switch", "micro switch", false},
		{"fuse", "fuse 2 A", false}, {"MOSFET", "MOSFET 600 V", false}, {"loudspeaker 8 Ω", "loudspeaker 4 Ω", false}, {"loudspeaker 8 Ω", "loudspeaker 8 Ω 10 W", true},
	} {
		if got := wordsFit(c.item, c.line); got != c.want {
			t.Errorf("%q does for %q: %v, want %v", c.line, c.item, got, c.want)
		}
	}
}
