package web_test

import (
	"context"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"fettler/internal/casework"
	"fettler/internal/journal"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// A visitor is a browser without JavaScript: it follows links and sends forms.
type visitor struct {
	t    *testing.T
	url  string
	http *http.Client
}

// visit starts a server over an empty bench and returns a visitor and the bench.
func visit(t *testing.T) (*visitor, *casework.Bench) {
	t.Helper()
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{})
	return visitBench(t, b, web.Options{Notes: lib, Gallery: true}), b
}

func visitBench(t *testing.T, b *casework.Bench, o web.Options) *visitor {
	t.Helper()
	s, err := web.New(b, o)
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	s.Install(mux)
	srv := httptest.NewServer(mux)
	t.Cleanup(srv.Close)
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &visitor{t, srv.URL, &http.Client{Jar: jar}}
}

// A sheet is a page that was answered.
type sheet struct {
	v      *visitor
	status int
	path   string // where redirects led to
	query  url.Values
	header http.Header
	doc    *html.Node
}

func (v *visitor) get(path string) *sheet {
	v.t.Helper()
	req, err := http.NewRequestWithContext(v.t.Context(), http.MethodGet, v.url+path, nil)
	if err != nil {
		v.t.Fatal(err)
	}
	return v.send(req)
}

func (v *visitor) post(path string, form url.Values) *sheet {
	v.t.Helper()
	req, err := http.NewRequestWithContext(v.t.Context(), http.MethodPost, v.url+path, strings.NewReader(form.Encode()))
	if err != nil {
		v.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return v.send(req)
}

func (v *visitor) send(req *http.Request) *sheet {
	v.t.Helper()
	res, err := v.http.Do(req)
	if err != nil {
		v.t.Fatal(err)
	}
	defer res.Body.Close()
	doc, err := html.Parse(res.Body)
	if err != nil {
		v.t.Fatal(err)
	}
	return &sheet{v, res.StatusCode, res.Request.URL.Path, res.Request.URL.Query(), res.Header, doc}
}

// want fails the test unless the page has this status.
func (p *sheet) want(status int) *sheet {
	p.v.t.Helper()
	if p.status != status {
		p.v.t.Fatalf("%s answered %d, want %d: %s", p.path, p.status, status, p.text("main"))
	}
	return p
}

// all finds elements by a selector: tag, #id, .class and [key] or [key=value],
// several of them for descent.
func (p *sheet) all(selector string) []*html.Node {
	found := []*html.Node{p.doc}
	for _, step := range strings.Fields(selector) {
		var next []*html.Node
		for _, n := range found {
			for d := range n.Descendants() {
				if matches(d, step) && !slices.Contains(next, d) {
					next = append(next, d)
				}
			}
		}
		found = next
	}
	return found
}

func matches(n *html.Node, step string) bool {
	if n.Type != html.ElementNode {
		return false
	}
	step, attrs, _ := strings.Cut(step, "[")
	for _, a := range strings.Split(strings.TrimSuffix(attrs, "]"), "][") {
		key, want, exact := strings.Cut(a, "=")
		got, ok := attr(n, key)
		if key != "" && (!ok || exact && got != want) {
			return false
		}
	}
	if tag, class, ok := strings.Cut(step, "."); ok {
		have, _ := attr(n, "class")
		if !slices.Contains(strings.Fields(have), class) {
			return false
		}
		step = tag
	}
	if tag, id, ok := strings.Cut(step, "#"); ok {
		if have, _ := attr(n, "id"); have != id {
			return false
		}
		step = tag
	}
	return step == "" || n.Data == step
}

func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

// text is the words of what the selector finds, blanks reduced to one.
func (p *sheet) text(selector string) string {
	var b strings.Builder
	for _, n := range p.all(selector) {
		words(n, &b)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func words(n *html.Node, b *strings.Builder) {
	if n.Type == html.TextNode {
		b.WriteString(n.Data + " ")
	}
	for c := range n.ChildNodes() {
		words(c, b)
	}
}

// says fails the test unless the elements hold these words.
func (p *sheet) says(selector, want string) *sheet {
	p.v.t.Helper()
	if got := p.text(selector); !strings.Contains(got, want) {
		p.v.t.Fatalf("%s: %q does not say %q but %q", p.path, selector, want, got)
	}
	return p
}

// value is an attribute of the only element the selector finds.
func (p *sheet) value(selector, key string) string {
	p.v.t.Helper()
	found := p.all(selector)
	if len(found) != 1 {
		p.v.t.Fatalf("%s: %q finds %d elements, want one", p.path, selector, len(found))
	}
	v, _ := attr(found[0], key)
	return v
}

// fill reads a form as a browser would send it when nothing is changed.
func (p *sheet) fill(action string) url.Values {
	p.v.t.Helper()
	for _, f := range p.all("form") {
		if a, _ := attr(f, "action"); a == action {
			return defaults(f)
		}
	}
	p.v.t.Fatalf("%s has no form for %s", p.path, action)
	return nil
}

func defaults(form *html.Node) url.Values {
	out := url.Values{}
	for n := range form.Descendants() {
		name, ok := attr(n, "name")
		if n.Type != html.ElementNode || !ok {
			continue
		}
		value, _ := attr(n, "value")
		kind, _ := attr(n, "type")
		_, checked := attr(n, "checked")
		switch {
		case n.Data == "input" && (kind == "radio" || kind == "checkbox"):
			if checked {
				out.Add(name, value)
			}
		case n.Data == "input":
			out.Add(name, value)
		case n.Data == "textarea":
			var b strings.Builder
			words(n, &b)
			out.Add(name, strings.TrimSpace(b.String()))
		case n.Data == "select":
			out.Add(name, chosen(n))
		}
	}
	return out
}

func chosen(sel *html.Node) string {
	first := ""
	for i := range sel.Descendants() {
		if i.Type != html.ElementNode || i.Data != "option" {
			continue
		}
		v, ok := attr(i, "value")
		if !ok {
			var b strings.Builder
			words(i, &b)
			v = strings.TrimSpace(b.String())
		}
		if _, on := attr(i, "selected"); on {
			return v
		}
		if first == "" {
			first = v
		}
	}
	return first
}

// submit sends a form with these changes.
func (p *sheet) submit(action string, changes ...string) *sheet {
	p.v.t.Helper()
	form := p.fill(action)
	for i := 0; i+1 < len(changes); i += 2 {
		form.Set(changes[i], changes[i+1])
	}
	return p.v.post(action, form)
}

// failing is a journal that fails when told to.
type failing struct {
	*memory.Journal
	err error
}

func (j *failing) Events(ctx context.Context, id string, after int) ([]casework.Event, error) {
	if j.err != nil {
		return nil, j.err
	}
	return j.Journal.Events(ctx, id, after)
}

func (j *failing) Heads(ctx context.Context) ([]journal.Head, error) {
	if j.err != nil {
		return nil, j.err
	}
	return j.Journal.Heads(ctx)
}
