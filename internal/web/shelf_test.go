package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"fettler/internal/shelf"
)

// sendList posts a list to the shelf as a browser would.
func (v *visitor) sendList(name, list string) *sheet {
	v.t.Helper()
	return v.sendFile("/shelf/list", "file", name, []byte(list))
}

// TestShelf puts parts on the shelf, finds, takes, moves, counts and undoes, all with plain forms.
func TestShelf(t *testing.T) {
	v, _ := visit(t)
	v.get("/shelf").want(http.StatusOK).says("main", "The shelf is empty")
	p := v.get("/shelf").submit("/shelf", "name", "electrolytic 470 µF 25 V 105 °C", "count", "10", "place", "drawer 3").want(http.StatusOK)
	p.says(".flash", "Stocked 10 × electrolytic 470 µF 25 V 105 °C in drawer 3").says(".shelfline", "drawer 3")
	v.get("/shelf").submit("/shelf", "name", "relay 12 V", "from", "on a board", "board", "bread maker").want(http.StatusOK)
	for _, bad := range []url.Values{{"name": {""}}, {"name": {"x"}, "count": {"-2"}}, {"name": {"x"}, "count": {"1.5"}}, {"name": {"x"}, "from": {"the moon"}}} {
		v.post("/shelf", bad).want(http.StatusUnprocessableEntity).says("[role=alert]", ".")
	}
	p = v.get("/shelf?text=470").says(".shelflines", "electrolytic")
	if strings.Contains(p.text(".shelflines"), "relay") {
		t.Error("the search shows all")
	}
	p = p.submit("/shelf/line/s1").want(http.StatusOK).says(".flash", "Used 1 × electrolytic")
	if p.query.Get("text") != "470" || p.text(".pieces") != "pieces: 9" {
		t.Errorf("after taking one: %v, %q", p.query, p.text(".pieces"))
	}
	p.submit("/shelf/undo").want(http.StatusOK).says(".pieces", "10")
	line := v.get("/shelf/line/s1").says(".facts", "470 µF").says(".many", "10")
	line = v.post(line.path, url.Values{"do": {"count"}, "count": {"7"}}).want(http.StatusOK).says(".many", "7")
	line.submit("/shelf/undo").says(".many", "10")
	v.post(line.path, url.Values{"do": {"use"}, "count": {"99"}}).want(http.StatusUnprocessableEntity).says("[role=alert]", "there are 10")
	v.post(line.path, url.Values{"do": {"move"}, "place": {"drawer 4"}}).want(http.StatusOK).says(".bigplace", "drawer 4")
	off := v.get("/shelf/line/s2").submit("/shelf/line/s2", "place", "drawer 9").want(http.StatusOK)
	off.says(".tags", "pulled").says(".timeline", "took relay 12 V off its board")
	v.post(line.path, url.Values{"do": {"rename"}, "name": {"electrolytic 47 µF 25 V"}, "from": {"pulled"}}).want(http.StatusOK).says("h1", "47 µF").says(".tags", "pulled")
	v.post(line.path, url.Values{"do": {"rename"}, "name": {" "}}).want(http.StatusUnprocessableEntity)
	v.post(line.path, url.Values{"do": {"spoil"}}).want(http.StatusUnprocessableEntity)
	v.get("/shelf/log").says("main", "undone").says("main", "Moved electrolytic")
	v.get("/shelf?place=drawer+4").says("#lines", "In drawer 4: 1 sort")
	v.get("/shelf/line/s99").want(http.StatusNotFound)
}

// TestListToTheShelf looks at a list before it is taken, and takes it whole or not at all.
func TestListToTheShelf(t *testing.T) {
	v, b := visit(t)
	v.get("/shelf/list").want(http.StatusOK)
	v.sendList("empty.csv", "").want(http.StatusUnprocessableEntity).says("[role=alert]", "No list was sent")
	p := v.sendList("hall.csv", "Stuff,Bin,How many\nresistor 4k7 1/4 W,3,50\nfilm 100n,4,lots\n").want(http.StatusOK)
	p.says("main", "No column says what the parts are")
	form := p.all("form[action]")
	action := ""
	for _, f := range form {
		if a, _ := attr(f, "action"); strings.HasPrefix(a, "/shelf/list/") {
			action = a
		}
	}
	columns := url.Values{"column": {"what it is", "place", "pieces"}, "do": {"look"}}
	p = v.post(action, columns).want(http.StatusOK).says(".figures", "1 line can be taken 1 cannot").says(".troublelist", "Line 3").says(".troublelist", "lots").says(".shelflines", "4.7 kΩ")
	columns.Set("do", "take")
	v.post(action, columns).want(http.StatusUnprocessableEntity).says("[role=alert]", "left out")
	if page, err := b.Shelf(t.Context(), shelf.Ask{}); err != nil || page.All != 0 {
		t.Fatalf("half a list was taken: %+v, %v", page, err)
	}
	columns.Set("without", "yes")
	v.post(action, columns).want(http.StatusOK).says(".flash", "from the list hall.csv").says(".shelfline", "resistor 4k7")
	v.post(action, columns).want(http.StatusUnprocessableEntity).says("[role=alert]", "no longer open")
	if csv := v.get("/shelf/list.csv").want(http.StatusOK); !strings.Contains(csv.text(""), "resistor 4k7 1/4 W") {
		t.Errorf("%q", csv.text(""))
	}
}

// TestLabels prints labels on a sheet that is partly used.
func TestLabels(t *testing.T) {
	v, _ := visit(t)
	v.get("/shelf/labels?what=places").want(http.StatusUnprocessableEntity).says("[role=alert]", "nothing to label")
	v.get("/shelf").submit("/shelf", "name", "fuse T 2 A", "place", "drawer 3").want(http.StatusOK)
	v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	for _, what := range []string{"places&first=5&paper=2x6", "parts&code=link", "devices", "bags", "own&own=drawer+1%3B+fuses%0Adrawer+2"} {
		p := v.get("/shelf/labels?what=" + what).want(http.StatusOK)
		if len(p.all(".a4 svg")) != 1 || len(p.all(".a4 path")) == 0 {
			t.Errorf("%s: no sheet", what)
		}
	}
	for _, bad := range []string{"places&first=25", "places&first=x", "places&first=0", "places&margin=400", "spoons"} {
		v.get("/shelf/labels?what="+bad).want(http.StatusUnprocessableEntity).says("[role=alert]", ".")
	}
}

// TestBuying goes from offers to an order, from the shelf into a device, and from a device to the shelf.
func TestBuying(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "powered loudspeaker", "what", "it hums").want(http.StatusOK)
	path, id := p.path, strings.TrimPrefix(p.path, "/case/")
	v.get("/shopping").says(".shop", "4700 µF").says("textarea", "[ ] 2 × electrolytic 4700 µF 63 V")
	offers := path + "/offers"
	v.get(offers).submit(offers, "what.0", "2 × electrolytic 4700 µF 63 V", "price.0", "-3").want(http.StatusUnprocessableEntity).says("[role=alert]", "price")
	v.get(offers).submit(offers, "what.0", "2 × electrolytic 4700 µF 63 V", "days.0", "NaN").want(http.StatusUnprocessableEntity)
	v.get(offers).submit(offers, "what.0", "spoon", "price.0", "3").want(http.StatusUnprocessableEntity).says("[role=alert]", "no repair")
	v.get(offers).submit(offers, "paste", "; ; 3").want(http.StatusUnprocessableEntity).says("[role=alert]", "Line 1")
	p = v.get(offers).submit(offers, "what.0", "2 × electrolytic 4700 µF 63 V", "price.0", "3,20", "postage.0", "1", "days.0", "1", "match.0", "names the same symptoms",
		"paste", "6 × electrolytic 4700 µF 63 V -> supply.recap; 4; 1; 1; ; ; ; 20\nwoofer; 30; 5; 9").want(http.StatusOK)
	p.says(".offers", "make the faults it cures 2.5 × as likely").says(".offers", "3 times over").says("main", "All sets of the offers were compared")
	p = p.submit(offers, "drop.2", "yes").want(http.StatusOK)
	if strings.Contains(p.text(".offers"), "woofer") {
		t.Error("an offer that was taken out is still there")
	}
	k, err := b.Basket(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if len(k.Buy) > 0 {
		p.submit(path+"/parts").want(http.StatusOK).says("main", "waiting for parts")
		v.post(path+"/undo", url.Values{}).want(http.StatusOK)
	}

	on := v.get("/shelf").submit("/shelf", "name", "electrolytic 4700 µF 63 V 105 °C", "count", "4", "place", "drawer 3").want(http.StatusOK)
	line, _ := attr(on.all("a.what")[0], "href")
	repair := path + "/repair/supply.recap"
	p = v.get(repair).says("main", "From the shelf 2 × electrolytic 4700 µF 63 V 105 °C , drawer 3")
	p.submit(repair, "meant", "yes").want(http.StatusOK).says(".flash", "from the shelf: 2 × electrolytic")
	v.get(line).says(".many", "2").says(".timeline", "for case "+id)
	v.post(path+"/undo", url.Values{}).want(http.StatusOK)
	v.get(line).says(".many", "4")
	form := v.get(repair).fill(repair)
	form.Set("meant", "yes")
	form.Del("shelf")
	v.post(repair, form).want(http.StatusOK)
	v.get(line).says(".many", "4")

	v.get(path + "/salvage").want(http.StatusUnprocessableEntity)
	v.get(path+"/close").submit(path+"/close", "verdict", "kept for parts").want(http.StatusOK).says("main", "Note its parts on the shelf")
	salvage := path + "/salvage"
	v.get(salvage).submit(salvage).want(http.StatusUnprocessableEntity).says("[role=alert]", "No part was chosen")
	form = v.get(salvage).fill(salvage)
	form.Set("part", "protect.relay")
	form.Set("place", "shelf B")
	v.post(salvage, form).want(http.StatusOK).says(".shelflines", "on a board")
	v.get(salvage).says("main", "On the shelf already")
	v.get(offers).says("main", "The case is closed")
}
