package note_test

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"testing"
	"testing/fstest"

	"fettler/internal/note"
)

// bigLibrary is 111 blocks and 100 devices, copies of the doc's: each device uses
// three of the blocks three times over.
func bigLibrary(tb testing.TB) fstest.MapFS {
	doc := docNotes(tb)
	big := fstest.MapFS{"kinds.yaml": doc["kinds.yaml"]}
	blocks := []string{"mains-inlet", "linear-supply", "amplifier-class-ab"}
	for i := range 37 {
		for _, b := range blocks {
			data := bytes.Replace(doc[b+".yaml"].Data, []byte("block: "+b), fmt.Appendf(nil, "block: %s-%d", b, i), 1)
			big[fmt.Sprintf("blocks/%s-%d.yaml", b, i)] = &fstest.MapFile{Data: data}
		}
	}
	for i := range 100 {
		data := bytes.Replace(doc["powered-loudspeaker.yaml"].Data, []byte("device: powered-loudspeaker"), fmt.Appendf(nil, "device: loudspeaker-%d", i), 1)
		more := []byte("blocks:\n")
		for j := range 2 {
			more = fmt.Appendf(more, "  inlet%d: {use: mains-inlet-%d}\n  supply%d: {use: linear-supply-%d, wire: {mains: inlet%d.mains}}\n"+
				"  amp%d: {use: amplifier-class-ab-%d, wire: {rails: supply%d.rails}}\n", j, i%37, j, (i+j)%37, j, j, (i+2*j)%37, j)
		}
		for _, b := range blocks {
			data = bytes.Replace(data, []byte("use: "+b), fmt.Appendf(nil, "use: %s-%d", b, i%37), 1)
		}
		big[fmt.Sprintf("devices/loudspeaker-%d.yaml", i)] = &fstest.MapFile{Data: bytes.Replace(data, []byte("blocks:\n"), more, 1)}
	}
	return big
}

// BenchmarkLibrary reads a library of 100 devices and puts every one together.
func BenchmarkLibrary(b *testing.B) {
	big := bigLibrary(b)
	bytes := 0
	for _, f := range big {
		bytes += len(f.Data)
	}
	b.SetBytes(int64(bytes))
	b.ReportAllocs()
	ctx := context.Background()
	var lib *note.Library
	for b.Loop() {
		var err error
		if lib, err = note.Load(ctx, big); err != nil {
			b.Fatal(err)
		}
		for _, d := range lib.Devices() {
			if _, err := lib.Model(d.ID); err != nil {
				b.Fatal(err)
			}
		}
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-kept")
	runtime.KeepAlive(lib)
}

func BenchmarkLoadOnly(b *testing.B) {
	big := bigLibrary(b)
	for b.Loop() {
		if _, err := note.Load(context.Background(), big); err != nil {
			b.Fatal(err)
		}
	}
}
