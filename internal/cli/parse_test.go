package cli_test

import (
	"strings"
	"testing"

	"fettler/internal/cli"
)

// What is suggested is a flag of that command, near what was typed, with the words typed.
func TestMistypedFlags(t *testing.T) {
	for _, c := range []struct {
		args []string
		not  string
	}{
		{[]string{"shelf", "labels", "--out", "l.pdf"}, "--own"}, {[]string{"part", "discharge", "--volts", "400"}, "--notes"},
	} {
		b := newBench(t)
		if _, out, _ := b.run(c.args...); strings.Contains(out, c.not) {
			t.Errorf("%q: %s", c.args, out)
		}
	}
	b := newBench(t)
	if _, out, _ := b.run("take-in", "kettle", "--labl", "x"); !strings.Contains(out, "--label x") {
		t.Errorf("a letter left out: %s", out)
	}
	if _, out, _ := b.run("--addr", "127.0.0.1:1", "bench"); !strings.Contains(out, "after the command: fettler bench --addr") {
		t.Errorf("a flag before its command: %s", out)
	}
	if err := cli.Check([]string{"part", "instead", "electrolytic 10 µF 25 V", "--pieces", "-3"}); err == nil || !strings.Contains(err.Error(), "whole number") || strings.Contains(err.Error(), "short flag") {
		t.Errorf("a number of pieces below nought: %v", err)
	}
}
