package heat_test

import (
	"math"
	"testing"
)

// The air that heats the board, as the model in jet.go has it: mixed with the room's beyond six
// nozzle diameters of way and again along the board, and cooled by what it has given off, half of the transfer
// units ∫2πr·h·mixed/(ṁc) dr to the place. The integral is done here by itself, in finer steps.
func TestJetAir(t *testing.T) {
	for _, c := range []struct{ d, distance float64 }{{5, 15}, {5, 30}, {5, 60}, {8, 10}} {
		j := jet(t, c.d, c.distance, 20)
		mixed := func(r float64) float64 { return 1 / math.Sqrt(1+math.Pow(r/(2.5*c.d), 2)) }
		excess := 330 * math.Min(1, 6*c.d/c.distance) // 350 °C in a room of 20 °C
		ntu, at := 0.0, 0.0
		const dr = 0.01 // mm
		for _, r := range []float64{0, 5, 12, 30} {
			for ; at < r-dr/2; at += dr {
				mid := at + dr/2
				ntu += 2 * math.Pi * mid / 1000 * j.H(mid) * mixed(mid) / j.Capacity * dr / 1000
			}
			if got, want := j.Air(r), 20+excess*mixed(r)*math.Exp(-ntu/2); math.Abs(got-want) > 0.5 {
				t.Errorf("%g mm nozzle %g mm off, at %g mm: %.1f °C, want %.1f", c.d, c.distance, r, got, want)
			}
		}
	}
}
