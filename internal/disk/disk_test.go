package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A log writes down what is done, drafts as "draft", and fails at one of the steps.
type log struct {
	steps []string
	fails string
}

func (l *log) step(what, name string) error {
	if strings.HasSuffix(name, ".new") {
		name = "draft"
	}
	l.steps = append(l.steps, what+" "+name)
	if what+" "+name == l.fails {
		return errors.New("no room")
	}
	return nil
}

func (l *log) create(name string, _ fs.FileMode) (file, error) {
	return logged{l, name}, l.step("create", name)
}
func (l *log) open(name string) (file, error) { return logged{l, name}, nil }
func (l *log) rename(from, to string) error   { return l.step("rename to", to) }
func (l *log) remove(name string) error       { return l.step("remove", name) }

type logged struct {
	l    *log
	name string
}

func (f logged) Write(data []byte) (int, error) { return len(data), f.l.step("write", f.name) }
func (f logged) Sync() error                    { return f.l.step("flush", f.name) }
func (f logged) Close() error                   { return nil }

// The file is flushed before it takes its name, and the folders after.
func TestOrder(t *testing.T) {
	l := &log{}
	if err := write(l, "ab/abc.jpg", []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	want := []string{"create draft", "write draft", "flush draft", "rename to ab/abc.jpg", "flush ab", "flush ."}
	if runtime.GOOS == "windows" {
		want = want[:4]
	}
	if diff := cmp.Diff(want, l.steps); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Whatever fails, the draft does not stay, and nothing unflushed takes the name.
func TestFailure(t *testing.T) {
	for _, at := range []string{"write draft", "flush draft", "rename to note.yaml"} {
		l := &log{fails: at}
		if err := write(l, "note.yaml", []byte("x"), 0o644); err == nil {
			t.Errorf("%s failed and nobody says so", at)
		}
		if l.steps[len(l.steps)-1] != "remove draft" || at != "rename to note.yaml" && strings.Contains(strings.Join(l.steps, ","), "rename") {
			t.Errorf("%s failed: %v", at, l.steps)
		}
	}
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	for _, text := range []string{"one", "two"} {
		if err := Write(root, "note.yaml", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.Join(dir, "note.yaml")); err != nil || string(got) != text {
			t.Errorf("%q, %v; want %q", got, err, text)
		}
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if err := Write(root, "../out", nil, 0o644); err == nil {
		t.Error("written outside the folder")
	}
}
