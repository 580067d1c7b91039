package browsertest

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// TestWorkAtTheBoard taps a part on a picture, moves the heat picture's slider, and
// looks whether the pages of work at the board are sound on a phone.
func TestWorkAtTheBoard(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{Photos: memory.NewPhotos()})
	url := serve(t, b, web.Options{Notes: lib, Gallery: true})
	rec, err := b.Open(t.Context(), casework.Opening{ID: "left", Device: "powered-loudspeaker"})
	if err == nil {
		_, err = b.Shoot(t.Context(), rec.Case, casework.Shot{File: bytes.NewReader(green(t)), Side: "front", Stage: "before"})
	}
	if err == nil {
		_, err = b.Shoot(t.Context(), rec.Case, casework.Shot{File: bytes.NewReader(green(t, 40)), Side: "front", Stage: "after"})
	}
	if err != nil {
		t.Fatal(err)
	}
	work, err := b.BoardWork(t.Context(), rec.Case)
	if err != nil {
		t.Fatal(err)
	}
	c := browse(t, url)
	c.media("light")
	c.screen(sizes[0])

	// A tap in the middle of the picture, however wide the screen makes it.
	c.open("/case/left/photo/" + work.Photos[0].Hash)
	c.do("name the part", chromedp.SendKeys(chromedp.CSS("#mark"), "C7"))
	if w := eval[float64](c, `document.querySelector(".tapmap").getBoundingClientRect().width`); w > 390 || w < 250 {
		t.Errorf("the picture to tap on is %g px wide on a phone", w)
	}
	c.click(".tapmap")
	if work, err = b.BoardWork(t.Context(), rec.Case); err != nil || len(work.Tags) != 1 {
		t.Fatalf("%+v, %v", work.Tags, err)
	}
	if g := work.Tags[0]; g.Mark != "C7" || g.X < 0.45 || g.X > 0.55 || g.Y < 0.4 || g.Y > 0.6 {
		t.Errorf("tapped in the middle, placed at %g, %g", g.X, g.Y)
	}

	// One moment at a time, moved by the slider.
	c.open("/gallery/heat-answer")
	if n := eval[int](c, `[...document.querySelectorAll(".moment")].filter(m => m.checkVisibility()).length`); n != 1 {
		t.Errorf("%d moments show at once", n)
	}
	got := eval[string](c, `(() => { const r = document.querySelector(".slide input"); r.value = 0; r.dispatchEvent(new Event("input")); return document.querySelector(".slide output").value; })()`)
	if got != "0.0 s" {
		t.Errorf("the slider at its start says %q", got)
	}

	pages := []string{"/case/left/rework", "/case/left/rework/steps?family=two-pin&part=C1,+C2", "/case/left/photo/" + work.Photos[0].Hash, "/case/left/photo/" + work.Photos[0].Hash + "?turn=90", "/case/left/correct/2", "/case/left/compare?before=" + work.Photos[0].Hash + "&after=" + work.Photos[1].Hash,
		"/case/left/placement", "/case/left/power-up?ask=1&watts=80&feed=mains,+transformer&micro=9000&charge=42"}
	for _, p := range []string{"rework", "steps", "repair-way", "case-left-over", "heat-form", "heat-wait", "heat-answer", "limits"} {
		pages = append(pages, "/gallery/"+p)
	}
	for _, p := range pages {
		c.open(p)
		c.soundEverywhere(p)
		c.picture("board-"+strings.NewReplacer("/", "-", "?", "-", "&", "-").Replace(p[1:min(len(p), 24)]), true)
	}
}

// green is a picture of an empty board.
func green(t *testing.T, shade ...uint8) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for y := range 600 {
		for x := range 800 {
			m.Set(x, y, color.RGBA{append(shade, 20)[0], 90, 50, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
