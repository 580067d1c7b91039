package report_test

import (
	"archive/zip"
	"bytes"
	"compress/zlib"
	"context"
	"image"
	"image/jpeg"
	"io"
	"io/fs"
	"regexp"
	"strings"
	"sync"
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

// shipped is the library, read once.
var shipped = sync.OnceValues(func() (*note.Library, error) { return library.Load(ctx) })

const nasty = "<script>alert(1)</script> & *stars* [link](x) `tick`"

// repaired is an invented loudspeaker, repaired and closed, with a picture and things nobody else should read.
func repaired(t testing.TB) (*casework.Bench, string) {
	t.Helper()
	lib, err := shipped()
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
	if err := jpeg.Encode(&picture, image.NewRGBA(image.Rect(0, 0, 400, 300)), nil); err != nil {
		t.Fatal(err)
	}
	shot, err := b.Shoot(ctx, "left", casework.Shot{File: &picture, Caption: "board " + nasty, Stage: "before"})
	if err != nil {
		t.Fatal(err)
	}
	board, err := b.BoardWork(ctx, "left")
	if err != nil || shot.Seq == 0 {
		t.Fatal(err)
	}
	_, err = b.Tag(ctx, "left", casework.Tagging{By: by, Tagged: casework.Tagged{Photo: board.Photos[0].Hash, Mark: "C7", X: 0.5, Y: 0.5, Points: "left", Words: "towards the screw hole"}})
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
			_, err := b.Remark(ctx, "left", casework.Remarking{By: by, Text: "a quarrel in the family", Private: true})
			return err
		},
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

// What people are called and wrote is left out unless asked for; how to reach the
// owner and who worked on it always.
func TestPrivateThingsStayHere(t *testing.T) {
	b, id := repaired(t)
	for _, x := range []struct {
		tell     casework.Telling
		has, not []string
	}{
		{casework.Telling{}, nil, []string{"Quibble", "Griselda", "stars", "quarrel"}},
		{casework.Telling{Label: true}, []string{"Quibble's own"}, []string{"Mrs Quibble", "Griselda", "stars", "quarrel"}},
		{casework.Telling{Words: true}, []string{"Griselda", "stars"}, []string{"Quibble", "quarrel"}},
		{casework.Telling{Private: true}, []string{"Mrs Quibble", "quarrel"}, []string{"Quibble's own", "Griselda", "stars"}},
	} {
		for form, text := range render(t, story(t, b, id, x.tell)) {
			if form == "pdf" {
				text = pdfText(t, text)
			}
			text = strings.NewReplacer("board "+nasty, "", "board "+html.EscapeString(nasty), "", `\`, "").Replace(text)
			if form != "pdf" {
				text = html.UnescapeString(text)
			}
			text = strings.ReplaceAll(text, "board "+nasty, "")
			if form == "pdf" {
				text = captionInPDF.ReplaceAllString(text, "")
			}
			for _, want := range x.has {
				if !strings.Contains(text, want) {
					t.Errorf("%s with %+v lacks %q", form, x.tell, want)
				}
			}
			for _, never := range append(x.not, "0123 456", "Zebedee") {
				if strings.Contains(text, never) {
					t.Errorf("%s with %+v tells %q", form, x.tell, never)
				}
			}
		}
	}
}

var captionInPDF = regexp.MustCompile(`board <script>.*`)

var pdfStream = regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`)

// pdfText is what the text streams of a PDF say.
func pdfText(t testing.TB, pdf string) string {
	t.Helper()
	var all strings.Builder
	for _, m := range pdfStream.FindAllStringSubmatch(pdf, -1) {
		r, err := zlib.NewReader(strings.NewReader(m[1]))
		if err != nil {
			continue // a picture
		}
		data, err := io.ReadAll(r)
		if err == nil {
			all.Write(data)
		}
	}
	if all.Len() == 0 {
		t.Fatal("there is no text in the PDF")
	}
	return all.String()
}

// A designator tapped on a photo is drawn on it and said below it, in every form.
func TestMarksAreDrawn(t *testing.T) {
	b, id := repaired(t)
	s := story(t, b, id, casework.Telling{})
	if len(s.Pictures) != 1 || len(s.Pictures[0].Marks) != 1 {
		t.Fatalf("%d pictures, marks %v", len(s.Pictures), s.Pictures[0].Marks)
	}
	img, err := jpeg.Decode(bytes.NewReader(s.Pictures[0].JPEG))
	if err != nil {
		t.Fatal(err)
	}
	bright := 0
	for x := range img.Bounds().Dx() {
		for y := range img.Bounds().Dy() {
			if r, _, _, _ := img.At(x, y).RGBA(); r > 0xc000 {
				bright++
			}
		}
	}
	if bright < 50 { // the picture itself is black
		t.Errorf("%d bright pixels: the mark is not drawn", bright)
	}
	for form, text := range render(t, s) {
		if form == "pdf" {
			text = pdfText(t, text)
		}
		if form != "markdown" && !strings.Contains(text, "towards the screw hole") {
			t.Errorf("%s does not say what is marked", form)
		}
	}
}

// The zip file has the story and each picture it names.
func TestMarkdownZip(t *testing.T) {
	b, id := repaired(t)
	var w bytes.Buffer
	if err := story(t, b, id, casework.Telling{}).MarkdownZip(&w); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(w.Bytes()), int64(w.Len()))
	if err != nil {
		t.Fatal(err)
	}
	md, err := fs.ReadFile(z, "story.md")
	if err != nil {
		t.Fatal(err)
	}
	var page bytes.Buffer
	if err := goldmark.Convert(md, &page); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(page.String(), `<img src="pictures/01.jpg" alt="board &lt;script&gt;`) || !strings.Contains(page.String(), "towards the screw hole") {
		t.Errorf("the picture is not in the story:\n%s", page.String())
	}
	data, err := fs.ReadFile(z, "pictures/01.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
		t.Error(err)
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
	lib, err := shipped()
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
