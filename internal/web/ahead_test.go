package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"fettler/internal/casework"
	"fettler/internal/demo"
)

// onDemo is a visitor on the invented case.
func onDemo(t *testing.T) (*visitor, *casework.Bench) {
	t.Helper()
	v, b := visit(t)
	if _, err := demo.Install(t.Context(), b); err != nil {
		t.Fatal(err)
	}
	return v, b
}

// entries is how many events the case has.
func entries(t *testing.T, b *casework.Bench) int {
	t.Helper()
	events, err := b.Export(t.Context(), demo.Case, true)
	if err != nil {
		t.Fatal(err)
	}
	return len(events)
}

// From the ticket one sees what an outcome would change, and from there one writes it down.
func TestWhatIfWithoutScript(t *testing.T) {
	v, b := onDemo(t)
	before := entries(t, b)
	p := v.get("/case/demo?look=further").want(http.StatusOK)
	p.says("main", "The advice looked")
	if strings.Contains(p.text("main"), "Look further ahead") {
		t.Error("it has looked further ahead and offers to do so again")
	}
	links := hrefs(p, "details a.row-link", "/what-if?")
	if len(links) < 2 {
		t.Fatalf("%d outcomes to look into", len(links))
	}
	for _, l := range links {
		w := v.get(l).want(http.StatusOK)
		w.says("main", "nothing is written down").says("#then", "If this were so").says("main", "What to do next")
		w.says("main", "The suspects then")
	}
	// by the form: the same address comes out of it
	w := v.get("/case/demo/what-if").want(http.StatusOK)
	w = w.submit("/case/demo/what-if", "f.supply.ripple.ripple", "1.9", "u.supply.ripple.ripple", "V").want(http.StatusOK)
	w.says("main", "1.9 V").says("main", "The triangle is where it stands now")
	if got := w.value("input[name=f.supply.ripple.ripple]", "value"); !strings.HasPrefix(got, "1.9") {
		t.Errorf("the form forgot what was supposed: %q", got)
	}
	back := hrefs(w, "main a.main", "/check/")
	if len(back) != 1 {
		t.Fatalf("no way to write it down: %v", back)
	}
	v.get(back[0]).want(http.StatusOK)
	if now := entries(t, b); now != before {
		t.Fatalf("trying out wrote %d events down", now-before)
	}
}

func TestWhatIfThatMakesNoSense(t *testing.T) {
	v, _ := onDemo(t)
	for _, x := range []struct{ name, query, says string }{
		{"nothing of that name", "a=nosuch%3Dyes", "nosuch"},
		{"no answer to it", "a=hum%3Dperhaps", "perhaps"},
		{"a repair that is none", "do=repair:nosuch", "nosuch"},
		{"half an answer", "a=hum", "no answer"},
	} {
		p := v.get("/case/demo/what-if?" + x.query).want(http.StatusUnprocessableEntity)
		p.says(".problem", x.says)
	}
	v.get("/case/demo/what-if").want(http.StatusOK).submit("/case/demo/what-if").want(http.StatusUnprocessableEntity).says(".problem", "supposed")
	v.get("/case/none/what-if").want(http.StatusNotFound)
}

// The map is a picture with a title, a description and the same as a list; every ticket's words are in the list.
func TestMapWithoutScript(t *testing.T) {
	v, b := onDemo(t)
	p := v.get("/case/demo/map").want(http.StatusOK)
	r, err := b.Ahead(t.Context(), demo.Case)
	if err != nil || r == nil {
		t.Fatalf("the page did not leave its plan: %v, %v", r, err)
	}
	root, err := r.Map(3)
	if err != nil {
		t.Fatal(err)
	}
	list := p.text("ul.maplist")
	var walk func(s *casework.Spot)
	walk = func(s *casework.Spot) {
		if !s.Rest && !s.Works && !strings.Contains(strings.ToLower(list), strings.ToLower(s.Title)) {
			t.Errorf("the list does not have %q", s.Title)
		}
		for _, x := range s.Spots {
			walk(x)
		}
	}
	walk(root)
	if p.text("svg.movemap desc") == "" || len(p.all("svg.movemap path.river")) != len(p.all("ul.maplist li"))-1 {
		t.Errorf("%d ways drawn, %d told", len(p.all("svg.movemap path.river")), len(p.all("ul.maplist li"))-1)
	}
	if now, more := len(p.all("svg rect.card")), len(v.get("/case/demo/map?levels=4").want(http.StatusOK).all("svg rect.card")); more < now {
		t.Errorf("%d places on three levels, %d on four", now, more)
	}
	for _, q := range []string{"9", "-1", "many", "1e9"} {
		if s := v.get("/case/demo/map?levels=" + q).status; s != http.StatusNotFound && s != http.StatusUnprocessableEntity {
			t.Errorf("%s levels: %d", q, s)
		}
	}
	ahead := v.get("/case/demo/ahead").want(http.StatusOK)
	ahead.says("main", "chance that it works in the end").says("main", "on average").says("#stop", "stop").says("main", "An hour of your time is counted as")
	v.get("/case/demo").want(http.StatusOK).says("main", "From … to: one time in ten it takes less")
}

// Every finding that counts has a column, every suspect a row with as many cells.
func TestWhyWithoutScript(t *testing.T) {
	v, b := onDemo(t)
	p := v.get("/case/demo/why").want(http.StatusOK)
	w, err := b.Because(t.Context(), demo.Case)
	if err != nil {
		t.Fatal(err)
	}
	if heads := len(p.all(".whytable thead th")); heads != len(w.Seen)+1 {
		t.Errorf("%d columns for %d findings", heads, len(w.Seen))
	}
	if cells := len(p.all(".whytable tbody td")); cells != len(w.Seen)*len(w.Suspects) {
		t.Errorf("%d cells for %d findings and %d suspects", cells, len(w.Seen), len(w.Suspects))
	}
	p.says("main", "What would change the first suspect").says("main", "likelier")
	links := hrefs(p, ".minds a", "/what-if?")
	if len(links) < 3 {
		t.Fatalf("%d outcomes to look into", len(links))
	}
	for _, l := range links[:3] {
		v.get(l).want(http.StatusOK).says("main", "If this were so")
	}
	for _, path := range []string{"why", "map", "ahead", "what-if"} {
		v.get("/case/none/" + path).want(http.StatusNotFound)
	}
}

// What cannot be planned says so on a page.
func TestAheadWithNothingAhead(t *testing.T) {
	v, b := onDemo(t)
	if _, err := b.Close(t.Context(), demo.Case, casework.Closing{Verdict: casework.PassedOn}); err != nil {
		t.Fatal(err)
	}
	v.get("/case/demo/map").want(http.StatusConflict).says("main", "Reopen it")
	v.get("/case/demo/why").want(http.StatusOK)
}

// hrefs are where the links lead that the selector finds and that have this in them.
func hrefs(p *sheet, selector, part string) []string {
	var out []string
	for _, n := range p.all(selector) {
		i := slices.IndexFunc(n.Attr, func(a html.Attribute) bool { return a.Key == "href" })
		if i < 0 || !strings.Contains(n.Attr[i].Val, part) {
			continue
		}
		if u, err := url.Parse(n.Attr[i].Val); err == nil {
			out = append(out, u.RequestURI())
		}
	}
	return out
}
