package report_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/yuin/goldmark"
	"golang.org/x/net/html"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/report"
	"fettler/internal/store/memory"
	"fettler/library"
)

var ctx = context.Background()

const nasty = "<script>alert(1)</script> & *stars* [link](x) `tick`"

// repaired is an invented loudspeaker, repaired and closed, with a picture and things nobody else should read.
func repaired(t testing.TB) (*casework.Bench, string) {
	t.Helper()
	lib, err := library.Load(ctx)
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2024, 3, 9, 18, 0, 0, 0, time.UTC)
	b := casework.New(memory.New(), lib, casework.Options{Photos: memory.NewPhotos(), Now: func() time.Time { at = at.Add(time.Minute); return at }})
	by := casework.By{Who: "Zebedee"}
	_, err = b.Open(ctx, casework.Opening{By: by, ID: "left", Device: "powered-loudspeaker", Label: "Quibble's own", Age: 14, Owner: casework.Owner{Name: "Mrs Quibble", Contact: "0123 456"}},
		casework.Saying{By: by, Text: "Aunt Griselda says it hums all the time"}, casework.Noticing{By: by, Answers: []casework.Answer{{Finding: "hum", Text: "yes"}}})
	if err != nil {
		t.Fatal(err)
	}
	v, err := b.View(ctx, "left")
	if err != nil {
		t.Fatal(err)
	}
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, image.NewRGBA(image.Rect(0, 0, 40, 30)), nil); err != nil {
		t.Fatal(err)
	}
	_, err = b.Shoot(ctx, "left", casework.Shot{File: &picture, Caption: "board " + nasty, Stage: "before"})
	for _, d := range []func() error{
		func() error {
			_, err := b.RecordCheck(ctx, "left", casework.Checking{By: by, Check: v.Suspects[0].Checks[0].ID, Answers: firstAnswer(t, v, v.Suspects[0].Checks[0].ID)})
			return err
		},
		func() error {
			_, err := b.RecordRepair(ctx, "left", casework.Repairing{By: by, Repair: v.Suspects[0].Repairs[0].ID})
			return err
		},
		func() error { _, err := b.RecordTest(ctx, "left", casework.Testing{By: by, Works: true}); return err },
		func() error { _, err := b.Remark(ctx, "left", casework.Remarking{By: by, Text: nasty}); return err },
		func() error {
			_, err := b.Close(ctx, "left", casework.Closing{By: by, Verdict: casework.Fixed, Remark: "tell Griselda"})
			return err
		},
	} {
		if err == nil {
			err = d()
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	return b, "left"
}

// firstAnswer answers a check's first finding with what speaks for a fault.
func firstAnswer(t testing.TB, v *casework.View, check string) []casework.Answer {
	t.Helper()
	for _, c := range v.Checks {
		if c.ID != check {
			continue
		}
		f := c.Fields[0]
		switch f.Kind {
		case "sign":
			return []casework.Answer{{Finding: f.Finding, Text: "yes"}}
		case "pick":
			return []casework.Answer{{Finding: f.Finding, Text: f.Answers[len(f.Answers)-1]}}
		}
		return []casework.Answer{{Finding: f.Finding, Text: "1 " + f.Unit}}
	}
	t.Fatalf("no check %s", check)
	return nil
}

func story(t testing.TB, b *casework.Bench, id string, tell casework.Telling) *report.Story {
	t.Helper()
	a, err := b.Account(ctx, id, tell)
	if err != nil {
		t.Fatal(err)
	}
	s, err := report.New(ctx, a, b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func render(t testing.TB, s *report.Story) map[string]string {
	t.Helper()
	out := map[string]string{}
	for name, f := range map[string]func(*bytes.Buffer) error{
		"html": func(w *bytes.Buffer) error { return s.HTML(w) }, "markdown": func(w *bytes.Buffer) error { return s.Markdown(w) }, "pdf": func(w *bytes.Buffer) error { return s.PDF(w) },
	} {
		var w bytes.Buffer
		if err := f(&w); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = w.String()
	}
	return out
}

// What people are called and wrote is left out unless asked for; the owner always.
func TestPrivateThingsStayHere(t *testing.T) {
	b, id := repaired(t)
	plain, full := render(t, story(t, b, id, casework.Telling{})), render(t, story(t, b, id, casework.Telling{Label: true, Words: true}))
	for form, text := range plain {
		for _, private := range []string{"Quibble", "Griselda", "Zebedee", "0123", "stars"} {
			if strings.Contains(strings.ReplaceAll(text, "board "+nasty, ""), private) && private != "stars" {
				t.Errorf("%s tells %q", form, private)
			}
		}
	}
	for _, form := range []string{"html", "markdown"} {
		for _, want := range []string{"Quibble's own", "Griselda"} {
			if !strings.Contains(html.UnescapeString(full[form]), want) {
				t.Errorf("%s, told in full, lacks %q", form, want)
			}
		}
		for _, never := range []string{"Mrs Quibble", "0123 456", "Zebedee"} {
			if strings.Contains(html.UnescapeString(full[form]), never) {
				t.Errorf("%s tells %q even so", form, never)
			}
		}
	}
}

// The story has what one needs to follow it.
func TestStoryIsWhole(t *testing.T) {
	b, id := repaired(t)
	v, err := b.View(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	out := render(t, story(t, b, id, casework.Telling{}))
	text := html.UnescapeString(out["html"])
	for _, want := range []string{v.Header.Kind, "Fixed.", v.Outcome.Because[0].Title, "Hums", "What was checked and done", "Parts", "What it took", "Mains", "Pull the plug", "saved", "data:image/jpeg;base64,"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, e := range v.Timeline {
		if e.Kind == casework.KindRepaired && !strings.Contains(text, strings.TrimPrefix(e.Words, "repaired: ")) {
			t.Errorf("the page lacks the repair %q", e.Words)
		}
	}
}

// The page is one file: no script runs in it and nothing is fetched.
func TestPageIsSelfContained(t *testing.T) {
	b, id := repaired(t)
	doc, err := html.Parse(strings.NewReader(render(t, story(t, b, id, casework.Telling{Words: true}))["html"]))
	if err != nil {
		t.Fatal(err)
	}
	images := 0
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.ElementNode && (n.Data == "script" || n.Data == "link" || n.Data == "iframe") {
			t.Errorf("there is a <%s>", n.Data)
		}
		for _, a := range n.Attr {
			if (a.Key == "src" || a.Key == "href") && !strings.HasPrefix(a.Val, "data:image/jpeg;base64,") {
				t.Errorf("<%s> fetches %q", n.Data, a.Val)
			}
			if n.Data == "img" && a.Key == "alt" && a.Val != "" {
				images++
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(doc)
	if images != 1 {
		t.Errorf("%d pictures with words, want 1", images)
	}
}

// What was typed comes out of Markdown as it was typed.
func TestMarkdownShowsTextsAsTheyAre(t *testing.T) {
	b, id := repaired(t)
	var page bytes.Buffer
	if err := goldmark.Convert([]byte(render(t, story(t, b, id, casework.Telling{Words: true}))["markdown"]), &page); err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(&page)
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			text.WriteString(n.Data)
		}
		if n.Data == "a" || n.Data == "script" || n.Data == "em" {
			t.Errorf("a text became <%s>", n.Data)
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(doc)
	if !strings.Contains(text.String(), nasty) {
		t.Errorf("%q is not in the text", nasty)
	}
}

func TestPDF(t *testing.T) {
	b, id := repaired(t)
	s := story(t, b, id, casework.Telling{})
	s.Pictures = append(s.Pictures, report.Picture{Caption: "no picture at all", JPEG: []byte("x")})
	first, second := render(t, s)["pdf"], render(t, s)["pdf"]
	if !strings.HasPrefix(first, "%PDF-") || !strings.Contains(first, "%%EOF") || !strings.Contains(first, "/DCTDecode") {
		t.Error("no PDF with a picture came out")
	}
	if first != second {
		t.Error("the same story gives other bytes")
	}
}

// The starter is a note that loads on top of the library and knows the case's symptom and fault.
func TestStarterLoads(t *testing.T) {
	b, id := repaired(t)
	if _, err := b.Open(ctx, casework.Opening{ID: "bare", Category: "Toy", Label: "wind-up"}, casework.Repairing{What: "straightened: the \"spring\" # and more"}, casework.Testing{Works: true}); err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{id, "bare"} {
		v, err := b.View(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		a, err := b.Account(ctx, id, casework.Telling{})
		if err != nil {
			t.Fatal(err)
		}
		var w bytes.Buffer
		if err := report.Starter(&w, v, a); err != nil {
			t.Fatal(err)
		}
		lib, err := library.Load(ctx, fstest.MapFS{"draft.yaml": {Data: w.Bytes()}})
		if err != nil {
			t.Fatalf("%s does not load: %v\n%s", id, err, w.String())
		}
		var own *note.Model
		for _, d := range lib.Devices() {
			if strings.HasSuffix(d.ID, "-draft") {
				if own, err = lib.Model(d.ID); err != nil {
					t.Fatalf("%s does not compose: %v\n%s", id, err, w.String())
				}
			}
		}
		if own == nil || len(own.Modes) == 0 || len(own.Findings) == 0 || len(own.Repairs) == 0 {
			t.Errorf("%s: the draft is empty:\n%s", id, w.String())
		}
	}
}

func FuzzStarter(f *testing.F) {
	f.Add("spring: broken", "a \"quoted\" one\n- {x}")
	lib, err := library.Load(ctx)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, what, remark string) {
		b := casework.New(memory.New(), lib, casework.Options{})
		if _, err := b.Open(ctx, casework.Opening{ID: "x", Category: "Toy"}, casework.Repairing{What: what}, casework.Remarking{Text: remark}); err != nil {
			return
		}
		v, err := b.View(ctx, "x")
		if err != nil {
			t.Fatal(err)
		}
		a, err := b.Account(ctx, "x", casework.Telling{Words: true})
		if err != nil {
			t.Fatal(err)
		}
		var w bytes.Buffer
		if err := report.Starter(&w, v, a); err != nil {
			t.Fatal(err)
		}
		if _, err := library.Load(ctx, fstest.MapFS{"draft.yaml": {Data: w.Bytes()}}); err != nil {
			t.Fatalf("%v\n%s", err, w.String())
		}
	})
}
