package web_test

import (
	"errors"
	"net/http"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

func attrOf(n *html.Node, key string) string { v, _ := attr(n, key); return v }

func TestMistakesBecomePages(t *testing.T) {
	v, _ := visit(t)
	kettle := v.get("/").submit("/take-in", "device", "kettle").want(http.StatusOK).path
	for _, c := range []struct {
		name   string
		ask    func() *sheet
		status int
		says   string
	}{
		{"no such page", func() *sheet { return v.get("/elsewhere") }, 404, "no page here"},
		{"no such case", func() *sheet { return v.get("/case/none") }, 404, "list of cases"},
		{"no such check", func() *sheet { return v.get(kettle + "/check/none") }, 404, "no check"},
		{"no such repair", func() *sheet { return v.get(kettle + "/repair/none") }, 404, "no repair"},
		{"no such note", func() *sheet { return v.get("/notes/none") }, 404, "no bench note"},
		{"no such event", func() *sheet { return v.get(kettle + "/correct/99") }, 404, "no event 99"},
		{"event by a word", func() *sheet { return v.get(kettle + "/correct/last") }, 404, "no number"},
		{"no such screen", func() *sheet { return v.get("/gallery/none") }, 404, "no screen"},
		{"undo the opening", func() *sheet { return v.post(kettle+"/undo", map[string][]string{"event": {"1"}}) }, 422, "cannot be undone"},
		{"nothing said", func() *sheet { return v.post(kettle+"/say", map[string][]string{"text": {" "}}) }, 422, "nothing was said"},
		{"nothing noticed", func() *sheet { return v.post(kettle+"/look", nil) }, 422, "Nothing was noticed"},
		{"no device named", func() *sheet { return v.post("/take-in", nil) }, 422, "names no device"},
		{"no such category", func() *sheet { return v.post("/take-in", map[string][]string{"category": {"Submarine"}}) }, 422, "no category"},
		{"too much", func() *sheet {
			return v.post(kettle+"/say", map[string][]string{"text": {strings.Repeat("hum ", 100_000)}})
		}, 413, "too long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := c.ask()
			if p.status != c.status || !strings.Contains(strings.ToLower(p.text("main")), strings.ToLower(c.says)) {
				t.Errorf("answered %d %q, want %d with %q", p.status, p.text("main"), c.status, c.says)
			}
		})
	}
}

// TestReadings sends readings as people type them; the units are those of the note.
func TestReadings(t *testing.T) {
	v, b := visit(t)
	path := v.get("/").submit("/take-in", "device", "powered loudspeaker").want(http.StatusOK).path
	view, err := b.View(t.Context(), strings.TrimPrefix(path, "/case/"))
	if err != nil {
		t.Fatal(err)
	}
	var check casework.Step
	for _, c := range view.Checks {
		if len(c.Fields) == 1 && c.Fields[0].Kind == "reading" && c.Fields[0].Unit == "V" {
			check = c
			break
		}
	}
	where, f := path+"/check/"+check.ID, check.Fields[0].Finding
	for _, c := range []struct{ value, unit, over, want string }{
		{"38.2", "V", "", "38.2 V"},
		{"38,2", "V", "", "38.2 V"},
		{"120", "mV", "", "120 mV"},
		{"0.0381 kV", "V", "", "0.0381 kV"},
		{"", "V", f, "overload"},
	} {
		form := map[string][]string{"f." + f: {c.value}, "u." + f: {c.unit}, "over": {c.over}}
		v.post(where, form).want(http.StatusOK).says(".flash", c.want)
	}
	// no hand meter shows that: it is asked back, and written down only when confirmed
	form := map[string][]string{"f." + f: {"3.1 kV"}, "u." + f: {"V"}}
	p := v.post(where, form).want(http.StatusUnprocessableEntity).says(".problem", "Really 3.1 kV")
	if got := p.value("button[name=sure]", "value"); got != "yes" {
		t.Errorf("what is hard to believe can be confirmed with %q", got)
	}
	form["sure"] = []string{"yes"}
	v.post(where, form).want(http.StatusOK).says(".flash", "3.1 kV")
	for _, bad := range []string{"1,000", "lots", "3 A", "NaN", "1e999"} {
		p := v.post(where, map[string][]string{"f." + f: {bad}, "u." + f: {"V"}}).want(http.StatusUnprocessableEntity)
		if got := p.value("input[inputmode=decimal][name=f."+f+"]", "value"); got != bad {
			t.Errorf("%q typed, %q kept", bad, got)
		}
	}
}

func TestWhatOthersWrote(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "kettle").want(http.StatusOK)
	end := p.path + "/close"
	form := v.get(end)
	if _, err := b.Remark(t.Context(), strings.TrimPrefix(p.path, "/case/"), casework.Remarking{Text: "meanwhile"}); err != nil {
		t.Fatal(err)
	}
	form.submit(end, "verdict", "passed on").want(http.StatusConflict).says("[role=alert]", "meanwhile")
}

func TestMarkupIsText(t *testing.T) {
	v, _ := visit(t)
	evil := `<script>alert(1)</script>"><img src=x onerror=alert(1)>`
	p := v.get("/").submit("/take-in", "device", "kettle", "label", evil, "what", evil).want(http.StatusOK)
	if n := len(p.all("main script")) + len(p.all("main img")); n != 0 {
		t.Errorf("%d elements from what was typed", n)
	}
	p.says("h1", "<script>alert(1)</script>")
}

func TestGuard(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/").want(http.StatusOK)
	if csp := p.header.Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
		t.Errorf("Content-Security-Policy is %q", csp)
	}
	for _, n := range append(p.all("script"), p.all("link[rel=stylesheet]")...) {
		if at := attrOf(n, "src") + attrOf(n, "href"); !strings.HasPrefix(at, "/static/") {
			t.Errorf("<%s> comes from %q", n.Data, at)
		}
	}
	send := func(set func(*http.Request)) int {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, v.url+"/take-in", strings.NewReader("device=kettle"))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		set(req)
		return v.send(req).status
	}
	if got := send(func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }); got != http.StatusForbidden {
		t.Errorf("a form from elsewhere got %d, want 403", got)
	}
	if got := send(func(r *http.Request) { r.Host = "evil.example.com" }); got != http.StatusMisdirectedRequest {
		t.Errorf("a foreign host name got %d, want 421", got)
	}
	for _, host := range []string{"127.0.0.1:7700", "[::1]:7700", "localhost", "oldlaptop:7700", "oldlaptop.local"} {
		if got := send(func(r *http.Request) { r.Host = host }); got == http.StatusMisdirectedRequest {
			t.Errorf("host %s is refused", host)
		}
	}
}

func TestStoreFails(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	j := &failing{Journal: memory.New(), err: errors.New("disk on fire, sector 7")}
	v := visitBench(t, casework.New(j, lib, casework.Options{}), web.Options{})
	p := v.get("/").want(http.StatusServiceUnavailable).says("main", "journal")
	if strings.Contains(p.text("body"), "sector") {
		t.Error("the cause is shown to the visitor")
	}
	v.get("/gallery").want(http.StatusNotFound)
}

// TestEveryPage looks at all screens of the gallery and the plain pages: one h1,
// one main, a title, labels on every control, no address used twice as an id.
func TestEveryPage(t *testing.T) {
	v, _ := visit(t)
	pages := []string{"/", "/take-in", "/take-in?note=kettle", "/notes", "/notes?ask=radio", "/notes/kettle", "/write", "/assemble", "/blocks", "/blocks/flyback-supply", "/settings", "/help", "/gallery", "/shelf", "/shelf/log", "/shelf/list", "/shelf/labels", "/shopping"}
	for _, a := range v.get("/gallery").want(http.StatusOK).all("main a") {
		pages = append(pages, attrOf(a, "href"))
	}
	for _, path := range pages {
		t.Run(path, func(t *testing.T) {
			p := v.get(path).want(http.StatusOK)
			if h, m := len(p.all("h1")), len(p.all("main")); h != 1 || m != 1 {
				t.Errorf("%d h1 and %d main, want one of each", h, m)
			}
			if len(p.all(".ticket")) > 1 {
				t.Error("more than one ticket")
			}
			checkIDs(t, p)
			checkLabels(t, p)
			for _, n := range p.all("[style]") {
				t.Errorf("<%s> has an inline style, which the policy forbids", n.Data)
			}
		})
	}
}

func checkIDs(t *testing.T, p *sheet) {
	t.Helper()
	seen := map[string]bool{}
	for _, n := range p.all("[id]") {
		id := attrOf(n, "id")
		if seen[id] {
			t.Errorf("id %q is there twice", id)
		}
		seen[id] = true
	}
	for _, n := range p.all("[aria-labelledby]") {
		for _, id := range strings.Fields(attrOf(n, "aria-labelledby")) { // a list of IDs, WAI-ARIA 1.2
			if !seen[id] {
				t.Errorf("<%s> is labelled by %q, which is not there", n.Data, id)
			}
		}
	}
}

func checkLabels(t *testing.T, p *sheet) {
	t.Helper()
	labels := map[string]bool{}
	for _, n := range p.all("label[for]") {
		labels[attrOf(n, "for")] = true
	}
	for _, tag := range []string{"input", "select", "textarea"} {
		for _, n := range p.all(tag) {
			if attrOf(n, "type") == "hidden" || labels[attrOf(n, "id")] || n.Parent.Data == "label" {
				continue
			}
			t.Errorf("<%s name=%q> has no label", tag, attrOf(n, "name"))
		}
	}
}

// A damaged case stands in the list with what to do, and does not keep the others from being worked on.
func TestDamagedCaseIsListed(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	j := memory.New()
	b := casework.New(j, lib, casework.Options{})
	for _, id := range []string{"good", "bad"} {
		if _, err := b.Open(t.Context(), casework.Opening{ID: id, Device: "kettle", Label: "Kettle " + id}); err != nil {
			t.Fatal(err)
		}
	}
	torn := casework.Event{At: time.Now(), Kind: casework.KindClosed, Version: 1, Data: []byte(`{"verdict": 7}`)}
	if err := j.Append(t.Context(), "bad", 1, torn); err != nil {
		t.Fatal(err)
	}
	v := visitBench(t, casework.New(j, lib, casework.Options{}), web.Options{Notes: lib})
	v.get("/").want(http.StatusOK).says(".cases", "Kettle good").says(".cases", "cannot be read").says(".cases", "restore the file from a copy")
	v.get("/case/good").want(http.StatusOK)
	v.get("/shopping").want(http.StatusOK)
}
