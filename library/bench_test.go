package library_test

import (
	"context"
	"os"
	"runtime"
	"testing"

	"fettler/internal/note"
	"fettler/library"
)

// BenchmarkStart is what a command does: read the heads, put one device together.
func BenchmarkStart(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		lib, _ := library.Load(context.Background())
		if _, err := lib.Model("powered-loudspeaker"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWhole reads all notes to their end and puts every device together.
func BenchmarkWhole(b *testing.B) {
	b.ReportAllocs()
	ctx := context.Background()
	var lib *note.Library
	for b.Loop() {
		lib, _ = note.Load(ctx, os.DirFS("."))
		for _, d := range lib.Devices() {
			_, _ = lib.Model(d.ID)
		}
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-kept")
	b.ReportMetric(float64(len(lib.Devices())), "devices")
	runtime.KeepAlive(lib)
}
