package part_test

import (
	"strings"
	"testing"

	"fettler/internal/part"
)

func TestParseKind(t *testing.T) {
	for _, k := range part.Kinds() {
		got, err := part.ParseKind(" " + strings.ToUpper(string(k)))
		if err != nil || got != k || !k.Known() {
			t.Errorf("%s: %s, %v", k, got, err)
		}
	}
	_, err := part.ParseKind("flux capacitor")
	if err == nil || !strings.Contains(err.Error(), "ceramic capacitor") {
		t.Errorf("the error does not say what is known: %v", err)
	}
}

// The parts that stand between mains and person or fire (common practice, no source).
func TestSafetyCritical(t *testing.T) {
	want := map[part.Kind]bool{part.Suppression: true, part.FusibleResistor: true, part.Fuse: true, part.ThermalFuse: true, part.Varistor: true}
	for _, k := range part.Kinds() {
		if k.SafetyCritical() != want[k] {
			t.Errorf("%s: %v", k, k.SafetyCritical())
		}
	}
}

func TestSourceSaysItsMark(t *testing.T) {
	s := part.Source{Text: "IEC 60127-1", Mark: part.Memory}
	if got := s.String(); got != "IEC 60127-1 (from memory; check before relying on it)" {
		t.Error(got)
	}
	if got := (part.Source{Mark: part.Practice}).String(); got != "common practice, no source" {
		t.Error(got)
	}
}
