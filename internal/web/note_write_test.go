package web_test

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/notedesk"
	"fettler/internal/store/memory"
	"fettler/internal/web"
)

const hallLamp = `device: hall-lamp
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

// visitDesk is a bench with a folder for notes, which is not there yet.
func visitDesk(t *testing.T) (*visitor, *casework.Bench, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "notes")
	d, err := notedesk.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), d, casework.Options{})
	return visitBench(t, b, web.Options{Notes: d, Desk: d, Gallery: true}), b, dir
}

func TestADeviceNotFoundIsAssembledSavedAndTakenIn(t *testing.T) {
	v, b, dir := visitDesk(t)
	p := v.post("/take-in", url.Values{"device": {"zorbulator"}, "what": {"dead, nothing happens"}, "label": {"Mo 7"}}).want(200)
	link := firstAttr(p, "p.offer a", "href")
	if !strings.Contains(link, "device=zorbulator") {
		t.Fatalf("no way to assemble one: %q", link)
	}
	p = v.get(link).want(200).says("h1", "Assemble a device")
	if got := firstAttr(p, "#title", "value"); got != "zorbulator" {
		t.Errorf("its name is asked again: %q", got)
	}
	waiting := url.Values{"device": {"zorbulator"}, "what": {"dead, nothing happens"}, "label": {"Mo 7"}}
	form := url.Values{"title": {"zorbulator"}, "motor": {"yes"}, "opening": {"six screws"}, "minutes": {"a while"}}
	for k, x := range waiting {
		form[k] = x
	}
	v.post("/assemble", form).want(422).says("main", "what it runs on")
	form.Set("power", "mains")
	p = v.post("/assemble", form).want(422).says("main", "minutes")
	if firstAttr(p, "#opening", "value") != "six screws" || len(p.all("[name=motor][checked]")) != 1 {
		t.Error("what was entered is lost")
	}
	form.Set("minutes", "12,5")
	p = v.post("/assemble", form).want(200).says("#look", "It can be used").says("#look", "suspect")
	text := p.text("#text")
	if raw := p.all("#text")[0].FirstChild; raw != nil {
		text = raw.Data
	}
	if len(p.all("#look svg")) != 1 || !strings.Contains(text, "12.5 min") {
		t.Errorf("no picture, or not these minutes:\n%s", text)
	}
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Error("something was saved before it was asked for")
	}

	form = url.Values{"text": {strings.ReplaceAll(text, "\n", "\r\n")}, "do": {"take-in"}}
	for k, x := range waiting {
		form[k] = x
	}
	p = v.post("/write", form).want(200)
	if !strings.HasPrefix(p.path, "/case/") {
		t.Fatalf("it led to %s: %s", p.path, p.text("main"))
	}
	list, err := b.List(t.Context())
	if err != nil || len(list) != 1 || list[0].Kind != "zorbulator" {
		t.Errorf("%+v, %v", list, err)
	}
	if got, err := os.ReadFile(filepath.Join(dir, "own-zorbulator.yaml")); err != nil || string(got) != text {
		t.Errorf("%v: not what was looked at:\n%s", err, got)
	}
	v.get("/notes/own-zorbulator").want(200).says("main", "your own note")
}

func TestEveryMistakeOfADraftIsShownWithItsPlace(t *testing.T) {
	v, _, dir := visitDesk(t)
	bad := strings.Replace(strings.Replace(hallLamp, "kind: switch", "kind: swich", 1), "category: Lamp", "category: Lampp", 1)
	for _, do := range []string{"look", ""} {
		p := v.post("/write", url.Values{"text": {bad}, "do": {do}}).want(200)
		p.says("#look", "2 mistakes").says("#look .problems", "3:11").says("#look .problems", "Lamp").says("#look .problems", "7:11").says("#look .problems", "switch")
		if p.all("#text")[0].FirstChild.Data != bad {
			t.Error("the text is another one")
		}
	}
	v.post("/write", url.Values{"text": {bad}, "do": {"save"}}).want(422).says("main", "2 mistakes in it")
	v.post("/write", url.Values{"text": {""}, "do": {"save"}}).want(422)
	v.post("/write", url.Values{"text": {"device: <script>alert(1)</script>"}}).want(200)
	v.post("/write", url.Values{"text": {strings.Repeat("x", 210<<10)}, "do": {"look"}}).want(422).says("main", "too long")
	if _, err := os.Stat(dir); err == nil {
		t.Error("something was saved")
	}
	// What the script asks for is the part of the page alone.
	p := v.post("/write/look", url.Values{"text": {hallLamp}}).want(200).says("body", "It can be used").says("body", "as expected").says("body", "Switch burnt out")
	p.says("body", "nothing to draw") // a lamp of one part feeds nothing
	if len(p.all("main")) != 0 {
		t.Error("a whole page")
	}
}

func TestASavedNoteIsReadAtOnceAndNeverWrittenOverUnasked(t *testing.T) {
	v, _, dir := visitDesk(t)
	v.get("/notes/hall-lamp").want(404)
	p := v.post("/write", url.Values{"text": {hallLamp}, "do": {"save"}}).want(200)
	if p.path != "/notes/hall-lamp" {
		t.Fatalf("it led to %s", p.path)
	}
	p.says("main", "hall-lamp.yaml").says("main", "all as expected").says("main", "your own note")
	changed := strings.Replace(hallLamp, "burnt out", "worn out", 1)
	p = v.post("/write", url.Values{"text": {changed}, "do": {"save"}}).want(422).says("main", "Write over hall-lamp.yaml?").says("pre", "burnt out")
	if got, _ := os.ReadFile(filepath.Join(dir, "hall-lamp.yaml")); string(got) != hallLamp {
		t.Fatal("written over")
	}
	p = v.post("/write", url.Values{"text": {changed}, "over": {firstAttr(p, "#replace", "value")}, "then": {firstAttr(p, "[name=then]", "value")}}).want(200)
	if p.path != "/notes/hall-lamp" || !strings.Contains(p.text("main"), "Switch worn out") {
		t.Fatalf("%s: %s", p.path, p.text("main"))
	}
	v.get("/write?from=hall-lamp").want(200).says("#text", "worn out")
	v.get("/write?from=kettle").want(200).says("main", "shipped note")
	v.get("/write?from=no-such").want(404)

	// Changed in an editor, and broken by it.
	if err := os.WriteFile(filepath.Join(dir, "hall-lamp.yaml"), []byte(strings.Replace(hallLamp, "title: switch burnt", "titel: switch burnt", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	v.post("/notes/again", nil).want(200).says("#main", "read again").says(".problems", "titel")
}

func TestTheFirstTextIsANoteAlready(t *testing.T) {
	v, _, _ := visitDesk(t)
	v.get("/write").want(200).says("#look h2", "It can be used")
}

func TestABenchWithoutAFolderSaysSo(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/write").want(200).says("main", "no folder for notes of your own")
	if len(p.all("[name=do][value=save]")) != 0 {
		t.Error("it offers to save all the same")
	}
	v.post("/write", url.Values{"text": {hallLamp}, "do": {"save"}}).want(422).says("main", "no folder for notes of your own").says("#text", "hall-lamp")
}

func TestANotesPageShowsWhatItsAuthorWantsToKnow(t *testing.T) {
	v, _, _ := visitDesk(t)
	p := v.get("/notes/powered-loudspeaker").want(200).says("main", "What feeds what").says("table.raised", "hums").says("main", "all as expected").says("main", "Rehearse it")
	if len(p.all("main svg")) == 0 || len(p.all("table.raised tbody tr")) < 8 {
		t.Error("no picture or hardly a symptom")
	}
	if got := v.get("/notes/powered-loudspeaker/picture.svg").want(200).header.Get("Content-Type"); got != "image/svg+xml" {
		t.Error(got)
	}
	v.get("/notes/no-such/picture.svg").want(404)
	v.post("/notes/no-such/rehearse", nil).want(404)
	v.post("/write", url.Values{"text": {hallLamp}, "do": {"save"}}).want(200)
	p = v.post("/notes/hall-lamp/rehearse", nil).want(200)
	for !strings.Contains(p.text("main"), "ends cured") && t.Context().Err() == nil {
		p = v.get("/notes/hall-lamp").want(200)
	}
	p.says("main", "1 of 1 faults were drawn")
}

func TestEveryBlockHasAPage(t *testing.T) {
	v, _, _ := visitDesk(t)
	p := v.get("/blocks").want(200)
	links := p.all("a.row-link")
	if len(links) < 50 {
		t.Fatalf("%d blocks", len(links))
	}
	for i := 0; i < len(links); i += 9 {
		href, _ := attr(links[i], "href")
		v.get(href).want(200).says("main", "What can fail, and how it shows").says("main", "What the repair takes")
	}
	v.get("/blocks/flyback-supply").want(200).says("main", "How to check it")
	v.get("/blocks/no-such").want(404)
}

func firstAttr(p *sheet, selector, key string) string {
	for _, n := range p.all(selector) {
		if x, ok := attr(n, key); ok {
			return x
		}
	}
	return ""
}
