package cli

import (
	"context"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"fettler/internal/cli/shell"
)

// A command is one thing to do.
type command interface {
	run(ctx context.Context, s *session) (answer, error)
}

// Check says whether a command line can be understood, without doing anything.
func Check(args []string) error {
	if _, ok := helpWanted(args); ok {
		return nil
	}
	s := &session{}
	_, err := s.parse(args)
	return err
}

// parse reads a command line.
func (s *session) parse(args []string) (*grammar, error) {
	g := &grammar{}
	k, err := kong.New(g, kong.Name("fettler"), kong.NoDefaultHelp(), kong.Writers(io.Discard, io.Discard), kong.KindMapper(reflect.Float64, figures{}))
	if err != nil {
		return nil, fmt.Errorf("the table of commands is broken: %w", err)
	}
	args = alias(args)
	if err := guard(k.Model.Node, args); err != nil {
		return nil, err
	}
	c, err := k.Parse(ordered(k.Model.Node, args))
	if err != nil {
		return nil, misread(k.Model.Node, args, err)
	}
	node := c.Selected()
	chosen, ok := node.Target.Addr().Interface().(command)
	if !ok {
		return nil, fmt.Errorf("command %q does nothing", node.FullPath())
	}
	g.chosen = chosen
	s.command = strings.TrimPrefix(node.FullPath(), "fettler ")
	return g, nil
}

// alias lets no command at all mean bench, and --version the command.
func alias(args []string) []string {
	switch i := commandAt(args); {
	case len(args) == 1 && args[0] == "--version":
		return []string{"version"}
	case i == len(args):
		return append([]string{"bench"}, args...)
	}
	return args
}

// valued are the global flags that take a value.
var valued = []string{"--folder", "--notes", "--case", "-c", "--who", "--seen", "--addr", "--host"}

// commandAt is the index of the first argument that is neither a flag nor the
// value of one; len(args) if there is none.
func commandAt(args []string) int {
	for i := 0; i < len(args); i++ {
		switch a := args[i]; {
		case slices.Contains(valued, a):
			i++
		case a == "--" || !strings.HasPrefix(a, "-") || a == "-":
			return i
		}
	}
	return len(args)
}

// guard refuses an unknown command, with the one that may have been meant.
func guard(node *kong.Node, args []string) error {
	i := commandAt(args)
	for at := i; ; at++ {
		names := children(node)
		if len(names) == 0 {
			return nil
		}
		typed := ""
		if at < len(args) {
			typed = args[at]
		}
		next := slices.IndexFunc(node.Children, func(c *kong.Node) bool { return c.Name == typed })
		if next >= 0 {
			node = node.Children[next]
			continue
		}
		what := "fettler"
		if node.Name != "" && node.Type == kong.CommandNode {
			what += " " + node.FullPath()[len("fettler "):]
		}
		e := &usageError{text: fmt.Sprintf("%q has no command %q", what, typed), next: "the commands are: " + strings.Join(names, ", ")}
		if typed == "" {
			e.text = fmt.Sprintf("%q needs a command", what)
		}
		if n := nearest(typed, names); n != "" {
			e.try = []string{line(replaced(args, at, n))}
			e.next = ""
		}
		return e
	}
}

func children(node *kong.Node) []string {
	var names []string
	for _, c := range node.Children {
		if c.Type == kong.CommandNode {
			names = append(names, c.Name)
		}
	}
	return names
}

func replaced(args []string, at int, with string) []string {
	out := slices.Clone(args)
	out[at] = with
	return out
}

// line is a command line that can be typed as it stands.
func line(args []string) string { return "fettler " + shell.Quote(args...) }

var unknownFlag = regexp.MustCompile(`^unknown flag (--?[^\s,=]+)`)

// misread turns what kong says into a sentence and, where possible, the
// command that was meant.
func misread(root *kong.Node, args []string, err error) error {
	node := find(root, args)
	name := strings.TrimPrefix(node.FullPath(), "fettler ")
	e := &usageError{text: err.Error(), next: fmt.Sprintf("fettler help %s shows how", name)}
	if m := notWhole.FindStringSubmatch(err.Error()); m != nil {
		e.text = fmt.Sprintf("%s takes a whole number, and %s is none", m[1], m[2])
		if strings.HasPrefix(m[2], `"-`) {
			e.text = fmt.Sprintf("%s takes a whole number that is not below 0, and %s stands there", m[1], m[2])
		}
		return e
	}
	for _, x := range plainly {
		if m := x.says.FindStringSubmatch(err.Error()); m != nil {
			e.text = fmt.Sprintf(x.means, m[1])
			return e
		}
	}
	if m := lacking.FindStringSubmatch(err.Error()); m != nil {
		e.text = fmt.Sprintf("%q lacks a word: %s", "fettler "+name, strings.ToUpper(m[1]))
		if h, err := helpOn(strings.Fields(name)); err == nil {
			how, _, _ := strings.Cut(h.Text, "\n")
			e.next = "type it as: " + how
		}
		return e
	}
	m := unknownFlag.FindStringSubmatch(err.Error())
	if m == nil {
		return e
	}
	e.text = fmt.Sprintf("%q has no flag %s", "fettler "+name, m[1])
	at := slices.IndexFunc(args, func(a string) bool { return a == m[1] || strings.HasPrefix(a, m[1]+"=") })
	if f := nearFlag(node, m[1]); f != nil && at >= 0 {
		if "--"+f.Name == m[1] {
			e.text, e.next = fmt.Sprintf("%s stands before the command it belongs to", m[1]), fmt.Sprintf("put it after the command: fettler %s %s …", name, m[1])
			return e
		}
		rest := args[at][len(m[1]):]
		follows := rest != "" || at+1 < len(args) && !strings.HasPrefix(args[at+1], "-")
		if f.IsBool() && rest != "" || !f.IsBool() && !follows {
			return e // as typed it would mean something else, or nothing
		}
		e.try = []string{line(replaced(args, at, "--"+f.Name+rest))}
	}
	return e
}

var notWhole = regexp.MustCompile(`^(\S+): expected (?:an? )?(?:int|int64|uint|valid \d* ?bit int) (?:value )?but got ("[^"]*")`)

// plainly are other sentences of kong, and what is said instead.
var plainly = []struct {
	says  *regexp.Regexp
	means string
}{
	{regexp.MustCompile(`^(--?\S+): expected \S+ value but got "EOL"`), "nothing stands after %s, and it wants a value"},
	{regexp.MustCompile(`(?s)^unexpected argument (.*?)(?:, did you mean .*)?$`), "%q is one word too many; put quotes around what belongs together"},
	{regexp.MustCompile(`^expected "<file>"(.*)`), "no file is named%s"},
	{regexp.MustCompile(`^expected "<args> \.\.\."(.*)`), "no event and command were named%s"},
}

// lacking is the sentence of kong about words that must be there.
var lacking = regexp.MustCompile(`^expected "<(\w+)>`)

// nearFlag is the flag of a command that was likely meant: one letter astray, two in
// words of more than five letters, or a beginning of three letters or more.
func nearFlag(node *kong.Node, typed string) *kong.Flag {
	typed = strings.ToLower(strings.TrimLeft(typed, "-"))
	n := len([]rune(typed))
	if n < 3 {
		return nil
	}
	most := 1
	if n > 5 {
		most = 2
	}
	var best *kong.Flag
	least := most + 1
	for _, group := range node.AllFlags(false) {
		for _, f := range group {
			d := distance(typed, f.Name)
			if strings.HasPrefix(f.Name, typed) {
				d = min(d, 1)
			}
			if d < least {
				best, least = f, d
			}
		}
	}
	return best
}

// find is the node of the command that args name.
func find(node *kong.Node, args []string) *kong.Node {
	for _, a := range args[commandAt(args):] {
		i := slices.IndexFunc(node.Children, func(c *kong.Node) bool { return c.Name == a })
		if i < 0 {
			break
		}
		node = node.Children[i]
	}
	return node
}

// asksJSON tells whether --json is among the arguments, so that even a command
// line that cannot be read is answered in JSON.
func asksJSON(args []string) bool {
	for _, a := range args {
		switch a {
		case "--json", "--json=true":
			return true
		case "--":
			return false
		}
	}
	return false
}
