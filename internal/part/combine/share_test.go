package combine_test

import (
	"testing"

	"fettler/internal/part/combine"
)

// Which part carries how much, by the laws of Kirchhoff and Ohm: of 1 and 3 the ratings differ, so
// that it shows which of the two was taken for the other. In parallel the smaller resistor takes ¾ of the
// power (P = U²/R) and the smaller inductor ¾ of the change of current (U = L·di/dt); in series the
// larger resistor ¾ of the power and the smaller capacitor ¾ of the voltage (Q = C·U).
func TestWhoCarriesHowMuch(t *testing.T) {
	for name, c := range map[string]struct {
		e            combine.Element
		whole        float64
		small, large float64 // shares of the parts of 1 and 3
		rating       float64 // of the whole, with 6 on the small and 2 on the large one
	}{
		"resistors in series":    {combine.Resistors, 4, 0.25, 0.75, 2 / 0.75},
		"resistors in parallel":  {combine.Resistors, 0.75, 0.75, 0.25, 8},
		"capacitors in series":   {combine.Capacitors, 0.75, 0.75, 0.25, 8},
		"capacitors in parallel": {combine.Capacitors, 4, 1, 1, 2},
		"inductors in series":    {combine.Inductors, 4, 1, 1, 2},
		"inductors in parallel":  {combine.Inductors, 0.75, 0.75, 0.25, 8},
	} {
		n := find(t, c.e, c.whole, 0, combine.Stock{Value: 1, Rating: 6, Count: 1}, combine.Stock{Value: 3, Rating: 2, Count: 1})
		if len(n.Parts) != 2 || !near(n.Rating, c.rating) {
			t.Errorf("%s: %+v, want %g in all", name, n, c.rating)
		}
		for _, p := range n.Parts {
			if want := [2]float64{c.small, c.large}[p.Stock]; !near(p.Share, want) {
				t.Errorf("%s: part %d has %g, want %g", name, p.Stock, p.Share, want)
			}
		}
	}
}

// The tolerance of the whole by error propagation, √Σ(share·tolerance)²: 300 Ω of 1 % in series with
// 100 Ω of 20 % is within √((¾·1 %)² + (¼·20 %)²) = 5.056 %.
func TestToleranceByShare(t *testing.T) {
	n := find(t, combine.Resistors, 400, 0, combine.Stock{Value: 300, Tolerance: 0.01, Count: 1}, combine.Stock{Value: 100, Tolerance: 0.2, Count: 1})
	if n.RMS < 0.05055 || n.RMS > 0.05057 || !near(n.Low, 377) || !near(n.High, 423) {
		t.Errorf("±%g, %g to %g", n.RMS, n.Low, n.High)
	}
}
