package web_test

import (
	"net/http"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// TestLifeOfACase repairs a kettle with plain forms, as a browser without JavaScript would.
func TestLifeOfACase(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").want(http.StatusOK).says("main", "Nothing is on the bench")
	p = p.submit("/take-in", "device", "kettle", "what", "does not heat", "label", "Kitchen of the hall").want(http.StatusOK)
	path := p.path
	if !strings.HasPrefix(path, "/case/") {
		t.Fatalf("taking in a kettle led to %s", path)
	}
	p.says("h1", "Kitchen of the hall").says("#said", "from “")

	// One thing to do, with outcomes as buttons or fields.
	if n := len(p.all(".ticket")); n != 1 {
		t.Fatalf("%d tickets, want 1", n)
	}
	if len(p.all(".ticket .stubs button")) == 0 {
		t.Fatal("the ticket has no button")
	}

	// A free question, answered and undone.
	ask := p.all("form.quickask button")[0]
	name := attrOf(ask, "name")
	p = v.post(path+"/look", map[string][]string{name: {"no"}}).want(http.StatusOK).says(".flash", "Written down")
	before := len(p.all("ul.known .facts li"))
	event := p.query.Get("done")
	p = v.post(path+"/undo", map[string][]string{"event": {event}}).want(http.StatusOK)
	if after := len(p.all("ul.known .facts li")); after != before-1 {
		t.Errorf("%d facts after undoing one of %d", after, before)
	}

	p = lookOver(t, v, b, path)
	p = repairAndTry(t, v, b, path)
	closeAndReopen(t, v, path)
}

// lookOver records a check that was not advised, and puts it right.
func lookOver(t *testing.T, v *visitor, b *casework.Bench, path string) *sheet {
	t.Helper()
	id := strings.TrimPrefix(path, "/case/")
	view, err := b.View(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	var check casework.Step
	for _, c := range view.Checks {
		if c.Fields[0].Kind == "sign" {
			check = c
		}
	}
	v.get(path+"/moves").want(http.StatusOK).says("main", check.Title)
	where := path + "/check/" + check.ID
	field := "f." + check.Fields[0].Finding
	p := v.get(where).want(http.StatusOK).submit(where, field, "yes", "minutes", "2,5").want(http.StatusOK).says(".flash", check.Title)

	fix := path + "/correct/" + p.query.Get("done")
	form := v.get(fix).want(http.StatusOK)
	if got := form.fill(fix); got.Get(field) != "yes" || got.Get("minutes") != "2.5" {
		t.Errorf("the form to put it right holds %v", got)
	}
	p = form.submit(fix, field, "no").want(http.StatusOK)
	p.says("#timeline", "was:")
	return p
}

// repairAndTry does the first repair of the note and tries the whole, twice.
func repairAndTry(t *testing.T, v *visitor, b *casework.Bench, path string) *sheet {
	t.Helper()
	id := strings.TrimPrefix(path, "/case/")
	view, err := b.View(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	where := path + "/repair/" + view.Repairs[0].ID
	p := v.get(where).want(http.StatusOK).submit(where, "money", "3,20", "what", "with what lay about", "meant", "yes").want(http.StatusOK)
	p.says("h2", "").says(".casehead", "3.20 EUR").says(".tags", "to be tested")

	test := path + "/test"
	v.get(test).want(http.StatusOK).submit(test, "works", "").want(http.StatusUnprocessableEntity).says("[role=alert]", "not said")
	bad := v.get(test).submit(test, "works", "no", "minutes", "many").want(http.StatusUnprocessableEntity).says("[role=alert]", "cannot be read")
	if got := bad.value("input#minutes", "value"); got != "many" {
		t.Errorf("the minutes typed are lost: %q", got)
	}
	shown := view.Known[0].Finding
	p = v.get(test).submit(test, "works", "no", "f."+shown, "yes").want(http.StatusOK).says(".flash", "still wrong")
	return v.get(test).submit(test, "works", "yes").want(http.StatusOK).says(".flash", "it works")
}

func closeAndReopen(t *testing.T, v *visitor, path string) {
	t.Helper()
	end := path + "/close"
	v.get(end).want(http.StatusOK).submit(end).want(http.StatusUnprocessableEntity)
	p := v.get(end).submit(end, "verdict", "fixed", "remark", "the socket was loose").want(http.StatusOK)
	p.says("section[aria-labelledby=outcome]", "Closed: fixed").says("main", "What it was")
	if len(p.all(".ticket")) != 0 {
		t.Error("a closed case still has a ticket")
	}
	v.post(path+"/remark", map[string][]string{"text": {"late"}}).want(http.StatusOK)
	v.post(path+"/repair", map[string][]string{"what": {"more"}}).want(http.StatusConflict).says("main", "Reopen")
	v.get(path+"/sheet").want(http.StatusOK).says("article", "the socket was loose")
	v.get("/").says("details", "fixed")
	v.post(path+"/reopen", nil).want(http.StatusOK).says(".flash", "reopened")
}

func TestPartsAndOpening(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "kettle").want(http.StatusOK)
	path := p.path
	view, err := b.View(t.Context(), strings.TrimPrefix(path, "/case/"))
	if err != nil {
		t.Fatal(err)
	}
	p = p.submit(path+"/open-up", "access", view.Levels[1].ID).want(http.StatusOK).says(".tags", view.Levels[1].Title)
	parts := path + "/parts"
	p = v.get(parts).want(http.StatusOK).submit(parts, "what", "a switch", "money", "4.50", "days", "3").want(http.StatusOK)
	p.says("section[aria-labelledby=record]", "It is here").says(".casehead", "4.50 EUR")
	p.submit(path+"/arrive").want(http.StatusOK).says(".flash", "arrived")

	own := path + "/repair"
	v.get(own).submit(own).want(http.StatusUnprocessableEntity)
	v.get(own).submit(own, "what", "scraped off the scale").want(http.StatusOK).says(".flash", "scraped off the scale")

	first := path + "/correct/1"
	v.get(first).want(http.StatusOK).submit(first, "label", "Green one", "owner", "Ida", "worth", "12.50").want(http.StatusOK).says("h1", "Green one").says(".casehead", "12.50 EUR")
	if got := v.get(first).value("input#owner", "value"); got != "Ida" {
		t.Errorf("the owner is %q", got)
	}
	v.get(path + "/sheet").want(http.StatusOK)
	if strings.Contains(v.get(path).text("body"), "Ida") {
		t.Error("the owner's name is shown where it is not asked for")
	}
}

func TestAskingBack(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/").submit("/take-in", "device", "coffee", "what", "leaks").want(http.StatusOK)
	picks := p.all("button.pick")
	if len(picks) < 2 {
		t.Fatalf("“coffee” could be %d devices, want several", len(picks))
	}
	form := p.fill("/take-in")
	form.Set("note", attrOf(picks[0], "value"))
	if form.Get("what") != "leaks" {
		t.Errorf("what it does was lost: %v", form)
	}
	v.post("/take-in", form).want(http.StatusOK).says("h1", "")

	p = v.get("/").submit("/take-in", "device", "zorbulator", "what", "does nothing").want(http.StatusOK).says("main", "No bench note fits")
	p = v.post("/take-in", map[string][]string{"device": {"zorbulator"}, "what": {"does nothing"}, "category": {"Misc"}}).want(http.StatusOK)
	if !strings.HasPrefix(p.path, "/case/") {
		t.Errorf("a device without a note led to %s", p.path)
	}
}

func TestSettings(t *testing.T) {
	v, b := visit(t)
	p := v.get("/settings").want(http.StatusOK)
	p.submit("/settings", "rate", "much", "who", "Ida").want(http.StatusUnprocessableEntity).says("[role=alert]", "figure")
	v.get("/settings").submit("/settings", "rate", "12,50", "no-live", "yes", "lacks", "ESR meter", "refuse", "mains", "who", "Ida").want(http.StatusOK).says("[role=status]", "Kept")
	s, err := b.BenchSettings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if s.Rate != 12.5 || !s.NoLive || len(s.Refuse) != 1 || len(s.Lacks) != 1 {
		t.Errorf("settings are %+v", s)
	}
	if got := v.get("/settings").value("input#who", "value"); got != "Ida" {
		t.Errorf("the name is %q", got)
	}
	p = v.get("/").submit("/take-in", "device", "kettle").want(http.StatusOK).says("#timeline", "Ida")
	own := p.path + "/settings"
	v.get(own).want(http.StatusOK).submit(own, "worth", "33").want(http.StatusOK).says(".casehead", "33.00 EUR")
}

// TestDoubtIsAskedBack says something with two meanings: a no leaves the other
// one to be asked, a yes settles it.
func TestDoubtIsAskedBack(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/").submit("/take-in", "device", "powered loudspeaker", "what", "it makes a funny noise").want(http.StatusOK)
	alts := p.all("#said button[value=yes]")
	if len(alts) < 2 {
		t.Fatalf("%d meanings are asked back, want several: %s", len(alts), p.text("#said"))
	}
	first, second := attrOf(alts[0], "name"), attrOf(alts[1], "name")
	look := p.path + "/look"
	p = v.post(look, map[string][]string{"heard": {"2"}, first: {"no"}}).want(http.StatusOK)
	if len(p.all("#said button[name="+second+"]")) == 0 || len(p.all("#said button[name="+first+"]")) != 0 {
		t.Errorf("after a no it asks %s", p.text("#said"))
	}
	p = v.post(look, map[string][]string{"heard": {"2"}, second: {"yes"}}).want(http.StatusOK)
	if n := len(p.all("#said .doubt")); n != 0 {
		t.Errorf("after a yes %d doubts are left: %s", n, p.text("#said"))
	}
}
