package web_test

import (
	"bytes"
	"io"
	"net/http"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// TestProof soaks a repaired kettle with plain forms.
func TestProof(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	path, id := p.path, strings.TrimPrefix(p.path, "/case/")
	v.get(path+"/soak").want(http.StatusOK).says("main", "Too early")
	if _, err := b.RecordRepair(t.Context(), id, casework.Repairing{What: "cleaned the contacts"}); err != nil {
		t.Fatal(err)
	}
	test := path + "/test"
	v.get(test).submit(test, "works", "yes").want(http.StatusOK).says("main", "How long must it run?")

	soak, plan, list := path+"/soak", path+"/soak/plan", path+"/soak/list"
	v.get(soak).submit(plan, "pattern", "of starts", "shown", "many", "of", "10").want(http.StatusUnprocessableEntity).says("[role=alert]", "cannot be read")
	v.get(soak).submit(plan, "pattern", "in a time", "times", "0", "in", "2").want(http.StatusUnprocessableEntity).says("[role=alert]", "at least 1")
	p = v.get(soak).submit(plan, "pattern", "on average", "every", "1,5", "every-unit", "hours", "when", "warm", "still", "30", "sure", "90").want(http.StatusOK)
	p.says("main", "about every 1.5 h").says("#tally", "Not started").says("section[aria-labelledby=plan]", "30 %")
	p = p.submit(soak, "what", "started", "heat", "cold").want(http.StatusOK).says("#tally", "Running").says("#tally", "1 cold")
	p.submit(soak, "what", "clean").want(http.StatusOK).says("#tally", "seen clean")
	v.get(path).says("main", "The running soak")

	p = v.get(soak).submit(list, "r.controls", "bad", "w.controls", "sticks").want(http.StatusOK)
	if got := p.value("input#w-controls", "value"); got != "sticks" {
		t.Errorf("the remark on the test list is %q", got)
	}
	shows := p.all("input[name=shows]")
	if len(shows) == 0 {
		t.Fatal("no symptom can come back")
	}
	v.post(soak, map[string][]string{"what": {"recurred"}}).want(http.StatusUnprocessableEntity)
	v.post(soak, map[string][]string{"what": {"recurred"}, "shows": {attrOf(shows[0], "value")}}).want(http.StatusOK).says(".flash", "it came back")
	v.get(soak).says("#tally", "resting, not fixed")
}

// TestLearnt closes cases, sees what they teach, and carries it to another bench.
func TestLearnt(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	bench := func() (*visitor, *casework.Bench) {
		b := casework.New(memory.New(), lib, casework.Options{Files: memory.NewPhotos()})
		return visitBench(t, b, web.Options{Notes: lib}), b
	}
	v, b := bench()
	v.get("/learnt").want(http.StatusOK).says("main", "No case with a bench note has been closed yet")
	for range 2 {
		closeKettle(t, v, b)
	}
	p := v.get("/learnt").want(http.StatusOK).says("#saved", "2 of 2 closed cases fixed").says("main", "Brier score")
	p.says("main", "kettle: 2 cases")
	p = p.submit("/learnt/switch", "learn", "no").want(http.StatusOK).says("main", "not reckoned with")
	p.submit("/learnt/carbon", "carbon", "20").want(http.StatusUnprocessableEntity).says("[role=alert]", "needs its source")
	p.submit("/learnt/carbon", "carbon", "20", "source", "an invented paper").want(http.StatusOK).says("#saved", "an invented paper")

	file := v.fetch("/learnt/share")
	other, _ := bench()
	other.sendFile("/learnt/take-over", "file", "cases.jsonl", file).want(http.StatusOK).says(".flash", "Taken over")
	p = other.get("/learnt").says("#others", "2 cases count").says("#saved", "2 of 2")
	other.sendFile("/learnt/take-over", "file", "cases.jsonl", file).want(http.StatusUnprocessableEntity).says("[role=alert]", "already")
	other.sendFile("/learnt/take-over", "file", "x.txt", []byte("hello")).want(http.StatusUnprocessableEntity)
	p.submit("/learnt/undo").want(http.StatusOK).says("#saved", "No case")
}

// closeKettle repairs a kettle, sees which fault it was on the closing page, and closes.
func closeKettle(t *testing.T, v *visitor, b *casework.Bench) {
	t.Helper()
	p := v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	path, id := p.path, strings.TrimPrefix(p.path, "/case/")
	view, err := b.View(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.RecordRepair(t.Context(), id, casework.Repairing{Repair: view.Suspects[0].Repairs[0].ID}); err != nil {
		t.Fatal(err)
	}
	if _, err := b.RecordTest(t.Context(), id, casework.Testing{Works: true}); err != nil {
		t.Fatal(err)
	}
	v.get(path).says("section[aria-labelledby=next]", "What it was").says("section[aria-labelledby=next]", "The old part would tell better")
	end := path + "/close"
	p = v.get(end).want(http.StatusOK).says("main", "Which fault it was").says("main", "saved")
	p.submit(end, "verdict", "fixed").want(http.StatusOK).says("section[aria-labelledby=outcome]", "saved")
}

// fetch gets a file as it is.
func (v *visitor) fetch(path string) []byte {
	v.t.Helper()
	res, err := v.http.Get(v.url + path)
	if err != nil {
		v.t.Fatal(err)
	}
	defer res.Body.Close()
	data, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		v.t.Fatalf("%s answered %d, %v", path, res.StatusCode, err)
	}
	return data
}

// TestTakeAlong finds a closed case, writes it up, and carries it to another bench with plain forms.
func TestTakeAlong(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	bench := func() (*visitor, *casework.Bench) {
		b := casework.New(memory.New(), lib, casework.Options{Files: memory.NewPhotos(), Photos: memory.NewPhotos()})
		return visitBench(t, b, web.Options{Notes: lib}), b
	}
	v, b := bench()
	closeKettle(t, v, b)
	v.get("/find").want(http.StatusOK)
	p := v.get("/find?q=kettle").want(http.StatusOK).says("main", "1 case")
	path, _ := attr(p.all(".plain a")[0], "href")
	v.get("/find?q=nonesuch").want(http.StatusOK).says("main", "Nothing fits")
	v.get("/find?q=%3F").want(http.StatusUnprocessableEntity)

	v.get(path).says("main", "Write it up")
	v.get(path+"/story").want(http.StatusOK).says("main", "What was checked and done")
	for file, begins := range map[string]string{"story.html": "<!doctype html>", "story.md": "# ", "story.pdf": "%PDF-", "story.zip": "PK", "note.yaml": "device: "} {
		if got := v.fetch(path + "/story/" + file + "?words=yes"); !bytes.HasPrefix(got, []byte(begins)) {
			t.Errorf("%s begins with %.30q", file, got)
		}
	}
	v.get(path + "/story/story.doc").want(http.StatusNotFound)
	v.get(path+"/story/write").want(http.StatusOK).says("textarea", "device: ").says("#look h2", "It can be used")
	p = v.get(path).says("section[aria-labelledby=outcome]", "What it was")
	if len(p.all("#suspects")) > 0 {
		t.Error("a closed case has a second list of faults")
	}

	// What is private is told only if asked for.
	p = v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	v.get(p.path).submit(p.path+"/remark", "text", "a quarrel in the family", "private", "yes").want(http.StatusOK).says("#timeline", "private")
	for query, want := range map[string]bool{"": false, "?words=yes": false, "?private=yes": true} {
		if got := bytes.Contains(v.fetch(p.path+"/story/story.html"+query), []byte("quarrel")); got != want {
			t.Errorf("story%s tells of the private remark: %v", query, got)
		}
	}

	// The next kettle is like it.
	p = v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	view, err := b.View(t.Context(), strings.TrimPrefix(p.path, "/case/"))
	if err != nil {
		t.Fatal(err)
	}
	if len(view.Known) > 0 {
		p.says("section[aria-labelledby=like]", "It was:")
	}

	zip, csv := v.fetch("/take-along/pack"), v.fetch("/take-along/open-data?provider=Hall&country=gbr")
	if !bytes.Contains(csv, []byte("Hall,GBR")) {
		t.Errorf("open repair data: %s", csv)
	}
	v.get("/take-along/open-data?country=England").want(http.StatusUnprocessableEntity).says("[role=alert]", "no country")
	w, _ := bench()
	w.sendFile("/take-along/unpack", "file", "bench.zip", zip).want(http.StatusOK).says(".flash", "3 cases")
	if again := w.fetch("/take-along/pack"); !bytes.Equal(zip, again) {
		t.Error("packing again gives other bytes")
	}
	w.sendFile("/take-along/unpack", "file", "bench.zip", []byte("x")).want(http.StatusUnprocessableEntity)
	u, _ := bench()
	u.sendFile("/take-along/open-data", "file", "r.csv", csv).want(http.StatusOK).says(".flash", "1 record")
	u.get("/find?q=kettle").says("main", "1 case")
}
