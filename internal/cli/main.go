package cli

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"runtime/debug"
	"time"

	"fettler/internal/casework"
	"fettler/internal/notedesk"
)

// Main is the program. The zero value of every field but the streams works.
type Main struct {
	Args   []string // without the program's name
	Stdin  io.Reader
	Stdout io.Writer
	Stderr io.Writer
	Getenv func(string) string // nil: no environment
	Now    func() time.Time    // nil: time.Now

	Asks  bool // stdin and stderr are a terminal: doubts are asked back
	Bold  bool // stdout is a terminal: headings are bold
	OS    string
	Home  string               // the user's home folder
	Pages Pages                // the web face; nil: there is none
	Demo  Demo                 // opens the invented case on first start; nil: none
	Show  func(string) error   // opens a browser; nil: there is none
	Ready func(address string) // called when the pages are served; for tests
}

// Pages makes the web face of a bench.
type Pages func(*casework.Bench, PageSettings) (http.Handler, error)

// PageSettings are what the web face is told.
type PageSettings struct {
	Notes   casework.Notes
	Desk    *notedesk.Desk // where notes are written; it is Notes, too
	Version string
	Hosts   []string // names it may be reached under besides the usual ones
	Gallery bool     // with the page that shows every screen
}

// Demo puts the invented case on a bench that has none yet, and says whether it did.
type Demo func(context.Context, *casework.Bench) (bool, error)

// Run does what Args say and returns the exit code. It returns when ctx ends.
func (m *Main) Run(ctx context.Context) (exit Exit) {
	out := bufio.NewWriter(m.Stdout)
	s := &session{Main: *m, out: out, command: "fettler"}
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(m.Stderr, "%s\n", debug.Stack())
			exit = s.fail(fmt.Errorf("%v", r))
		}
		if err := out.Flush(); err != nil && exit == OK {
			fmt.Fprintln(m.Stderr, "fettler: the answer could not be written:", err)
			exit = Bug
		}
	}()
	return s.run(ctx)
}

// run parses, runs one command and prints its answer.
func (s *session) run(ctx context.Context) Exit {
	s.json = asksJSON(s.Args)
	if page, ok := helpWanted(s.Args); ok {
		return s.help(page)
	}
	g, err := s.parse(s.Args)
	if err != nil {
		return s.fail(err)
	}
	s.flags = g.Global
	defer s.close()
	answer, err := g.chosen.run(ctx, s)
	if err != nil {
		return s.fail(err)
	}
	return s.print(answer)
}

// An answer is what a command found or did: JSON by its fields, words by text.
type answer interface {
	text(p *page)
}

// A denial is an answer that may be "no", which the exit code tells.
type denial interface {
	no() bool
}

func (s *session) print(a answer) Exit {
	if a == nil {
		return OK
	}
	if s.json {
		if err := s.writeJSON(document{Form: jsonForm, Command: s.command, Data: a}); err != nil {
			return s.fail(err)
		}
	} else {
		a.text(&page{w: s.out, bold: s.Bold && s.env("NO_COLOR") == ""})
	}
	if d, ok := a.(denial); ok && d.no() {
		return No
	}
	return OK
}

// fail shows an error and returns its exit code.
func (s *session) fail(err error) Exit {
	f := faultOf(err)
	if f.Code == string(casework.StoreFail) && s.store != nil {
		f.Text += fmt.Sprintf(" (in %q)", s.where)
		f.Next += "; if it is damaged, take the last pack over into another folder: fettler unpack FILE --folder NEW"
	}
	if s.json {
		if err := s.writeJSON(document{Form: jsonForm, Command: s.command, Error: &f}); err != nil {
			fmt.Fprintln(s.Stderr, "fettler:", err)
		}
		return f.Exit
	}
	p := &page{w: s.Stderr}
	p.para("fettler: ", f.Text)
	if f.Next != "" {
		p.para("hint: ", f.Next)
	}
	each := len(f.Choices) > 0 && len(f.Try) == len(f.Choices) // a command for each choice
	for i, c := range f.Choices {
		p.para("  ", c.ID+"  "+c.Title+parens(c.About))
		if each {
			p.line("    " + f.Try[i])
		}
	}
	for _, t := range f.Try {
		if !each {
			p.line("try: " + t)
		}
	}
	return f.Exit
}

func parens(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}
