package house_test

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fettler/internal/cli"
	"fettler/internal/cli/shell"
)

// Every command line in a document or in the help can be understood: the
// command and its flags exist.
func TestCommandsInDocumentsExist(t *testing.T) {
	n := 0
	texts(t, func(name, text string) {
		var lines []string
		switch {
		case path.Ext(name) == ".md" && !strings.Contains(name, "testdata/"):
			lines = fenced(text)
		case strings.HasPrefix(name, "internal/cli/help/"):
			_, examples, ok := strings.Cut(text, "\nExamples\n")
			if !ok {
				t.Errorf("%s has no examples at its end", name)
			}
			lines = strings.Split(examples, "\n")
		}
		for _, l := range lines {
			l = strings.TrimPrefix(strings.TrimSpace(l), "$ ")
			if l != "fettler" && !strings.HasPrefix(l, "fettler ") {
				continue
			}
			n++
			words, err := shell.Split(l)
			if err == nil {
				err = cli.Check(words[1:])
			}
			if err != nil {
				t.Errorf("%s: %q: %v", name, l, err)
			}
		}
	})
	if n < 50 {
		t.Errorf("only %d commands were found", n)
	}
}

// fenced are the lines of a document's blocks of shell commands.
func fenced(text string) []string {
	var out []string
	in := false
	for _, l := range strings.Split(text, "\n") {
		switch l = strings.TrimSpace(l); {
		case strings.HasPrefix(l, "```"):
			in = !in && (l == "```sh" || l == "```console")
		case in:
			out = append(out, l)
		}
	}
	return out
}

var link = regexp.MustCompile(`\]\(([^)#:]+)(?:#[^)]*)?\)`)

// Every file that a document links to is there, and so is every package it tells to run.
func TestLinksInDocumentsLead(t *testing.T) {
	run := regexp.MustCompile(`go (?:run|build|test) (?:-\S+ )*\./([\w./-]+)`)
	texts(t, func(name, text string) {
		if path.Ext(name) != ".md" || strings.Contains(name, "testdata/") {
			return
		}
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			if _, err := os.Stat(filepath.Join(root, filepath.FromSlash(path.Join(path.Dir(name), m[1])))); err != nil {
				t.Errorf("%s links to %s, which is not there", name, m[1])
			}
		}
		for _, m := range run.FindAllStringSubmatch(text, -1) {
			if _, err := os.Stat(filepath.Join(root, filepath.FromSlash(strings.TrimSuffix(m[1], "/...")))); err != nil && m[1] != "..." {
				t.Errorf("%s names the package ./%s, which is not there", name, m[1])
			}
		}
	})
}
