package casework_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
)

// photoBench is a bench that keeps pictures.
func photoBench(t testing.TB) (*casework.Bench, casework.Journal) {
	t.Helper()
	j := memory.New()
	return casework.New(j, notes(t), casework.Options{Now: clock(), Photos: memory.NewPhotos()}), j
}

func picture(t testing.TB, w, h int, c color.Color) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func board(t testing.TB, b *casework.Bench, id string) *casework.BoardWork {
	t.Helper()
	return ok[*casework.BoardWork](t)(b.BoardWork(ctx, id))
}

func TestStepsAreTickedAndResumed(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	tick := ok[casework.Receipt](t)(b.Step(ctx, id, casework.Stepping{Family: "gull-wing", Part: "U3", Step: "photograph"}))
	ok[casework.Receipt](t)(b.Step(ctx, id, casework.Stepping{Family: "gull-wing", Part: "U3", Step: "safe"}))
	ok[casework.Receipt](t)(b.Step(ctx, id, casework.Stepping{Family: "two-pin", Part: "C9", Step: "photograph"}))
	v := board(t, b, id)
	if len(v.Jobs) != 2 || v.Jobs[0].Part != "U3" || v.Jobs[0].Done != 2 || v.Jobs[0].Next().ID != "loose" {
		t.Fatalf("jobs %+v", v.Jobs)
	}
	ok[casework.Receipt](t)(b.Undo(ctx, id, tick.Seq, casework.By{}))
	if v = board(t, b, id); v.Jobs[0].Done != 1 || v.Jobs[0].Next().ID != "photograph" {
		t.Errorf("after undoing: %d done, next %s", v.Jobs[0].Done, v.Jobs[0].Next().ID)
	}
	ok[casework.Receipt](t)(b.Step(ctx, id, casework.Stepping{Family: "gull-wing", Part: "U3", Step: "safe", Undone: true}))
	if v = board(t, b, id); v.Jobs[0].Done != 0 {
		t.Errorf("after taking the tick away: %d done", v.Jobs[0].Done)
	}
	words := view(t, b, id).Timeline[2].Words
	if !strings.Contains(words, "U3, done: make it safe") {
		t.Errorf("the journal says %q", words)
	}
}

func TestNothingIsLeftOver(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	off := ok[casework.Receipt](t)(b.Remove(ctx, id, casework.Removing{Sort: "screws", What: "back plate", Where: "tray A", Count: 8}))
	plug := ok[casework.Receipt](t)(b.Remove(ctx, id, casework.Removing{Sort: "cable", What: "woofer plug"}))
	if got := view(t, b, id).Leftover(); !strings.Contains(got, "8 × back plate (tray A); woofer plug") {
		t.Errorf("warning %q", got)
	}
	ok[casework.Receipt](t)(b.Refit(ctx, id, casework.Refitting{Removed: off.Seq, Count: 7}))
	back := ok[casework.Receipt](t)(b.Refit(ctx, id, casework.Refitting{Removed: plug.Seq}))
	if got := view(t, b, id).Leftover(); !strings.Contains(got, "1 × back plate") || strings.Contains(got, "woofer") {
		t.Errorf("one screw left over: %q", got)
	}
	ok[casework.Receipt](t)(b.Undo(ctx, id, back.Seq, casework.By{}))
	ok[casework.Receipt](t)(b.Refit(ctx, id, casework.Refitting{Removed: off.Seq}))
	if got := board(t, b, id).Out; len(got) != 1 || got[0].Event != plug.Seq {
		t.Errorf("out: %+v", got)
	}
	for _, in := range []casework.Refitting{{Removed: off.Seq}, {Removed: plug.Seq, Count: 2}, {Removed: 99}, {Removed: plug.Seq, Count: -1}} {
		if _, err := b.Refit(ctx, id, in); err == nil {
			t.Errorf("%+v was taken", in)
		}
	}
	for _, in := range []casework.Removing{{Sort: "screws"}, {Sort: "spoons", What: "x"}, {Sort: "screws", What: "x", Count: 1e6}, {Sort: "screws", What: "x", Count: -3}} {
		if _, err := b.Remove(ctx, id, in); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%+v: %v", in, err)
		}
	}
}

// recap is the test note's repair that buys electrolytic capacitors.
func recap(t testing.TB, b *casework.Bench, id string) []casework.Polar {
	t.Helper()
	return ok[[]casework.Polar](t)(b.Polarised(ctx, id, "supply.recap"))
}

func orient(t testing.TB, b *casework.Bench, id, mark, when, points string) {
	t.Helper()
	d := casework.Orienting{}
	d.Oriented = casework.Oriented{Mark: mark, When: when, Points: points, Side: "front"}
	ok[casework.Receipt](t)(b.Orient(ctx, id, d))
}

func TestWayRoundIsCompared(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	parts := recap(t, b, id)
	if len(parts) == 0 || parts[0].Sort != "electrolytic" || !strings.Contains(parts[0].Look, "minus") {
		t.Fatalf("polarised parts of the repair: %+v", parts)
	}
	mark := parts[0].Mark
	orient(t, b, id, mark, "before", "left")
	orient(t, b, id, mark, "after", "right")
	if got := recap(t, b, id)[0].Mismatch; !strings.Contains(got, "pointed left before and points right now") || !strings.Contains(got, "bursts") {
		t.Errorf("mismatch %q", got)
	}
	orient(t, b, id, mark, "after", "left")
	if got := recap(t, b, id)[0]; got.Mismatch != "" || got.After == nil {
		t.Errorf("put right: %+v", got)
	}
	// Replaced once more: as fitted is now as it was, and the new one is to be asked about.
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"}))
	if got := recap(t, b, id)[0]; got.After != nil || got.Before == nil || got.Before.Points != "left" {
		t.Errorf("the second time: %+v", got)
	}
	for _, p := range []casework.Oriented{{Mark: "C1", When: "now", Points: "left"}, {Mark: "C1", When: "before", Points: "west"}, {When: "before", Points: "left"}, {Mark: "C1", When: "before", Points: "left", Side: "inside"}, {Mark: "C1", When: "before", Points: "left", Sort: "spoon"}} {
		if _, err := b.Orient(ctx, id, casework.Orienting{Oriented: p}); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%+v: %v", p, err)
		}
	}
	if none := ok[[]casework.Polar](t)(b.Polarised(ctx, id, "no.such")); len(none) != 0 {
		t.Errorf("%+v", none)
	}
}

func TestPicturesAndPlacement(t *testing.T) {
	b, _ := photoBench(t)
	id := loudspeaker(t, b)
	ok[casework.Receipt](t)(b.Shoot(ctx, id, casework.Shot{File: bytes.NewReader(picture(t, 60, 40, color.White)), Side: "back", Stage: "before", Caption: "supply"}))
	ok[casework.Receipt](t)(b.Shoot(ctx, id, casework.Shot{File: bytes.NewReader(picture(t, 60, 40, color.Black)), Side: "back", Stage: "after"}))
	v := board(t, b, id)
	if len(v.Photos) != 2 || v.Photos[0].Width != 60 || v.Photos[0].Thumb == "" {
		t.Fatalf("%+v", v.Photos)
	}
	data := ok[[]byte](t)(b.Photo(ctx, v.Photos[0].Hash))
	if c, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width != 60 || c.Height != 40 {
		t.Errorf("%+v, %v", c, err)
	}
	tag := func(photo int, mark, sort, points, words string) {
		d := casework.Tagging{}
		d.Tagged = casework.Tagged{Photo: v.Photos[photo].Hash, Mark: mark, Sort: sort, X: 0.25, Y: 0.5, Points: points, Words: words}
		ok[casework.Receipt](t)(b.Tag(ctx, id, d))
	}
	tag(0, "C10", "electrolytic", "up", "")
	tag(0, "C7", "tantalum", "right", "towards the screw hole")
	tag(1, "C7", "tantalum", "left", "")
	got := board(t, b, id)
	var words []string
	for _, p := range got.Placement {
		words = append(words, p.Words)
	}
	want := []string{"C7, back side, the bar (plus, the other way than on an electrolytic) right, towards the screw hole", "C10, back side, the stripe (minus) up"}
	if !slices.Equal(words, want) {
		t.Errorf("placement %q, want %q", words, want)
	}
	// The pictures from before and after say that C7 was turned round.
	i := slices.IndexFunc(got.Polar, func(p casework.Polar) bool { return p.Mark == "C7" })
	if i < 0 || !strings.Contains(got.Polar[i].Mismatch, "pointed right before and points left now") {
		t.Errorf("%+v", got.Polar)
	}
}

func TestPicturesAreRefused(t *testing.T) {
	b, _ := photoBench(t)
	id := loudspeaker(t, b)
	for name, c := range map[string]struct {
		shot casework.Shot
		says string
	}{
		"text":     {casework.Shot{File: strings.NewReader("not a picture")}, "JPEG, PNG or WebP"},
		"too long": {casework.Shot{File: bytes.NewReader(make([]byte, casework.MostPhotoBytes+5))}, "40 MB"},
		"side":     {casework.Shot{File: bytes.NewReader(picture(t, 9, 9, color.White)), Side: "under"}, "front, back"},
	} {
		if _, err := b.Shoot(ctx, id, c.shot); casework.CodeOf(err) != casework.BadInput || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := b.Photo(ctx, "../../etc/passwd"); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("%v", err)
	}
	d := casework.Tagging{}
	d.Tagged = casework.Tagged{Photo: strings.Repeat("0", 64), Mark: "C1"}
	if _, err := b.Tag(ctx, id, d); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("%v", err)
	}
	none, _ := newBench(t)
	if _, err := none.Shoot(ctx, loudspeaker(t, none), casework.Shot{File: strings.NewReader("x")}); casework.CodeOf(err) != casework.StoreFail {
		t.Errorf("%v", err)
	}
}

// A closed case takes no work at the board, and what stands of it survives undoing.
func TestBoardOfAClosedCase(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.NotWorthIt}))
	if _, err := b.Step(ctx, id, casework.Stepping{Family: "chip", Step: "lift"}); casework.CodeOf(err) != casework.Closed {
		t.Errorf("%v", err)
	}
	if _, err := b.Remove(ctx, id, casework.Removing{Sort: "screws", What: "x"}); casework.CodeOf(err) != casework.Closed {
		t.Errorf("%v", err)
	}
}

// The loudspeaker's note says 42 V and 8 J: by E = CV²/2 that is 9070 µF.
func TestFirstPower(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	a := ok[casework.PowerAsk](t)(b.PowerAskOf(ctx, id))
	a.Watts, a.Feed, a.Volts, a.Farad, a.Charge = 80, casework.PowerFeeds()[0], 230, 9070e-6, 42
	p := ok[*casework.FirstPower](t)(b.PowerUp(ctx, id, a))
	if len(p.Lamps) == 0 || p.Lamps[0].Watts != 100 || p.Empty == nil || p.Empty.Joules < 7.9 || p.Empty.Joules > 8.1 || len(p.Empty.Steps) < 4 {
		t.Errorf("%+v", p)
	}
	ok[casework.Receipt](t)(b.Remove(ctx, id, casework.Removing{Sort: "cable", What: "woofer plug"}))
	if p = ok[*casework.FirstPower](t)(b.PowerUp(ctx, id, a)); !strings.Contains(p.Leftover, "woofer plug") {
		t.Errorf("leftover %q", p.Leftover)
	}
	a.Watts = -3
	if _, err := b.PowerUp(ctx, id, a); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("%v", err)
	}
}

// A part that sits otherwise than it did is warned about everywhere until it is put right,
// or until a repair written down says that it is meant so.
func TestTurnedPartIsWarnedAbout(t *testing.T) {
	b, _ := photoBench(t)
	id := loudspeaker(t, b)
	mark := recap(t, b, id)[0].Mark
	orient(t, b, id, mark, "before", "left")
	job := ok[casework.ReworkJob](t)(b.ReworkJobOf(ctx, id, "two-pin", mark+", R9"))
	if len(job.Polar) != 1 || job.Polar[0].Mark != mark || job.Polar[0].Before == nil || job.Polar[0].After != nil {
		t.Errorf("a job at %s asks about %+v", mark, job.Polar)
	}
	orient(t, b, id, mark, "after", "down right")
	if got := view(t, b, id).Backwards(); !strings.Contains(got, mark) || !strings.Contains(got, "Do not power it") {
		t.Errorf("warning %q", got)
	}
	wrong, open := casework.Unsettled(recap(t, b, id))
	if len(wrong) != 1 || slices.Contains(open, mark) {
		t.Errorf("wrong %q, open %q", wrong, open)
	}
	p := ok[*casework.FirstPower](t)(b.PowerUp(ctx, id, casework.PowerAsk{Feed: casework.PowerFeeds()[0], Watts: 60, Volts: 230}))
	if !strings.Contains(p.Turned, mark) {
		t.Errorf("first power does not warn: %q", p.Turned)
	}
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"}))
	if got := view(t, b, id).Backwards(); got != "" {
		t.Errorf("meant so, and still: %q", got)
	}
	if _, err := b.ReworkJobOf(ctx, id, "spoon", ""); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("a family that is none: %v", err)
	}
}

// A picture turned is another picture; the one kept stays.
func TestPhotoTurned(t *testing.T) {
	b, _ := photoBench(t)
	id := loudspeaker(t, b)
	ok[casework.Receipt](t)(b.Shoot(ctx, id, casework.Shot{File: bytes.NewReader(picture(t, 40, 20, color.White))}))
	hash := board(t, b, id).Photos[0].Hash
	for degrees, want := range map[int]image.Point{0: {X: 40, Y: 20}, 90: {X: 20, Y: 40}, 180: {X: 40, Y: 20}} {
		m, err := jpeg.Decode(bytes.NewReader(ok[[]byte](t)(b.PhotoTurned(ctx, hash, degrees))))
		if err != nil || m.Bounds().Size() != want {
			t.Errorf("turned by %d°: %v, %v", degrees, m.Bounds(), err)
		}
	}
	if _, err := b.PhotoTurned(ctx, hash, 45); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("turned by 45°: %v", err)
	}
	if _, err := b.PhotoTurned(ctx, strings.Repeat("0", 64), 90); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("no such picture: %v", err)
	}
}
