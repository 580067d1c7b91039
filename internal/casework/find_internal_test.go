package casework

import "testing"

// A word that some note has as it is written does not count as a slip for
// another note: "hoover" is no "hover".
func TestAlikeSpelt(t *testing.T) {
	one := func(string) float64 { return 1 }
	mower := []string{"mower", "hover"}
	for _, c := range []struct {
		name  string
		spelt map[string]bool
		want  float64
	}{
		{"no note has it", nil, slipped},
		{"some note has it", map[string]bool{"hoover": true}, 0},
	} {
		if got, _ := alike([]string{"hoover"}, mower, one, c.spelt); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
