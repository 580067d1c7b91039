package notedesk_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"fettler/internal/failure"
	"fettler/internal/note"
	"fettler/internal/notedesk"
)

const lamp = `device: hall-lamp
title: Hall lamp (invented)
category: Lamp
parts:
  switch:
    title: switch
    kind: switch
    modes:
      open: {title: switch burnt out}
symptoms:
  dark:
    title: stays dark
    ask: Does it stay dark?
    says: [stays dark, no light]
    shows: {switch open: nearly always}
repairs:
  new-switch:
    title: Replace the switch
    takes: 10 min
    clears: {switch: all}
trials:
  - title: dark means the switch
    given: [dark]
    expect: switch
`

func open(t *testing.T) (*notedesk.Desk, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "my notes #1")
	d, err := notedesk.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return d, dir
}

func TestADraftIsToldAllThatIsWrongWithItsPlaces(t *testing.T) {
	d, _ := open(t)
	bad := strings.Replace(strings.Replace(lamp, "kind: switch", "kind: swich", 1), "category: Lamp", "catgory: Lamp", 1)
	x, err := d.Try(t.Context(), []byte(bad))
	if err != nil {
		t.Fatal(err)
	}
	if x.Model != nil || x.Errors() < 1 {
		t.Fatalf("%+v", x)
	}
	var all []string
	for _, p := range x.Problems {
		if p.Line == 0 || p.Column == 0 {
			t.Errorf("without a place: %v", p)
		}
		all = append(all, p.String())
	}
	if got := strings.Join(all, "\n"); !strings.Contains(got, ":3:1:") || !strings.Contains(got, "category") {
		t.Errorf("it does not name the place and the nearest key:\n%s", got)
	}
}

func TestAGoodDraftIsDrawnAndTried(t *testing.T) {
	d, _ := open(t)
	x, err := d.Try(t.Context(), []byte(lamp))
	if err != nil {
		t.Fatal(err)
	}
	if x.Sort != "device" || x.ID != "hall-lamp" || x.Model == nil || x.Errors() != 0 {
		t.Fatalf("%+v", x)
	}
	if p := notedesk.Draw(x.Model); !strings.HasPrefix(p.SVG, "<svg") {
		t.Errorf("no picture: %.80s", p.SVG)
	}
	raised, err := notedesk.RaisesNow(t.Context(), x.Model)
	if err != nil || len(raised) != 1 || raised[0].Suspects[0].ID != "switch.open" || raised[0].Suspects[0].After < raised[0].Suspects[0].Before {
		t.Errorf("%+v, %v", raised, err)
	}
	trials, err := notedesk.TrialsNow(t.Context(), x.Model)
	if err != nil || len(trials) != 1 || !trials[0].Passed {
		t.Errorf("%+v, %v", trials, err)
	}
}

func TestASavedNoteIsThereAtOnceAndNothingIsWrittenOver(t *testing.T) {
	d, dir := open(t)
	if _, err := d.Model("hall-lamp"); !errors.Is(err, note.ErrNoDevice) {
		t.Fatal(err)
	}
	saved, err := d.Save(t.Context(), []byte(lamp), "")
	if err != nil || saved.File != "hall-lamp.yaml" || saved.Replaced {
		t.Fatalf("%+v, %v", saved, err)
	}
	if m, err := d.Model("hall-lamp"); err != nil || len(m.Modes) != 1 {
		t.Fatalf("%v", err)
	}
	// The file is moved; the note is still the same.
	if err := os.Rename(filepath.Join(dir, "hall-lamp.yaml"), filepath.Join(dir, "lamps.yaml")); err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(lamp, "burnt out", "worn out", 1)
	_, err = d.Save(t.Context(), []byte(changed), "")
	var taken *notedesk.Taken
	if !errors.As(err, &taken) || taken.File != "lamps.yaml" || string(taken.Text) != lamp {
		t.Fatalf("%v", err)
	}
	if _, err := d.Save(t.Context(), []byte(changed), "0123456789abcdef"); !errors.As(err, &taken) {
		t.Fatalf("a mark of another text was taken: %v", err)
	}
	if saved, err = d.Save(t.Context(), []byte(changed), taken.Mark); err != nil || !saved.Replaced || saved.File != "lamps.yaml" {
		t.Fatalf("%+v, %v", saved, err)
	}
	files, err := os.ReadDir(dir)
	if err != nil || len(files) != 1 {
		t.Errorf("%v, %v", files, err)
	}
	if m, err := d.Model("hall-lamp"); err != nil || m.Modes[0].Title != "switch worn out" {
		t.Errorf("%v", err)
	}
}

func TestWhatIsNotSaved(t *testing.T) {
	d, dir := open(t)
	for name, c := range map[string]struct{ text, want string }{
		"outside":    {strings.Replace(lamp, "hall-lamp", "../hall-lamp", 1), "no note yet"},
		"no note":    {"lamp: yes\n", "no note yet"},
		"mistakes":   {strings.Replace(lamp, "kind: switch", "kind: swich", 1), "mistake"},
		"empty":      {"", "no note yet"},
		"too long":   {lamp + strings.Repeat("#", 300<<10), "too long"},
		"not YAML":   {"device: [", "no note yet"},
		"no letters": {"\x00\xff", "no note yet"},
	} {
		if _, err := d.Save(t.Context(), []byte(c.text), ""); failure.CodeOf(err) != failure.BadInput || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := os.Stat(dir); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder was made for nothing: %v", err)
	}
	none := &notedesk.Desk{}
	if _, err := none.Save(t.Context(), []byte(lamp), ""); failure.CodeOf(err) != failure.BadInput || !strings.Contains(err.Error(), "no folder") {
		t.Errorf("%v", err)
	}
}

// A link in the folder that leads out of it is not followed.
func TestSavingStaysInTheFolder(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // a link there takes a right that most accounts lack
	}
	d, dir := open(t)
	outside := filepath.Join(t.TempDir(), "outside")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(outside, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "hall-lamp.yaml")); err != nil {
		t.Fatal(err)
	}
	_, err := d.Save(t.Context(), []byte(lamp), "")
	if err == nil {
		t.Error("saved through the link")
	}
	if got, err := os.ReadFile(outside); err != nil || string(got) != "mine" {
		t.Errorf("%q, %v", got, err)
	}
}

func TestEveryBlockCanBeRead(t *testing.T) {
	d, _ := open(t)
	all := d.Blocks()
	if len(all) < 50 {
		t.Fatalf("%d blocks", len(all))
	}
	shown := 0
	for _, x := range all {
		b, m, err := d.Block(x.ID)
		if err != nil {
			t.Errorf("%s: %v", x.ID, err)
			continue
		}
		if b.Title == "" || len(b.Faults) == 0 || m.ID != x.ID {
			t.Errorf("%s: %+v", x.ID, b)
		}
		for _, f := range b.Faults {
			shown += len(f.Shows) + len(f.Does)
		}
	}
	if shown < 5*len(all) {
		t.Errorf("only %d traces of faults in %d blocks", shown, len(all))
	}
	if _, _, err := d.Block("no-such"); failure.CodeOf(err) != failure.NotFound {
		t.Errorf("%v", err)
	}
}

func TestADeviceIsRehearsedInTheBackground(t *testing.T) {
	d, _ := open(t)
	if _, err := d.Save(t.Context(), []byte(lamp), ""); err != nil {
		t.Fatal(err)
	}
	m, err := d.Model("hall-lamp")
	if err != nil {
		t.Fatal(err)
	}
	if p := d.Rehearsed(m); p.Done != nil || p.Going {
		t.Fatalf("%+v", p)
	}
	if err := d.Rehearse(m); err != nil {
		t.Fatal(err)
	}
	p := d.Rehearsed(m)
	for p.Done == nil && p.Failed == "" && t.Context().Err() == nil {
		p = d.Rehearsed(m)
	}
	if p.Failed != "" || p.Done.Drawn != 1 || p.Done.Cured != 1 {
		t.Errorf("%+v", p)
	}
}

func FuzzTry(f *testing.F) {
	f.Add(lamp)
	f.Add("block: x\nneeds: {a: [good, bad]}")
	f.Add("kinds: {switch: {class: fuse}}")
	d, err := notedesk.Open(f.Context(), "")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := d.Try(t.Context(), []byte(text))
		if err != nil && failure.CodeOf(err) == "" {
			t.Fatal(err)
		}
		if x != nil && x.Model != nil {
			if x.Errors() > 0 {
				t.Fatal("a model in spite of errors")
			}
			notedesk.Draw(x.Model)
		}
	})
}
