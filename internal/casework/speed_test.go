package casework_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/demo"
	"fettler/internal/note"
	"fettler/internal/store/memory"
	"fettler/library"
)

// shipped is a bench over the shipped notes with the demonstration case on it.
func shipped(b testing.TB) *casework.Bench {
	b.Helper()
	lib, err := note.Load(ctx, library.Notes())
	if lib == nil {
		b.Fatal(err)
	}
	bench := casework.New(memory.New(), lib, casework.Options{})
	if _, err := demo.Install(ctx, bench); err != nil {
		b.Fatal(err)
	}
	return bench
}

// BenchmarkView is the view of the shipped loudspeaker (102 fault modes) in
// mid-repair: after new evidence, after a remark, and unchanged.
func BenchmarkView(b *testing.B) {
	for _, x := range []struct {
		name string
		deed func(i int) casework.Deed
	}{
		{"evidence", func(i int) casework.Deed {
			return casework.Noticing{Answers: []casework.Answer{{Finding: "thump", Text: []string{"yes", "no"}[i%2]}}}
		}},
		{"remark", func(i int) casework.Deed { return casework.Remarking{Text: "a remark"} }},
		{"unchanged", nil},
	} {
		b.Run(x.name, func(b *testing.B) {
			bench := shipped(b)
			view(b, bench, demo.Case)
			for i := 0; b.Loop(); i++ {
				if i%4 == 3 { // keep the case as short as cases are
					b.StopTimer()
					bench = shipped(b)
					view(b, bench, demo.Case)
					b.StartTimer()
				}
				if x.deed != nil {
					if err := record(bench, demo.Case, x.deed(i)); err != nil {
						b.Fatal(err)
					}
				}
				view(b, bench, demo.Case)
			}
		})
	}
}

// BenchmarkViewDevice is the view after new evidence, a symptom at a time, of
// shipped devices of several sizes.
func BenchmarkViewDevice(b *testing.B) {
	lib, _ := note.Load(ctx, library.Notes())
	for _, id := range []string{"kettle", "cordless-vacuum", "flat-panel-display-tubes"} {
		m, err := lib.Model(id)
		if err != nil {
			b.Logf("%s: %v", id, err)
			continue
		}
		var symptoms []string
		for _, f := range m.Findings {
			if f.Check < 0 && f.Kind == note.Sign {
				symptoms = append(symptoms, f.ID)
			}
		}
		b.Run(fmt.Sprintf("%s, %d modes", id, len(m.Modes)), func(b *testing.B) {
			bench := casework.New(memory.New(), lib, casework.Options{})
			var r casework.Receipt
			for i := 0; b.Loop(); i++ {
				if i%5 == 0 {
					b.StopTimer()
					r, _ = bench.Open(ctx, casework.Opening{Device: id})
					view(b, bench, r.Case)
					b.StartTimer()
				}
				if err := record(bench, r.Case, casework.Noticing{Answers: []casework.Answer{{Finding: symptoms[i%5], Text: []string{"yes", "no"}[min(i%5, 1)]}}}); err != nil {
					b.Fatal(err)
				}
				view(b, bench, r.Case)
			}
		})
	}
}

// BenchmarkFirstView is the first view of a device since the program started.
func BenchmarkFirstView(b *testing.B) {
	for b.Loop() {
		view(b, shipped(b), demo.Case)
	}
}

// BenchmarkProject10000 projects a journal of 10 000 events.
func BenchmarkProject10000(b *testing.B) {
	events := []casework.Event{{Case: "long", Seq: 1, Kind: casework.KindOpened, Version: 1, Data: json.RawMessage(`{"device":"test-loudspeaker"}`)}}
	for len(events) < 10_000 {
		n := len(events) + 1
		e := casework.Event{Case: "long", Seq: n, At: time.Unix(int64(n), 0).UTC(), Version: 1}
		switch n % 4 {
		case 0:
			e.Kind, e.Data = casework.KindNoticed, json.RawMessage(`{"values":[{"finding":"hums","shows":1}]}`)
		case 1:
			e.Kind, e.Data = casework.KindChecked, json.RawMessage(`{"check":"supply.look","values":[{"finding":"supply.look.bulged","shows":0}],"minutes":2}`)
		case 2:
			e.Kind, e.Data = casework.KindUndone, json.RawMessage(fmt.Sprintf(`{"event":%d}`, n-2))
		default:
			e.Kind, e.Data = casework.KindRemarked, json.RawMessage(`{"text":"a remark of the usual length, about what was seen"}`)
		}
		events = append(events, e)
	}
	m, _ := notes(b).Model("test-loudspeaker")
	for b.Loop() {
		if _, err := casework.Project(m, nil, events); err != nil {
			b.Fatal(err)
		}
	}
}
