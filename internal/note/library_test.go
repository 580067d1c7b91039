package note_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/note"
)

func layerOf(files ...string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		fsys[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return fsys
}

const lamp = `device: lamp
title: Lamp
category: Lamp
names: [table lamp]
mass: 800 g
blocks: {inlet: {use: mains-inlet}}
symptoms: {dark: {title: dark, shows: {inlet.mains is absent: always}}}
`

func TestLayers(t *testing.T) {
	ctx := context.Background()
	own := layerOf(
		"lamp.yaml", lamp,
		"more/kinds.yaml", "kinds: {fuse: {class: fuse, rate: 5, modes: {open: 1}}}\n",
		"loud.yaml", "device: powered-loudspeaker\ntitle: Mine\ncategory: Misc\nparts: {box: {class: board/other, modes: {broken: {rate: 1}}}}\n"+
			"symptoms: {dead: {title: dead, shows: {box broken: often}}}\n",
		"readme.txt", "not: a note",
	)
	lib, err := note.Load(ctx, docNotes(t), own)
	if err != nil {
		t.Fatal(err)
	}
	want := []note.DeviceInfo{
		{ID: "lamp", Title: "Lamp", Category: "Lamp", Names: []string{"table lamp"}, MassKg: 0.8, Own: true},
		{ID: "powered-loudspeaker", Title: "Mine", Category: "Misc", Own: true},
	}
	if diff := cmp.Diff(want, lib.Devices()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	m, err := lib.Model("lamp")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range m.Modes {
		if x.ID == "inlet.fuse.open" && !strings.HasPrefix(x.Basis, "fuse: 5 faults per million hours") {
			t.Errorf("the fuse is still the kind below: %s", x.Basis)
		}
	}
}

// A broken note of one's own costs nothing but itself: not even the one it was to replace.
func TestBrokenNote(t *testing.T) {
	own := note.Dir("mine", layerOf("a.yaml", "device: powered-loudspeaker\ntitle: [\n", "b.yaml", lamp,
		"c.yaml", "device: powered-loudspeaker\ntitel: x\n", "d.yaml", "block: mains-inlet\ntitle: x\nparts: 5\n"))
	lib, err := note.Load(context.Background(), docNotes(t), own)
	var problems note.Problems
	if !errors.As(err, &problems) || len(problems) < 4 {
		t.Fatalf("the error is %v", err)
	}
	for _, p := range problems {
		if p.File != "mine/a.yaml" && p.File != "mine/c.yaml" && p.File != "mine/d.yaml" {
			t.Errorf("a problem outside the broken notes: %v", p)
		}
	}
	for _, id := range []string{"lamp", "powered-loudspeaker"} {
		if _, err := lib.Model(id); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
}

func TestNoSuchDevice(t *testing.T) {
	_, err := loaded(t, docNotes(t)).Model("powered-loudspaeker")
	if !errors.Is(err, note.ErrNoDevice) || !strings.Contains(err.Error(), `did you mean "powered-loudspeaker"?`) {
		t.Errorf("the error is %v", err)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if lib, err := note.Load(ctx, docNotes(t)); lib != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v", lib, err)
	}
}

func TestNameTwice(t *testing.T) {
	_, err := note.Load(context.Background(), docNotes(t), layerOf("a.yaml", lamp, "b.yaml", lamp))
	if err == nil || err.Error() != `b.yaml:1:1: there is another device "lamp"; it is also in a.yaml` {
		t.Errorf("the error is %v", err)
	}
}

// A trusted layer is read when it is needed, and is no different then.
func TestTrusted(t *testing.T) {
	ctx := context.Background()
	lib, err := note.Load(ctx, note.Trusted(docNotes(t)))
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model("powered-loudspeaker")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(docModel(t), m); diff != "" {
		t.Errorf("(-whole +trusted)\n%s", diff)
	}
}

// Trust that was not deserved shows in the model's error and in Check.
func TestTrustedWrongly(t *testing.T) {
	ctx := context.Background()
	broken := strings.Replace(lamp, "symptoms:", "symptom:", 1)
	lib, err := note.Load(ctx, docNotes(t), note.Trusted(layerOf("lamp.yaml", broken)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := lib.Model("lamp"); err == nil || !strings.Contains(err.Error(), `unknown key "symptom"`) {
		t.Errorf("the model's error is %v", err)
	}
	problems, err := lib.Check(ctx)
	if err != nil || len(problems.Errors()) != 1 {
		t.Errorf("Check says %v, %v", problems, err)
	}
}

// Every kind of hazard has a caution, which the note's own words do not replace.
func TestCautions(t *testing.T) {
	for _, k := range note.HazardKinds() {
		if k.Caution == "" {
			t.Errorf("%s has no caution", k.Name)
		}
		own := note.Hazard{Kind: k.Name, Text: "Special."}.Caution()
		if own != "Special. "+k.Caution {
			t.Errorf("%s with words of its own says %q", k.Name, own)
		}
	}
}

// The figure of a danger is the device's: the block's own does not stand beside it.
func TestOneFigurePerDanger(t *testing.T) {
	lib, err := note.Load(context.Background(), docNotes(t))
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model("powered-loudspeaker")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	look := func(where string, hs []note.Hazard) {
		for _, h := range hs {
			if h.Kind != "stored charge" {
				continue
			}
			seen++
			if h.Volts != m.Hazards[1].Volts || h.Joules != m.Hazards[1].Joules {
				t.Errorf("%s speaks of %g V and %g J, the device of %g V and %g J", where, h.Volts, h.Joules, m.Hazards[1].Volts, m.Hazards[1].Joules)
			}
		}
	}
	for _, k := range m.Checks {
		look(k.Title, k.Hazards)
	}
	for _, r := range m.Repairs {
		look(r.Title, r.Hazards)
	}
	if seen == 0 || m.Hazards[1].Volts != 42 {
		t.Errorf("%d steps name stored charge; the device says %+v", seen, m.Hazards)
	}
}
