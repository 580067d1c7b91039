package casework

import "testing"

func TestContradicts(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"completely dead, not even a standby light", "standby light on or blinking, but it does not start", true},
		{"dead, no display", "display lives, start does nothing", true},
		{"no light, no sound, no heat", "light comes on and stays on, yet nothing gets warm", true},
		{"no light, no sound, no heat", "the light stays dark", false},
		{"no light, no sound, no heat", "leaks", false},
		{"no sound from the left side at all", "sound cuts out", false}, // of one side only
		{"no sound", "no sound", false},
		{"hums", "crackles", false},
		{"", "", false},
	} {
		if got := contradicts(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}
