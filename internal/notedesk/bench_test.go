package notedesk_test

import (
	"testing"

	"fettler/internal/notedesk"
	"fettler/library"
	"io/fs"
)

// BenchmarkTry looks at the largest shipped note as a draft: a reading of the library's heads and one composition.
func BenchmarkTry(b *testing.B) {
	d, err := notedesk.Open(b.Context(), "")
	if err != nil {
		b.Fatal(err)
	}
	text, err := fs.ReadFile(library.Notes(), "devices/powered-loudspeaker.yaml")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if x, err := d.Try(b.Context(), text); err != nil || x.Model == nil {
			b.Fatal(err)
		}
	}
}
