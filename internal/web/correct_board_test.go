package web_test

import (
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// Every event of work at the board is put right in a form of its own sort, without script.
func TestBoardEventsArePutRight(t *testing.T) {
	v, b, path := visitPhotos(t)
	id := path[len("/case/"):]
	v.sendFile(path+"/photos", "file", "board.jpg", boardPicture(t, 640, 480), "side", "front", "stage", "before").want(http.StatusOK)
	work, err := b.BoardWork(t.Context(), id)
	if err != nil || len(work.Photos) != 1 {
		t.Fatalf("%+v, %v", work, err)
	}
	shot := work.Photos[0]
	do := func(r casework.Receipt, err error) int {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r.Seq
	}
	stepped := do(b.Step(t.Context(), id, casework.Stepping{Family: "chip", Part: "R7", Step: "photograph"}))
	removed := do(b.Remove(t.Context(), id, casework.Removing{Sort: "screws", What: "long ones", Count: 8}))
	refitted := do(b.Refit(t.Context(), id, casework.Refitting{Removed: removed, Count: 3}))
	oriented := do(b.Orient(t.Context(), id, casework.Orienting{Oriented: casework.Oriented{Mark: "D9", When: "before", Points: "left"}}))
	tagged := do(b.Tag(t.Context(), id, casework.Tagging{Tagged: casework.Tagged{Photo: shot.Hash, Mark: "C7", X: 0.25, Y: 0.5}}))
	for _, c := range []struct {
		name   string
		event  int
		shows  []string // fields that the form must have
		fields []string
		says   string
	}{
		{"a step", stepped, []string{"step", "part"}, []string{"part", "R8"}, "R8, done: photograph first"},
		{"taken off", removed, []string{"sort", "count", "where"}, []string{"count", "6", "where", "tray B"}, "6 × long ones (tray B)"},
		{"back in", refitted, []string{"count"}, []string{"count", "2"}, "put back: 2 of what event"},
		{"which way round", oriented, []string{"points", "when", "side"}, []string{"points", "right", "sort", "diode"}, "D9 as it was: the ring or bar (cathode) right"},
		{"a designator", tagged, []string{"across", "down"}, []string{"mark", "C8", "across", "30"}, "on the picture: C8"},
		{"a picture", shot.Event, []string{"stage", "caption"}, []string{"side", "back", "caption", "supply board"}, "supply board"},
	} {
		at := path + "/correct/" + strconv.Itoa(c.event)
		p := v.get(at).want(http.StatusOK)
		for _, f := range c.shows {
			if len(p.all("#f-"+f)) == 0 {
				t.Errorf("%s: the form has no field %s", c.name, f)
			}
		}
		if len(p.all("textarea")) > 0 {
			t.Errorf("%s: the form is that of a remark", c.name)
		}
		p.submit(at, c.fields...).want(http.StatusOK)
		v.get(path).says("#timeline", c.says)
	}
	if work, err = b.BoardWork(t.Context(), id); err != nil || work.Photos[0].Hash != shot.Hash || work.Photos[0].Side != "back" || work.Photos[0].Stage != "before" {
		t.Errorf("the picture after: %+v, %v", work.Photos, err)
	}
	if work.Out[0].Left != 4 || work.Tags[0].X != 0.3 || work.Tags[0].Mark != "C8" || work.Tags[0].Y != 0.5 {
		t.Errorf("out %+v, tags %+v", work.Out, work.Tags)
	}
	for _, bad := range [][]string{{"count", "many"}, {"count", "0"}} {
		at := path + "/correct/" + strconv.Itoa(removed)
		v.get(at).submit(at, bad...).want(http.StatusUnprocessableEntity).says(".problem", "no number of things")
	}
}

// A picture can be looked at turned, and tapped on so: what is kept is as it was taken.
func TestTurnedPicture(t *testing.T) {
	v, b, path := visitPhotos(t)
	id := path[len("/case/"):]
	v.sendFile(path+"/photos", "file", "board.jpg", boardPicture(t, 640, 480), "side", "front", "stage", "before").want(http.StatusOK)
	work, err := b.BoardWork(t.Context(), id)
	if err != nil || len(work.Photos) != 1 {
		t.Fatalf("%+v, %v", work, err)
	}
	at := path + "/photo/" + work.Photos[0].Hash
	p := v.get(at+"?turn=90").want(http.StatusOK).says(".zooms", "Turn right")
	if w, h := p.value(".tapmap", "width"), p.value(".tapmap", "height"); w != "640" || h != "853" {
		t.Errorf("turned it is %s × %s", w, h)
	}
	p = p.submit(at, "mark", "C7", "points", "up", "at.x", "64", "at.y", "853").want(http.StatusOK) // low on the left
	p.says(".lines", "C7 up")
	if work, err = b.BoardWork(t.Context(), id); err != nil || len(work.Tags) != 1 {
		t.Fatalf("%+v, %v", work.Tags, err)
	}
	// Low on the left of a picture turned right is low on the right of the picture as taken, and up is left.
	if g := work.Tags[0]; g.X != 1 || g.Y != 0.9 || g.Points != "left" {
		t.Errorf("kept at %g, %g pointing %s", g.X, g.Y, g.Points)
	}
	v.get(at).want(http.StatusOK).says(".lines", "C7 left")
	for _, turn := range []string{"90", "180", "270"} {
		if res := v.get("/photo/" + work.Photos[0].Hash + "?turn=" + turn); res.status != http.StatusOK {
			t.Errorf("turned by %s: %d", turn, res.status)
		}
	}
	v.get(at+"?turn=270&mirror=yes").want(http.StatusOK).says("main", "through the board")
}

// A moment of the heat picture can be kept as a file: one SVG document with its labels.
func TestHeatPictureAsAFile(t *testing.T) {
	v, _, _ := visitPhotos(t)
	q := "ask=1&part=U%3C3&package=SOIC-8&width=25&height=25&nn0=C9&nk0=electrolytic+capacitor&nd0=3&alloy=Sn63Pb37&nopreheat=yes"
	for range 100 { // until it is reckoned
		if p := v.get("/heat?" + q).want(http.StatusOK); len(p.all(".moment")) > 0 {
			break
		}
	}
	res, err := v.http.Get(v.url + "/heat/picture?" + q)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	words, elements := map[string]bool{}, map[string]int{}
	for d := xml.NewDecoder(res.Body); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			elements[x.Name.Local]++
		case xml.CharData:
			words[string(x)] = true
		}
	}
	if res.StatusCode != http.StatusOK || !strings.HasPrefix(res.Header.Get("Content-Type"), "image/svg+xml") || !words["U<3"] || !words["C9"] || elements["image"] != 1 || elements["path"] == 0 {
		t.Errorf("%d, %s: %v, %v", res.StatusCode, res.Header.Get("Content-Type"), elements, words)
	}
	v.get("/heat/picture?" + q + "&moment=999").want(http.StatusNotFound)
}
