package marking_test

import (
	"strings"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/marking"
)

// EIA-198-1 (from memory): letter, figure and letter are the lower limit, the upper limit and the
// change of capacitance between them; class 1 has 0 ±30 ppm/K.
func TestDielectricsInWords(t *testing.T) {
	for code, want := range map[string]string{
		"X7R": "-55 to +125 °C, capacitance changes by ±15 %", "X5R": "-55 to +85 °C, capacitance changes by ±15 %", "X6S": "-55 to +105 °C, capacitance changes by ±22 %",
		"X7T": "-55 to +125 °C, capacitance changes by +22 −33 %", "Y5V": "-30 to +85 °C, capacitance changes by +22 −82 %", "Z5U": "10 to +85 °C, capacitance changes by +22 −56 %",
		"X8R": "-55 to +150 °C, capacitance changes by ±15 %", "Z4P": "10 to +65 °C, capacitance changes by ±10 %",
		"C0G": "class 1, -55 to +125 °C, 0 ±30 ppm/K", "NP0": "class 1, -55 to +125 °C, 0 ±30 ppm/K",
	} {
		rs, err := marking.Read(code, marking.Hint{})
		if err != nil {
			t.Errorf("%s: %v", code, err)
			continue
		}
		got := ""
		for _, r := range rs {
			if r.Kind == part.Ceramic {
				got += r.Text + "\n"
			}
		}
		if !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
}
