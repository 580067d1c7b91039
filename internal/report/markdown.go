package report

import (
	"archive/zip"
	"bufio"
	"fmt"
	"io"
	"strings"
)

// Markdown writes the story as CommonMark, without its pictures.
func (s *Story) Markdown(w io.Writer) error { return s.markdown(w, false) }

// Names in the zip file that MarkdownZip writes.
const (
	zipStory    = "story.md"
	zipPictures = "pictures"
)

// MarkdownZip writes a zip file: the story as CommonMark and its pictures beside it.
func (s *Story) MarkdownZip(w io.Writer) error {
	z := zip.NewWriter(w)
	f, err := z.CreateHeader(&zip.FileHeader{Name: zipStory, Method: zip.Deflate})
	if err == nil {
		err = s.markdown(f, true)
	}
	for i, p := range s.Pictures {
		if err != nil {
			break
		}
		var to io.Writer
		if to, err = z.CreateHeader(&zip.FileHeader{Name: pictureFile(i), Method: zip.Store}); err == nil {
			_, err = to.Write(p.JPEG)
		}
	}
	if e := z.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("writing the zip file: %w", err)
	}
	return nil
}

func pictureFile(i int) string { return fmt.Sprintf("%s/%02d.jpg", zipPictures, i+1) }

// markdown writes the story; with pictures it names the files of MarkdownZip.
func (s *Story) markdown(w io.Writer, pictures bool) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# %s\n\n**%s**\n\n", mark(s.Title), mark(s.Lead))
	facts := strings.Join(s.Facts, " · ")
	if s.Invented {
		facts += " · an invented case, for show"
	}
	fmt.Fprintf(b, "%s\n", mark(facts))
	for _, c := range s.Cautions {
		fmt.Fprintf(b, "\n> ⚠ %s\n", mark(c))
	}
	for _, x := range s.Sections {
		fmt.Fprintf(b, "\n## %s\n", mark(x.Title))
		for _, t := range x.Text {
			fmt.Fprintf(b, "\n%s\n", mark(t))
		}
		if len(x.List) > 0 {
			fmt.Fprintln(b)
		}
		for _, l := range x.List {
			fmt.Fprintf(b, "- %s\n", mark(l))
		}
		for _, t := range x.After {
			fmt.Fprintf(b, "\n%s\n", mark(t))
		}
		for i, st := range x.Steps {
			fmt.Fprintf(b, "\n### %d. %s\n\n", i+1, mark(st.Title))
			for _, c := range st.Cautions {
				fmt.Fprintf(b, "> ⚠ %s\n\n", mark(c))
			}
			for _, l := range st.Lines {
				fmt.Fprintf(b, "- **%s:** %s\n", mark(l.Name), mark(l.Text))
			}
		}
	}
	switch n := len(s.Pictures); {
	case n > 0 && pictures:
		fmt.Fprintf(b, "\n## Pictures\n")
		for i, p := range s.Pictures {
			fmt.Fprintf(b, "\n![%s](%s)\n\n%s\n", mark(p.Alt()), pictureFile(i), mark(p.Caption))
			for _, m := range p.Marks {
				fmt.Fprintf(b, "\n- %s", mark(m))
			}
			if len(p.Marks) > 0 {
				fmt.Fprintln(b)
			}
		}
	case n > 0:
		fmt.Fprintf(b, "\nThere are pictures: %d. They are in the page, the PDF and the zip file of this story.\n", n)
	}
	fmt.Fprintf(b, "\n---\n\n%s\n", mark(s.Foot))
	if err := b.Flush(); err != nil {
		return fmt.Errorf("writing Markdown: %w", err)
	}
	return nil
}

// special are the characters that mean something in Markdown.
const special = "\\`*_{}[]<>#|~!&"

// mark is text that Markdown shows as it is, on one line.
func mark(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	var b strings.Builder
	for i, r := range s {
		lineStart := i == 0 && (r == '-' || r == '+' || r == '=')
		if lineStart || strings.ContainsRune(special, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	out := b.String()
	digits := len(out) - len(strings.TrimLeft(out, "0123456789"))
	if digits > 0 && digits < len(out) && (out[digits] == '.' || out[digits] == ')') {
		out = out[:digits] + "\\" + out[digits:] // no numbered list
	}
	return out
}
