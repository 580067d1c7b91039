package casework

import (
	"strings"
	"testing"

	"fettler/internal/note"
)

// A meter shows overload for ohms, but no thermometer for degrees and no power meter for watts.
func TestOverloadIsForMeters(t *testing.T) {
	for unit, want := range map[string]bool{"Ω": true, "V": true, "A": true, "F": true, "°C": false, "W": false, "": false} {
		v, err := readReading(&note.Finding{Title: "reading", Kind: note.Reading, Measure: unit}, "OL")
		if (err == nil) != want || want && v != overload || !want && CodeOf(err) != BadInput {
			t.Errorf("%q: %q, %v", unit, v, err)
		}
		if f := (Field{Kind: "reading", Unit: unit}); f.Overloads() != want {
			t.Errorf("%q is offered overload: %v", unit, f.Overloads())
		}
		if _, err := readReading(&note.Finding{Title: "reading", Kind: note.Reading, Measure: unit}, "lots"); err == nil || strings.Contains(err.(*Error).Next, "overload") != want {
			t.Errorf("%q: %v", unit, err)
		}
	}
}
