package sqlite_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/journal"
	"fettler/internal/store/sqlite"
)

// The test binary is its own second process: with this variable set it does
// nothing but write to the file named there.
const childFile = "FETTLER_TEST_JOURNAL"

func TestMain(m *testing.M) {
	if file := os.Getenv(childFile); file != "" {
		n, _ := strconv.Atoi(os.Getenv(childFile + "_EVENTS"))
		if err := child(file, os.Getenv(childFile+"_NAME"), n); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// child appends events in pairs, n of them or for ever, and says the number of
// the last one of each pair once the store has acknowledged it.
func child(file, name string, n int) error {
	s, err := sqlite.Open(context.Background(), file)
	if err != nil {
		return err
	}
	defer s.Close()
	after := 0
	for i := 0; n == 0 || i < n; {
		err := s.Append(context.Background(), "shared", after, remark(fmt.Sprintf("%s %d first", name, i)), remark(fmt.Sprintf("%s %d second", name, i)))
		var late *journal.Conflict
		switch {
		case errors.As(err, &late):
			after = late.Now
			continue
		case err != nil:
			return err
		}
		after += 2
		i++
		fmt.Println(after)
	}
	return nil
}

func start(t *testing.T, file, name string, n int) (*exec.Cmd, io.Reader, *strings.Builder) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), childFile+"="+file, childFile+"_NAME="+name, fmt.Sprintf("%s_EVENTS=%d", childFile, n))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	said := &strings.Builder{}
	cmd.Stderr = said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, out, said
}

// Three processes write to one file at once, from before it exists: nothing is lost or doubled.
func TestProcesses(t *testing.T) {
	const each = 15
	file := filepath.Join(t.TempDir(), "bench #1 journal.db")
	var cmds []*exec.Cmd
	var said []*strings.Builder
	for _, name := range []string{"one", "two"} {
		cmd, out, errs := start(t, file, name, each)
		go io.Copy(io.Discard, out)
		cmds, said = append(cmds, cmd), append(said, errs)
	}
	if err := child(file, "here", each); err != nil {
		t.Error(err)
	}
	for i, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Errorf("%v: %s", err, said[i])
		}
	}
	checkPairs(t, file, 3*2*each)
}

// checkPairs reads the file afresh: numbers without a gap, every pair whole, no event twice.
func checkPairs(t *testing.T, file string, least int) {
	t.Helper()
	s := open(t, file)
	defer s.Close()
	n := count(t, s, "shared")
	if n < least {
		t.Errorf("%d events, want at least %d", n, least)
	}
	if n%2 != 0 {
		t.Errorf("%d events: half of an append was kept", n)
	}
	events, _ := s.Events(context.Background(), "shared", 0)
	seen := map[string]bool{}
	for _, e := range events {
		if seen[string(e.Data)] {
			t.Errorf("%s is there twice", e.Data)
		}
		seen[string(e.Data)] = true
	}
}

// A process killed while it writes loses nothing it had acknowledged and leaves
// no half of an append; the file can be used on.
func TestKilled(t *testing.T) {
	file := filepath.Join(t.TempDir(), "journal.db")
	acknowledged := 0
	for round := range 4 {
		cmd, out, _ := start(t, file, fmt.Sprint("round ", round), 0)
		lines := bufio.NewScanner(out)
		for k := 0; k < 5+7*round && lines.Scan(); k++ {
			acknowledged, _ = strconv.Atoi(lines.Text())
		}
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for lines.Scan() { // what it said before it died counts too
			if n, err := strconv.Atoi(lines.Text()); err == nil {
				acknowledged = n
			}
		}
		cmd.Wait()
		checkPairs(t, file, acknowledged)
	}
	if acknowledged == 0 {
		t.Fatal("the child never wrote anything")
	}
	s := open(t, file)
	n := count(t, s, "shared")
	if err := s.Append(context.Background(), "shared", n, remark("after all that")); err != nil {
		t.Error(err)
	}
}
