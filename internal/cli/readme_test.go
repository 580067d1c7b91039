package cli_test

import (
	"bufio"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/cli/shell"
)

// README.md says what it shows by running it: after a line <!-- readme-script --> every
// line of the next ```sh block is a fettler command that must end with exit code
// 0, or with the one that a comment "# exits N" at its end names. The blocks run
// from top to bottom on one new bench.
func TestTheCommandsOfTheReadmeRun(t *testing.T) {
	lines, err := tagged("../../README.md")
	if err != nil {
		t.Fatalf("README.md: %v", err)
	}
	if len(lines) == 0 {
		t.Fatal("README.md has no command after a line <!-- readme-script -->")
	}
	b := newBench(t)
	for _, l := range lines {
		words, err := shell.Split(l)
		if err != nil || len(words) == 0 || words[0] != "fettler" {
			t.Errorf("%q is no plain fettler command: %v", l, err)
			continue
		}
		want := 0
		if m := exits.FindStringSubmatch(l); m != nil {
			want, _ = strconv.Atoi(m[1])
		}
		out, errs, exit := b.run(words[1:]...)
		if int(exit) != want {
			t.Errorf("%s\nexit %d, want %d\n%s%s", l, exit, want, out, errs)
		}
	}
}

var exits = regexp.MustCompile(`# exits (\d+)$`)

// tagged are the lines of the blocks to run.
func tagged(file string) ([]string, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []string
	wanted, in := false, false
	for s := bufio.NewScanner(f); s.Scan(); {
		l := strings.TrimSpace(s.Text())
		switch {
		case l == "<!-- readme-script -->":
			wanted = true
		case wanted && !in && l == "```sh":
			in = true
		case in && l == "```":
			wanted, in = false, false
		case in && l != "":
			out = append(out, l)
		}
	}
	return out, nil
}
