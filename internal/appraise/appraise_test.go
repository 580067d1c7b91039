package appraise_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/appraise"
	"fettler/internal/note"
	"fettler/library"
)

var appraiser = sync.OnceValue(func() *appraise.Appraiser {
	lib, _ := library.Load(context.Background())
	return appraise.New(lib)
})

func TestReadItems(t *testing.T) {
	got, err := appraise.ReadItems(strings.NewReader(`[
		{"id": "a", "device": "jug kettle", "symptoms": ["dead"], "checks": null, "colour": "red"},
		{"category": "kettle", "age_years": 0}]`))
	if err != nil {
		t.Fatal(err)
	}
	age := 0.0
	want := []appraise.Item{{ID: "a", Device: "jug kettle", Symptoms: []string{"dead"}}, {Category: "kettle", AgeYears: &age}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestReadItemsSaysWhatIsWrong(t *testing.T) {
	for name, tc := range map[string]struct{ text, say string }{
		"not JSON":    {`device: kettle`, "not a JSON list of items"},
		"not a list":  {`{"device": "kettle"}`, "not a JSON list of items"},
		"not objects": {`["kettle"]`, "item 1 is not an object"},
		"null":        {`[null]`, "item 1 is not an object"},
		"neither":     {`[{"id": "x"}]`, `item 1 ("x"): neither "device" nor "category"`},
		"blank":       {`[{"device": " "}]`, `neither "device" nor "category"`},
		"category":    {`[{"category": "Ketle"}]`, `there is no category "Ketle"; the nearest is "Kettle"`},
		"part of it":  {`[{"category": "beauty"}]`, `the nearest is "Hair & beauty item"`},
		"device type": {`[{"device": 3}]`, "device must be a text, not"},
		"one symptom": {`[{"device": "fan", "symptoms": "dead"}]`, "symptoms must be a list of texts"},
		"age type":    {`[{"device": "fan", "age_years": "old"}]`, "age_years must be a number of years"},
		"age below":   {`[{"device": "fan", "age_years": -1}]`, "an age of -1 years cannot be"},
		"age above":   {`[{"device": "fan", "age_years": 900}]`, "an age of 900 years cannot be"},
		"second":      {`[{"device": "fan"}, {"device": 1}]`, "item 2"},
		"all at once": {`[{"device": 1}, {"category": "x"}]`, "item 2: there is no category"},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := appraise.ReadItems(strings.NewReader(tc.text)); err == nil || !strings.Contains(err.Error(), tc.say) {
				t.Errorf("error %v, want %q in it", err, tc.say)
			}
		})
	}
}

func FuzzReadItems(f *testing.F) {
	f.Add(`[{"id": "1", "category": "Fan", "age_years": 3, "symptoms": ["dead"], "checks": ["fuse: open"]}]`)
	f.Add(`[{"age_years": 1e999}]`)
	f.Fuzz(func(t *testing.T, text string) {
		items, err := appraise.ReadItems(strings.NewReader(text))
		for _, it := range items {
			if err == nil && it.Device == "" && it.Category == "" {
				t.Errorf("%+v passed", it)
			}
		}
	})
}

// sound checks what every result holds.
func sound(t interface {
	Helper()
	Fatalf(string, ...any)
}, it appraise.Item, r appraise.Result) {
	t.Helper()
	sum := 0.0
	seen := map[note.Class]bool{}
	for i, s := range r.Suspects {
		if math.IsNaN(s.Chance) || s.Chance < 0 || s.Chance > 1 || seen[s.Class] || i > 0 && s.Chance > r.Suspects[i-1].Chance {
			t.Fatalf("suspect %d of %+v: %+v", i, it, s)
		}
		seen[s.Class] = true
		sum += s.Chance
		inside := 0.0
		for _, m := range s.Modes {
			inside += m.Chance
		}
		if inside > s.Chance+1e-9 {
			t.Fatalf("modes of %s have %g of its %g", s.Class, inside, s.Chance)
		}
	}
	if len(r.Suspects) != len(note.Classes()) || math.Abs(sum-1) > 1e-9 {
		t.Fatalf("%d suspects add up to %g for %+v", len(r.Suspects), sum, it)
	}
	if len(r.Heard) != len(it.Symptoms)+len(it.Checks) || len(r.Moves) > 3 {
		t.Fatalf("%d texts heard, %d moves for %+v", len(r.Heard), len(r.Moves), it)
	}
}

func TestAnyTextIsAppraised(t *testing.T) {
	words := rapid.SampledFrom([]string{"not", "dead", "fuse", "ok", "switch:", "burnt", "motor", ",", "still", "new", "plug", "\xff", "é", "no", "heat", "battery", "", "leaks"})
	text := rapid.Custom(func(t *rapid.T) string { return strings.Join(rapid.SliceOfN(words, 0, 8).Draw(t, "words"), " ") })
	rapid.Check(t, func(t *rapid.T) {
		it := appraise.Item{
			Category: rapid.SampledFrom(append(note.Categories(), "")).Draw(t, "category"),
			Device:   rapid.SampledFrom([]string{"kettle", "thing", "cordless drill", "\xff"}).Draw(t, "device"),
			Symptoms: rapid.SliceOfN(text, 0, 3).Draw(t, "symptoms"),
			Checks:   rapid.SliceOfN(text, 0, 3).Draw(t, "checks"),
		}
		r, err := appraiser().Appraise(context.Background(), it)
		if err != nil {
			t.Fatalf("%+v: %v", it, err)
		}
		sound(t, it, r)
	})
}

// What a bench takes for granted. Common practice, no source.
func TestPlainCases(t *testing.T) {
	for name, tc := range map[string]struct {
		it    appraise.Item
		first note.Class
	}{
		"open element":     {appraise.Item{Device: "kettle", Symptoms: []string{"light comes on, no heat"}, Checks: []string{"resistance of the element: open"}}, note.ClassHeater},
		"worn brushes":     {appraise.Item{Device: "hedge trimmer", Symptoms: []string{"sparks, then stopped"}, Checks: []string{"carbon brushes: worn down"}}, note.ClassMotor},
		"cable cut":        {appraise.Item{Category: "Power tool", Symptoms: []string{"cable cut"}}, note.ClassPowerLead},
		"cracked screen":   {appraise.Item{Category: "Mobile", Symptoms: []string{"screen cracked"}}, note.ClassDisplay},
		"corroded springs": {appraise.Item{Device: "torch", Symptoms: []string{"does not light"}, Checks: []string{"battery contacts: corroded"}}, note.ClassConnector},
		"full filter":      {appraise.Item{Device: "vacuum cleaner", Symptoms: []string{"no suction"}, Checks: []string{"filter: blocked with dust"}}, note.ClassDirt},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := appraiser().Appraise(context.Background(), tc.it)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, tc.it, r)
			if got := r.Suspects[0]; got.Class != tc.first {
				t.Errorf("first is %s with %.2f, want %s", got.Class, got.Chance, tc.first)
			}
			if len(r.Moves) != 3 || len(r.Devices) == 0 {
				t.Errorf("%d moves, %d devices", len(r.Moves), len(r.Devices))
			}
		})
	}
}

// A part found good loses, a part found faulty gains.
func TestPartsFound(t *testing.T) {
	chance := func(checks ...string) float64 {
		r, err := appraiser().Appraise(context.Background(), appraise.Item{Category: "Lamp", Symptoms: []string{"not working"}, Checks: checks})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range r.Suspects {
			if s.Class == note.ClassFuse {
				return s.Chance
			}
		}
		return 0
	}
	before := chance()
	for _, text := range []string{"fuse ok", "fuse: good", "fuse checked, good", "new fuse fitted: still dead", "fuse not blown"} {
		if got := chance(text); got > before/2 {
			t.Errorf("%q: fuse has %.3f, had %.3f", text, got, before)
		}
	}
	for _, text := range []string{"fuse blown", "plug fuse: open", "the fuse has gone"} {
		if got := chance(text); got < 2*before {
			t.Errorf("%q: fuse has %.3f, had %.3f", text, got, before)
		}
	}
}

func TestHeard(t *testing.T) {
	r, err := appraiser().Appraise(context.Background(), appraise.Item{
		Device: "kettle", Symptoms: []string{"does not heat, purple zigzag"}, Checks: []string{"element: open", "new plug fitted: still dead"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Heard[0].Signs) == 0 || !slices.Contains(r.Heard[0].Unread, "zigzag") {
		t.Errorf("of the symptom was understood %+v", r.Heard[0])
	}
	var organs []appraise.Organ
	for _, h := range r.Heard[1:] {
		organs = append(organs, h.Organs...)
	}
	want := []appraise.Organ{
		{Name: "heater", Class: note.ClassHeater, State: "faulty", Words: "element"},
		{Name: "plug", Class: note.ClassPowerLead, State: "replaced in vain", Words: "plug"},
	}
	if diff := cmp.Diff(want, organs); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// The note is found by what the device is called, in any order of words, and
// by nothing else once it is called something.
func TestDeviceIsFound(t *testing.T) {
	for _, tc := range []struct {
		it    appraise.Item
		first string
	}{
		{appraise.Item{Device: "jug kettle", Symptoms: []string{"light on, no heat"}}, "kettle"},
		{appraise.Item{Device: "robot vacuum cleaner"}, "robot-vacuum"},
		{appraise.Item{Category: "Small home electrical", Device: "hedge cutter"}, "hedge-trimmer"},
		{appraise.Item{Category: "Hi-Fi separates", Symptoms: []string{"turntable does not turn"}}, "record-player"},
		{appraise.Item{Category: "Lamp", Device: "LED desk lamp"}, "desk-lamp-led"},
	} {
		r, err := appraiser().Appraise(context.Background(), tc.it)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Devices) == 0 || r.Devices[0].ID != tc.first {
			t.Errorf("%+v was judged as %+v, want %s", tc.it, r.Devices, tc.first)
		}
	}
}

func TestAppraiseRefuses(t *testing.T) {
	for _, it := range []appraise.Item{{}, {Category: "Spaceship"}} {
		if _, err := appraiser().Appraise(context.Background(), it); err == nil {
			t.Errorf("%+v passed", it)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := appraiser().Appraise(ctx, appraise.Item{Device: "kettle"}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v when called off", err)
	}
}

// One appraiser serves many at once, and says the same as when it is asked alone.
func TestConcurrent(t *testing.T) {
	lib, _ := library.Load(context.Background())
	a := appraise.New(lib)
	items := []appraise.Item{{Device: "kettle", Symptoms: []string{"dead"}}, {Device: "toaster", Symptoms: []string{"lever does not stay down"}}, {Category: "Lamp", Symptoms: []string{"flickers"}}}
	var wg sync.WaitGroup
	for range 4 {
		for _, it := range items {
			wg.Add(1)
			go func() {
				defer wg.Done()
				got, err := a.Appraise(context.Background(), it)
				want, _ := appraiser().Appraise(context.Background(), it)
				if err != nil || !cmp.Equal(got, want) {
					t.Errorf("%s%s: %v, %s", it.Device, it.Category, err, cmp.Diff(want, got))
				}
			}()
		}
	}
	wg.Wait()
}

// BenchmarkAppraise appraises a hundred items of forty categories.
func BenchmarkAppraise(b *testing.B) {
	var items []appraise.Item
	for i := range 100 {
		items = append(items, appraise.Item{Category: note.Categories()[i%len(note.Categories())],
			Symptoms: []string{"does not turn on", "smells burnt"}, Checks: []string{"plug fuse: good", "switch: burnt"}})
	}
	for b.Loop() {
		for _, it := range items {
			if _, err := appraiser().Appraise(context.Background(), it); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(items)), "µs/item")
}
