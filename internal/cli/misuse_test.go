package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettler/internal/cli"
)

// Every answer to odd input says what is wrong and what to do, in few words, with
// the exit code that the help documents.
func TestOddInput(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--id", "k")
	dir := t.TempDir()
	there := filepath.Join(dir, "there.md")
	if err := os.WriteFile(there, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	nowhere := filepath.Join(dir, "no", "such")
	for _, c := range []struct {
		args []string
		exit cli.Exit
		says string
	}{
		{[]string{"cases", "extra"}, cli.Usage, `"extra" is one word too many`},
		{[]string{"show", "-c"}, cli.Usage, "nothing stands after --case"},
		{[]string{"pack"}, cli.Usage, "no file is named"},
		{[]string{"unpack"}, cli.Usage, "no file is named"},
		{[]string{"correct"}, cli.Usage, "no event and command were named"},
		{[]string{"shelf", "add"}, cli.Usage, "type it as: fettler shelf add"},
		{[]string{"note", "show"}, cli.Usage, "type it as: fettler note show"},
		{[]string{"check", "k"}, cli.Usage, `"k" is a case; no check was named`},
		{[]string{"repair", "k"}, cli.Usage, `"k" is a case; no repair was named`},
		{[]string{"opened", "cordless KETTLE"}, cli.Usage, "is a case; no level was named"},
		{[]string{"appraise", dir}, cli.NotFound, "it is a folder"},
		{[]string{"unpack", dir}, cli.NotFound, "it is a folder"},
		{[]string{"learnt", "--take-over", dir}, cli.NotFound, "it is a folder"},
		{[]string{"shelf", "import", dir}, cli.NotFound, "it is a folder"},
		{[]string{"photo", "-c", "k", dir}, cli.NotFound, "it is a folder"},
		{[]string{"open-data", "--in", nowhere}, cli.NotFound, "there is no file"},
		{[]string{"photo", "-c", "k", nowhere}, cli.NotFound, "there is no file"},
		{[]string{"pack", there}, cli.Usage, "already, and it is left as it is"},
		{[]string{"story", "k", "--out", there}, cli.Usage, "already, and it is left as it is"},
		{[]string{"story", "k", "--out", nowhere + ".md"}, cli.Usage, "there is no such folder"},
		{[]string{"check", "-c", "k", strings.Repeat("z", 100_000)}, cli.NotFound, "zz…"},
		{[]string{"close", "k", strings.Repeat("ö", 100_000)}, cli.Usage, "öö…"},
		{[]string{"say", "a", "b", strings.Repeat("z", 100_000)}, cli.Usage, "one word too many"},
		{[]string{"repair", "-c", "k", "--what", "x", "--money", "NaN"}, cli.Usage, "cannot be read as a figure"},
		{[]string{"repair", "-c", "k", "--what", "x", "--money", "-3"}, cli.Usage, "the money cannot be -3"},
	} {
		out, errs, exit := b.run(c.args...)
		flat := strings.Join(strings.Fields(errs), " ")
		if exit != c.exit || !strings.Contains(flat, c.says) || !strings.Contains(errs, "hint: ") || out != "" || len(errs) > 4000 {
			t.Errorf("fettler %.60q: exit %d, %d bytes: %.400s", c.args, exit, len(errs), errs)
		}
	}
	if data, err := os.ReadFile(there); err != nil || string(data) != "mine" {
		t.Errorf("a file that was there reads %q, %v", data, err)
	}
}

// A journal damaged in the middle is told with its cause and place, and left alone.
func TestADamagedJournal(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--id", "k")
	file := filepath.Join(b.folder, "journal.sqlite")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for name, damaged := range map[string][]byte{
		"cut":     data[:len(data)/2+100],
		"a line":  []byte(`{"case":"k","seq":1,"at":"20`),
		"garbled": append(append(append([]byte{}, data[:8192]...), []byte(strings.Repeat("\xa5", 8192))...), data[16384:]...),
	} {
		for _, beside := range []string{"-wal", "-shm"} {
			os.Remove(file + beside)
		}
		if err := os.WriteFile(file, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"show", "k"}, {"remark", "-c", "k", "x"}} {
			_, errs, exit := b.run(args...)
			if exit != cli.StoreFailed || !strings.Contains(errs, "hint: ") || !strings.Contains(strings.Join(strings.Fields(errs), ""), strings.Join(strings.Fields(filepath.Base(b.folder)), "")) {
				t.Errorf("%s, fettler %q: exit %d: %s", name, args, exit, errs)
			}
		}
	}
}
