package web_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// visitPhotos is visit with a place for pictures and a loudspeaker on the bench.
func visitPhotos(t *testing.T) (*visitor, *casework.Bench, string) {
	t.Helper()
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{Photos: memory.NewPhotos()})
	r, err := b.Open(t.Context(), casework.Opening{Device: "powered-loudspeaker", Label: "Hall left"})
	if err != nil {
		t.Fatal(err)
	}
	return visitBench(t, b, web.Options{Notes: lib}), b, "/case/" + r.Case
}

// boardPicture is a green board with a dark part on it.
func boardPicture(t testing.TB, w, h int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{20, 90, 50, 255}
			if x > w/5 && x < w*2/5 && y > h/3 && y < h*2/3 {
				c = color.RGBA{25, 25, 28, 255}
			}
			m.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestStepsWithoutScript(t *testing.T) {
	v, _, path := visitPhotos(t)
	v.get(path+"/rework").want(http.StatusOK).says("#family", "Circuit with legs")
	p := v.get(path + "/rework/steps?part=U3&family=gull-wing").want(http.StatusOK)
	p.says("h1", "U3").says("main", "Photograph first").says("main", "Every connector back in, loudspeakers included, before power").says(".caution", "burn")
	p = p.submit(path + "/rework/steps").want(http.StatusOK) // the first button
	p.says("main", "1 of ").says(".lead h2", "Make it safe")
	v.get(path+"/rework").says("#steps", "").says(".lines", "Go on: Make it safe")
	p = p.submit(path + "/rework/steps").want(http.StatusOK) // the same form takes the tick away
	p.says("main", "0 of ")
	v.get(path + "/rework/steps?family=spoon").want(http.StatusNotFound)
	v.get(path).says("#timeline", "U3, done: photograph first")
}

func TestScrewsWithoutScript(t *testing.T) {
	v, _, path := visitPhotos(t)
	off := path + "/rework/off"
	v.get(path+"/rework").submit(off, "what", "", "count", "two").want(http.StatusUnprocessableEntity).says(".problem", "no number of things")
	p := v.get(path+"/rework").submit(off, "what", "long ones, back plate", "count", "8", "where", "tray A").want(http.StatusOK)
	p.says("#off", "").says("main", "8 × long ones, back plate (tray A)")
	for _, page := range []string{"", "/test", "/power-up"} {
		v.get(path+page).want(http.StatusOK).says(".caution", "till out: 8 × long ones")
	}
	p = v.get(path+"/rework").submit(path+"/rework/back", "count", "3").want(http.StatusOK).says("main", "5 of 8 still out")
	p.submit(path+"/rework/back").want(http.StatusOK).says("main", "Nothing is noted as off")
	if got := v.get(path).text(".caution"); strings.Contains(got, "till out") {
		t.Errorf("the case still warns: %s", got)
	}
}

func TestPicturesWithoutScript(t *testing.T) {
	v, b, path := visitPhotos(t)
	p := v.sendFile(path+"/photos", "file", "board.jpg", boardPicture(t, 640, 480), "side", "back", "stage", "before", "caption", "supply").want(http.StatusOK)
	p.says(".thumbs", "back before supply")
	src := p.value(".thumbs img", "src")
	res, err := v.http.Get(v.url + src)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if _, e := jpeg.Decode(bytes.NewReader(data)); err != nil || e != nil || res.Header.Get("Content-Type") != "image/jpeg" || res.Header.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%v %v %v", err, e, res.Header)
	}

	// Tap at a quarter across and three quarters down of a picture 640 wide.
	where := p.value(".thumbs a", "href")
	photo := v.get(where + "?size=640").want(http.StatusOK)
	if w, h := photo.value(".tapmap", "width"), photo.value(".tapmap", "height"); w != "640" || h != "480" {
		t.Errorf("the picture to tap on is %s × %s", w, h)
	}
	p = photo.submit(where, "mark", "C7", "sort", "electrolytic", "points", "right", "words", "towards the screw hole", "at.x", "160", "at.y", "360").want(http.StatusOK)
	p.says("main", "C7").says(".pins text", "C7")
	work, err := b.BoardWork(t.Context(), strings.TrimPrefix(path, "/case/"))
	if err != nil || len(work.Tags) != 1 || work.Tags[0].X != 0.25 || work.Tags[0].Y != 0.75 {
		t.Fatalf("%+v, %v", work, err)
	}
	mirror := v.get(where+"?mirror=yes").want(http.StatusOK).says(".pins text", "C7")
	for _, line := range mirror.all(".pins line") {
		if x := attrOf(line, "x1"); x != "480" || attrOf(line, "x2") >= x {
			t.Errorf("mirrored at %s of 640, want 480, and pointing to the left, not to %s", x, attrOf(line, "x2"))
		}
	}
	photo.submit(where, "mark", "U2").want(http.StatusUnprocessableEntity).says(".problem", "where on the picture")
	photo.submit(where, "mark", "U2", "at.x", "0", "at.y", "0").want(http.StatusUnprocessableEntity).says(".problem", "where on the picture")
	photo.submit(where, "mark", "U2", "across", "50", "down", "12,5").want(http.StatusOK).says("main", "U2")
	photo.submit(where, "mark", "", "at.x", "1", "at.y", "1").want(http.StatusUnprocessableEntity).says(".problem", "which part")

	v.get(path+"/placement").want(http.StatusOK).says(".placelist", "C7, back side, the stripe (minus) right, towards the screw hole")
	v.get(path+"/placement?as=text").want(http.StatusOK).says("body", "C7, back side")

	v.sendFile(path+"/photos", "file", "after.jpg", boardPicture(t, 320, 240), "side", "back", "stage", "after").want(http.StatusOK)
	v.get(path+"/rework").says("main", "Before and after, back side")
	work, _ = b.BoardWork(t.Context(), strings.TrimPrefix(path, "/case/"))
	v.get(fmt.Sprintf("%s/compare?before=%s&after=%s", path, work.Photos[0].Hash, work.Photos[1].Hash)).want(http.StatusOK).says("main", "Before")
	v.get(path + "/compare?before=x&after=y").want(http.StatusNotFound)
	v.get("/photo/" + strings.Repeat("0", 64)).want(http.StatusNotFound)
}

func TestPicturesThatAreNone(t *testing.T) {
	v, _, path := visitPhotos(t)
	v.sendFile(path+"/photos", "file", "x.svg", []byte("<svg/>")).want(http.StatusUnprocessableEntity).says(".problem", "JPEG, PNG or WebP")
	v.sendFile(path+"/photos", "file", "", nil).want(http.StatusUnprocessableEntity).says(".problem", "No picture was chosen")
	v.sendFile(path+"/photos", "file", "big.jpg", make([]byte, casework.MostPhotoBytes+10)).want(http.StatusUnprocessableEntity).says(".problem", "40 MB")
	v.post(path+"/photos", nil).want(http.StatusUnprocessableEntity).says(".problem", "No picture was sent")
}

// Before a repair that replaces polarised parts is written down, the page asks which way round.
func TestRepairAsksWhichWayRound(t *testing.T) {
	v, b, path := visitPhotos(t)
	view, err := b.View(t.Context(), strings.TrimPrefix(path, "/case/"))
	if err != nil {
		t.Fatal(err)
	}
	id := ""
	for _, r := range view.Repairs {
		if parts, err := b.Polarised(t.Context(), view.Header.Case, r.ID); err == nil && len(parts) > 0 && parts[0].Sort == "electrolytic" {
			id = r.ID
			break
		}
	}
	if id == "" {
		t.Fatal("no repair of the loudspeaker replaces an electrolytic")
	}
	where, way := path+"/repair/"+id, path+"/rework/way"
	p := v.get(where).want(http.StatusOK).says("#way", "which way round")
	p.submit(where).want(http.StatusUnprocessableEntity).says(".problem", "not noted which way round")

	count := len(p.all("#way .wayrow"))
	var before, after []string
	for i := range count {
		before = append(before, fmt.Sprintf("points.%d", i), "left")
		after = append(after, fmt.Sprintf("points.%d", i), "right")
	}
	p = p.submit(way, before...).want(http.StatusOK).says("main", "It pointed left before")
	p.submit(where, after...).want(http.StatusUnprocessableEntity).says(".problem", "pointed left before and points right now").says("form", "It is meant so")
	for i := range after {
		if after[i] == "right" {
			after[i] = "left"
		}
	}
	v.get(where).submit(where, after...).want(http.StatusOK).says(".flash", "repaired")
	v.get(path+"/rework").says("main", "left")
}

func TestRepairWithoutNoting(t *testing.T) {
	v, b, path := visitPhotos(t)
	view, err := b.View(t.Context(), strings.TrimPrefix(path, "/case/"))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range view.Repairs {
		parts, err := b.Polarised(t.Context(), view.Header.Case, r.ID)
		if err != nil || len(parts) == 0 {
			continue
		}
		where := path + "/repair/" + r.ID
		v.get(where).submit(where, "meant", "yes").want(http.StatusOK).says(".flash", "repaired")
		return
	}
}

func TestHeatWithoutScript(t *testing.T) {
	v, _, path := visitPhotos(t)
	id := strings.TrimPrefix(path, "/case/")
	v.get("/heat?case="+id).want(http.StatusOK).says("main", "What minds heat near it")
	q := url.Values{"case": {id}, "package": {"SOIC-8"}, "tool": {"hot air"}}
	for k, x := range map[string]string{"width": "30", "height": "25", "part": "U3", "alloy": "Sn63Pb37", "nk0": "electrolytic capacitor", "nd0": "6", "nn0": "C9", "nopreheat": "yes", "ask": "1"} {
		q.Set(k, x)
	}
	var p *sheet
	for tries := 0; ; tries++ { // each waits a while for the answer
		p = v.get("/heat?" + q.Encode()).want(http.StatusOK)
		if len(p.all("#answer")) > 0 {
			break
		}
		if p.header.Get("Refresh") == "" {
			t.Fatal("the page neither answers nor looks again")
		}
		if main := p.text("main"); !strings.Contains(main, "one is reckoned at a time") && !strings.Contains(main, "Being reckoned") {
			t.Fatalf("neither waiting its turn nor being reckoned: %q", main)
		}
		if tries > 100 {
			t.Fatal("no answer")
		}
	}
	p.says("#answer", " s").says(".near", "C9").says(".caution", "vents").says("main", "most likely between")
	if n := len(p.all("figure.moment")); n < 5 {
		t.Errorf("%d moments", n)
	}
	if len(p.all("figure .iso")) == 0 || len(p.all("figure .isotext")) == 0 || len(p.all("figure .box")) == 0 {
		t.Error("no lines, labels or outlines")
	}
	p.submit(path+"/remark").want(http.StatusOK).says("#timeline", "Heat for U3 (SOIC-8)")

	q.Set("nd0", "far")
	v.get("/heat?"+q.Encode()).want(http.StatusUnprocessableEntity).says(".problem", "distance of C9")
	q.Set("nd0", "6")
	q.Set("air", "9000")
	v.get("/heat?"+q.Encode()).want(http.StatusUnprocessableEntity).says(".problem", "60 to 550 °C")
	v.get("/heat/limits?year=2012&marking=e1").want(http.StatusOK).says("main", "Most likely Sn96.5Ag3Cu0.5").says("main", "from memory").says("main", "read in a source")
	v.get("/heat/limits?year=12").want(http.StatusUnprocessableEntity).says(".problem", "1930")
}

func TestFirstPowerWithoutScript(t *testing.T) {
	v, _, path := visitPhotos(t)
	if got := v.get(path+"/power-up").want(http.StatusOK).value("#charge", "value"); got != "42" {
		t.Errorf("the voltage from the note is %q, want 42", got)
	}
	v.get(path+"/power-up?ask=1&watts=80&volts=230&micro=9070&charge=42&feed=mains%2C+transformer").want(http.StatusOK).
		says("#lamp", "100 W").says("main", "Full and steady").says("main", "wirewound").says("main", "Where to stand").says("main", "Common practice")
	v.get(path + "/power-up?ask=1&watts=lots").want(http.StatusUnprocessableEntity)
}
