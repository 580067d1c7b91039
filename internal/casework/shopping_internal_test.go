package casework

import "testing"

// Work is no part. The words are those of the notes, the judgements common practice, no source.
func TestServicesAreNoParts(t *testing.T) {
	for what, want := range map[string]bool{"repair by a trained person": true, "plug fuse": false, "used main board": false} {
		if service(what) != want {
			t.Errorf("%q is a service: %v", what, !want)
		}
	}
}
