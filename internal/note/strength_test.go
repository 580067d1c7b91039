package note_test

import (
	"context"
	"testing"

	"fettler/internal/note"
)

// Records move the classes seven tenths of the way if nobody says how far; beyond 1 there
// is no further to go.
func TestUsualStrength(t *testing.T) {
	mix := func(string) map[note.Class]float64 {
		out := map[note.Class]float64{}
		for i, c := range note.Classes() {
			out[c] = float64(1 + i)
		}
		return out
	}
	odds := func(strength float64) []float64 {
		lib, err := note.Settings{Mix: mix, Strength: strength}.Load(context.Background(), docNotes(t))
		if lib == nil {
			t.Fatal(err)
		}
		var out []float64
		for _, d := range lib.Devices() {
			m, err := lib.Model(d.ID)
			if err != nil {
				continue
			}
			for _, x := range m.Modes {
				out = append(out, x.Odds)
			}
		}
		return out
	}
	same := func(a, b []float64) bool {
		for i := range a {
			if a[i] != b[i] {
				return false
			}
		}
		return len(a) == len(b) && len(a) > 0
	}
	if !same(odds(0), odds(0.7)) || same(odds(0.7), odds(0.6)) || !same(odds(1), odds(3)) {
		t.Errorf("usually %v, at 0.7 %v, at 0.6 %v, at 1 %v, at 3 %v", odds(0), odds(0.7), odds(0.6), odds(1), odds(3))
	}
}
