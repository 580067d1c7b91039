package cli

import (
	"context"
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// The help is written by hand: help/NAME.txt, a blank in NAME as a hyphen.
//
//go:embed help/*.txt
var helpTexts embed.FS

// helpCmd shows the help.
type helpCmd struct {
	Command []string `arg:"" optional:""`
}

// helpShown is one help text.
type helpShown struct {
	About string `json:"about"` // command, or "fettler"
	Text  string `json:"help"`
}

func (c *helpCmd) run(_ context.Context, s *session) (answer, error) {
	return helpOn(c.Command)
}

// helpOn is the help on a command; of a group, that of the group.
func helpOn(words []string) (*helpShown, error) {
	name := strings.Join(words, " ")
	if name == "" {
		name = "fettler"
	}
	data, err := fs.ReadFile(helpTexts, "help/"+strings.ReplaceAll(name, " ", "-")+".txt")
	if err == nil {
		return &helpShown{About: name, Text: string(data)}, nil
	}
	e := &usageError{text: fmt.Sprintf("there is no command %q", name), next: "fettler help lists all"}
	if n := nearest(name, helpNames()); n != "" {
		e.try = []string{line(append([]string{"help"}, strings.Fields(n)...))}
	}
	return nil, e
}

// groups are the commands that have commands of their own.
var groups = []string{"note", "part", "shelf"}

// helpNames are the commands there is help on.
func helpNames() []string {
	files, _ := fs.Glob(helpTexts, "help/*.txt")
	var out []string
	for _, f := range files {
		name := strings.TrimSuffix(strings.TrimPrefix(f, "help/"), ".txt")
		if group, rest, ok := strings.Cut(name, "-"); ok && slices.Contains(groups, group) {
			name = group + " " + rest
		}
		out = append(out, name)
	}
	return out
}

func (a *helpShown) text(p *page) { fmt.Fprint(p.w, a.Text) }

// helpWanted says that --help or -h is among the arguments, and on what.
func helpWanted(args []string) ([]string, bool) {
	if i := slices.Index(args, "--"); i >= 0 {
		args = args[:i]
	}
	if !slices.Contains(args, "--help") && !slices.Contains(args, "-h") {
		return nil, false
	}
	var words []string
	for _, a := range args[commandAt(args):] {
		if strings.HasPrefix(a, "-") || !slices.Contains(helpNames(), strings.Join(append(slices.Clone(words), a), " ")) {
			break
		}
		words = append(words, a)
	}
	return words, true
}

func (s *session) help(words []string) Exit {
	s.command = "help"
	a, err := helpOn(words)
	if err != nil {
		return s.fail(err)
	}
	return s.print(a)
}
