package cli_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"fettler/internal/casework"
	"fettler/internal/cli"
)

func TestDataFolderIsThatOfTheSystem(t *testing.T) {
	// Linux: XDG Base Directory Specification 0.8: $XDG_DATA_HOME if absolute, else ~/.local/share.
	// macOS: File System Programming Guide, Library/Application Support.
	// Windows: Known Folders, FOLDERID_LocalAppData, which is %LOCALAPPDATA%.
	home := t.TempDir()
	data := t.TempDir()
	for _, c := range []struct {
		system string
		env    map[string]string
		want   string
	}{
		{"linux", nil, filepath.Join(home, ".local", "share", "fettler")},
		{"linux", map[string]string{"XDG_DATA_HOME": data}, filepath.Join(data, "fettler")},
		{"linux", map[string]string{"XDG_DATA_HOME": "data"}, filepath.Join(home, ".local", "share", "fettler")},
		{"darwin", nil, filepath.Join(home, "Library", "Application Support", "Fettler")},
		{"windows", map[string]string{"LOCALAPPDATA": data}, filepath.Join(data, "Fettler")},
		{"windows", nil, filepath.Join(home, "AppData", "Local", "Fettler")},
	} {
		var out, errs bytes.Buffer
		p := program([]string{"cases"}, strings.NewReader(""), &out, &errs, func(name string) string { return c.env[name] })
		p.OS, p.Home = c.system, home
		if exit := p.Run(t.Context()); exit != cli.OK {
			t.Fatalf("%+v: exit %d: %s", c, exit, errs.String())
		}
		if _, err := os.Stat(filepath.Join(c.want, "journal.sqlite")); err != nil {
			t.Errorf("%s %v: %v", c.system, c.env, err)
		}
		if err := os.RemoveAll(c.want); err != nil {
			t.Fatal(err)
		}
	}
}

func TestWithoutAnyFolderItSaysSo(t *testing.T) {
	var out, errs bytes.Buffer
	p := program([]string{"cases"}, strings.NewReader(""), &out, &errs, nil)
	if exit := p.Run(t.Context()); exit != cli.Usage || !strings.Contains(errs.String(), "--folder") {
		t.Errorf("exit %d: %s", exit, errs.String())
	}
}

func TestAFolderThatCannotBeUsed(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("text"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, errs, exit := newBench(t).run("cases", "--folder", file)
	if exit != cli.StoreFailed || !strings.Contains(errs, "hint: ") {
		t.Errorf("exit %d: %s", exit, errs)
	}
}

func TestABugIsCaught(t *testing.T) {
	for _, args := range [][]string{{"bench", "--no-browser"}, {"bench", "--json"}} {
		var out, errs bytes.Buffer
		p := program(args, strings.NewReader(""), &out, &errs, func(string) string { return t.TempDir() })
		p.Pages = func(*casework.Bench, cli.PageSettings) (http.Handler, error) { panic("at the disco") }
		if exit := p.Run(t.Context()); exit != cli.Bug {
			t.Errorf("exit %d, want %d", exit, cli.Bug)
		}
		if all := out.String() + errs.String(); !strings.Contains(all, "at the disco") || !strings.Contains(all, "fault of the program") {
			t.Errorf("it said %s", all)
		}
	}
}

func TestStoppedByTheUser(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out, errs bytes.Buffer
	folder := t.TempDir()
	p := program([]string{"cases"}, strings.NewReader(""), &out, &errs, func(string) string { return folder })
	if exit := p.Run(ctx); exit != cli.Interrupted {
		t.Errorf("exit %d, want %d: %s", exit, cli.Interrupted, errs.String())
	}
}

func TestAQuestionCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	b := newBench(t)
	var errs bytes.Buffer
	in, _ := io.Pipe() // nobody ever types
	p := program([]string{"take-in", "player", "--folder", b.folder}, in, io.Discard, whenWritten{&errs, stop}, nil)
	p.Asks = true
	if exit := p.Run(ctx); exit != cli.Interrupted {
		t.Errorf("exit %d, want %d: %s", exit, cli.Interrupted, errs.String())
	}
}

// whenWritten stops once a question has been put.
type whenWritten struct {
	to   io.Writer
	stop func()
}

func (w whenWritten) Write(b []byte) (int, error) {
	if bytes.Contains(b, []byte("number, or Enter")) {
		w.stop()
	}
	return w.to.Write(b)
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestAnAnswerThatCannotBeWrittenIsAFailure(t *testing.T) {
	var errs bytes.Buffer
	p := program([]string{"version"}, strings.NewReader(""), full{}, &errs, nil)
	if exit := p.Run(t.Context()); exit == cli.OK || !strings.Contains(errs.String(), "no space left") {
		t.Errorf("exit %d: %s", exit, errs.String())
	}
}

func TestHeadingsAreBoldAtATerminalOnly(t *testing.T) {
	for _, c := range []struct {
		bold bool
		env  string
		want bool
	}{{true, "", true}, {true, "1", false}, {false, "", false}} {
		var out, errs bytes.Buffer
		folder := t.TempDir()
		p := program([]string{"devices", "kettle"}, strings.NewReader(""), &out, &errs, func(name string) string {
			switch name {
			case "NO_COLOR":
				return c.env
			case "FETTLER_FOLDER":
				return folder
			}
			return ""
		})
		p.Bold = c.bold
		p.Run(t.Context())
		if got := strings.Contains(out.String(), "\x1b["); got != c.want {
			t.Errorf("%+v: escape sequences: %v", c, got)
		}
	}
}

func TestPlainOutputFitsEightyColumns(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "powered loudspeaker", "--label", "A loudspeaker with a label that is a good deal longer than labels are", "--says", "hums loudly, and crackles when the volume is turned up")
	for _, args := range [][]string{{"show"}, {"suspects"}, {"next", "--all"}, {"cases"}, {"settings"}, {"devices"}, {"note", "show", "kettle"}, {"help"}} {
		for _, l := range strings.Split(b.must(args...), "\n") {
			if n := utf8.RuneCountInString(l); n > 80 && !strings.Contains(l, "fettler ") && !strings.HasPrefix(l, "A loudspeaker with") {
				t.Errorf("fettler %q: a line of %d: %s", args, n, l)
			}
		}
	}
}
