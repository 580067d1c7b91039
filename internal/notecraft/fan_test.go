package notecraft_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/notecraft"
	"fettler/internal/plan"
	"fettler/library"
)

// fan is the device in testdata/notes, each edit replacing old by new in its note.
func fan(t testing.TB, edits ...string) *note.Model {
	t.Helper()
	fsys := fstest.MapFS{}
	files, err := filepath.Glob("testdata/notes/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for k := 0; k+1 < len(edits); k += 2 {
			text = bytes.ReplaceAll(text, []byte(edits[k]), []byte(edits[k+1]))
		}
		fsys[filepath.Base(f)] = &fstest.MapFile{Data: text}
	}
	lib, err := note.Load(context.Background(), fsys)
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model("hall-fan")
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func engine(t testing.TB, m *note.Model) *belief.Engine {
	t.Helper()
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestPicture(t *testing.T) {
	golden(t, "testdata/picture.golden", notecraft.Picture(fan(t)))
}

// The picture is well-formed XML with a name and words for those who cannot see it,
// takes its colours from around it, and says what is there.
func TestPictureReads(t *testing.T) {
	svg := notecraft.Picture(fan(t, "An invented fan.", "<&>", "title: Motor\n", "title: 'Motor <of> \"much\" & more'\n"))
	d := xml.NewDecoder(bytes.NewReader(svg))
	seen := map[string]int{}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if s, ok := tok.(xml.StartElement); ok {
			seen[s.Name.Local]++
			for _, a := range s.Attr {
				if (a.Name.Local == "fill" || a.Name.Local == "stroke") && a.Value != "none" && a.Value != "currentColor" {
					t.Errorf("%s has a colour of its own: %s", s.Name.Local, a.Value)
				}
			}
		}
	}
	if seen["desc"] != 1 || seen["title"] < 1 {
		t.Errorf("elements %v", seen)
	}
	for _, want := range []string{"Inlet (2 parts, 2 faults) passes mains in the fan to mains at the motor", "&lt;of&gt;"} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("no %q in the picture", want)
		}
	}
}

func TestRaises(t *testing.T) {
	m := fan(t)
	e := engine(t, m)
	all, err := notecraft.RaisesAll(context.Background(), e)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/raises.golden", []byte(notecraft.RaisedWords(m, all)))
}

func TestTrials(t *testing.T) {
	m := fan(t)
	got, err := notecraft.TrialsOf(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, r := range got {
		b.WriteString(r.Words(m) + "\n")
	}
	golden(t, "testdata/trials.golden", []byte(b.String()))
	if len(got) != 2 || !got[0].Passed || got[1].Passed {
		t.Errorf("%+v", got)
	}
}

func TestRehearse(t *testing.T) {
	m := fan(t)
	r, err := notecraft.Rehearse(context.Background(), m, notecraft.Options{Seed: 3, Runs: 20})
	if err != nil {
		t.Fatal(err)
	}
	// What holds whatever the planner advises. A fault drawn once may have a repair that fails by bad luck, so twenty times.
	if r.Ended[notecraft.Cured] < 0.75 || r.Named < 0.9 {
		t.Errorf("of a fan this simple only %.2f is cured and %.2f named", r.Ended[notecraft.Cured], r.Named)
	}
	for _, x := range r.Runs {
		if x.End == notecraft.Cured && !slices.ContainsFunc(x.Moves, func(v plan.Move) bool { return v.Kind == plan.Repair }) {
			t.Errorf("%s was cured without a repair", m.Modes[x.Mode].ID)
		}
		if len(x.Moves) > 0 && x.Minutes <= 0 || x.Money < 0 || !slices.Contains(x.There, x.Mode) {
			t.Errorf("%+v", x)
		}
	}

	// The two ways in which the grille is bad show alike and want different repairs.
	if len(r.Twins) != 1 || len(r.Twins[0].Modes) != 2 || len(r.Twins[0].Shared) != 0 {
		t.Errorf("twins %+v", r.Twins)
	}
	if len(r.Unraised) != 1 || m.Findings[r.Unraised[0]].ID != "sings" {
		t.Errorf("unraised %v", r.Unraised)
	}
	if !slices.ContainsFunc(r.Idle, func(c notecraft.IdleCheck) bool { return m.Checks[c.Check].ID == "motor.weigh" }) {
		t.Errorf("weighing the motor paid: %v", r.Idle)
	}
	sum := 0.0
	for _, x := range r.Ended {
		sum += x
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the ends add up to %g", sum)
	}
}

// The words of a report, from figures set by hand.
func TestRehearseWords(t *testing.T) {
	m := fan(t)
	r := &notecraft.Report{
		Runs: []notecraft.Run{
			{Mode: 0, End: notecraft.Cured, Moves: make([]plan.Move, 3)},
			{Mode: 1, End: notecraft.Hidden, Moves: make([]plan.Move, 1), Money: 4, Minutes: 22},
			{Mode: 2, End: notecraft.Stopped, Moves: make([]plan.Move, 2), Minutes: 9},
			{Mode: 3, End: notecraft.Lost, Moves: make([]plan.Move, 25), Money: 14.5, Minutes: 240},
			{Mode: 4, End: notecraft.Silent},
		},
		Ended: [5]float64{0.6, 0.1, 0.1, 0.1, 0.1}, Named: 0.997, Money: 3.456, Minutes: 41.6, Moves: 5.25,
		Twins:       []notecraft.Twins{{Modes: []int{0, 1}}, {Modes: []int{2, 3}, Shared: []int{0}}},
		Unraised:    []int{0},
		Silent:      []int{4},
		Idle:        []notecraft.IdleCheck{{Check: 0, Behind: 1.2}, {Check: 1, Behind: math.Inf(1)}},
		IdleRepairs: []int{1},
	}
	golden(t, "testdata/rehearse.golden", []byte(r.Words(m)))
}

// The report does not depend on how many work at it, and the same seed gives the same.
func TestRehearseSame(t *testing.T) {
	m := fan(t)
	for _, o := range []notecraft.Options{{}, {Seed: 7, Runs: 3, Drawn: true}, {Seed: 9, Denied: true}} {
		o.Workers = 1
		a, err := notecraft.Rehearse(context.Background(), m, o)
		if err != nil {
			t.Fatal(err)
		}
		o.Workers = 4
		b, err := notecraft.Rehearse(context.Background(), m, o)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(a, b); diff != "" {
			t.Errorf("(-one +four)\n%s", diff)
		}
	}
}

func TestRehearseRefuses(t *testing.T) {
	m := fan(t)
	if _, err := notecraft.Rehearse(context.Background(), m, notecraft.Options{Faults: []int{99}}); err == nil {
		t.Error("fault 99 exists")
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := notecraft.Rehearse(ctx, m, notecraft.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func TestDiff(t *testing.T) {
	ctx := context.Background()
	old := fan(t)
	same, err := notecraft.Diff(ctx, old, fan(t))
	if err != nil || !same.Empty() || same.Words() != "Nothing one would notice at the bench.\n" {
		t.Errorf("the same note differs: %v\n%s", err, same.Words())
	}
	changed := fan(t,
		"      seized: {title: bearing seized, does: {motion: stopped}}", "      stuck: {title: bearing seized, rate: 3, does: {motion: stopped}}",
		"          seized: {not at all", "          stuck: {not at all",
		"  weigh:", "  heft:",
		"  sings:", "  whistles:",
		"title: sings", "title: whistles", "says: [sings]", "says: [whistles]",
		"  pull-out: {title: Pull the grille out, clears: {grille: [pushed-in]}, takes: 6 min}\n", "",
	)
	c, err := notecraft.Diff(ctx, old, changed)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/diff.golden", []byte(c.Words()))
	if diff := cmp.Diff([]notecraft.Renamed{{Old: "motor.bearing.seized", New: "motor.bearing.stuck"}}, c.Modes.Renamed); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// What a change adds, the change back removes; a renamed item is renamed back.
func TestDiffBack(t *testing.T) {
	ctx := context.Background()
	a, b := fan(t), fan(t, "rate: 0.2", "rate: 0.9", "  bend:", "  flex:", "title: Weigh the motor", "title: Weigh it", "  weigh:", "  scale:")
	there, err := notecraft.Diff(ctx, a, b)
	if err != nil {
		t.Fatal(err)
	}
	back, err := notecraft.Diff(ctx, b, a)
	if err != nil {
		t.Fatal(err)
	}
	for k := range there.Checks.Renamed {
		r := &there.Checks.Renamed[k]
		r.Old, r.New = r.New, r.Old
	}
	want := notecraft.Items{Added: there.Checks.Removed, Removed: there.Checks.Added, Renamed: there.Checks.Renamed}
	if diff := cmp.Diff(want, back.Checks); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if len(there.Priors) == 0 || len(back.Priors) == 0 {
		t.Error("a rate more than fourfold moved no prior")
	}
}

func BenchmarkRehearse(b *testing.B) {
	m := fan(b)
	for b.Loop() {
		if _, err := notecraft.Rehearse(context.Background(), m, notecraft.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPicture(b *testing.B) {
	m := fan(b)
	for b.Loop() {
		notecraft.Picture(m)
	}
}

// The trials of the shipped notes all run; library/trials_test.go judges them.
func TestTrialsOfLibrary(t *testing.T) {
	ctx := context.Background()
	lib, err := library.Load(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Trials) == 0 {
			continue
		}
		got, err := notecraft.TrialsOf(ctx, m)
		if err != nil || len(got) != len(m.Trials) {
			t.Errorf("%s: %d of %d trials ran: %v", d.ID, len(got), len(m.Trials), err)
		}
		for _, r := range got {
			if r.Place == 0 || r.Place > 1 && !r.Passed && len(r.First) == 0 {
				t.Errorf("%s: %+v", r.Device, r)
			}
			if !r.Passed {
				t.Log(r.Words(m))
			}
		}
	}
}

// With fewer draws than faults the common faults are drawn and count for more.
func TestRehearseMost(t *testing.T) {
	m := fan(t)
	r, err := notecraft.Rehearse(context.Background(), m, notecraft.Options{Most: 4})
	if err != nil {
		t.Fatal(err)
	}
	var drawn []string
	for _, x := range r.Runs {
		drawn = append(drawn, m.Modes[x.Mode].ID)
	}
	if len(drawn) > 4 || !slices.Contains(drawn, "inlet.lead.open") {
		t.Errorf("drawn %v", drawn)
	}
	sum := 0.0
	for _, x := range r.Ended {
		sum += x
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the ends add up to %g", sum)
	}
}
