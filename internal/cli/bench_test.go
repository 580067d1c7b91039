package cli_test

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"

	"fettler/internal/cli"
)

// serveOnce starts the bench, runs visit with its address, and ends it.
func serveOnce(t *testing.T, folder string, args []string, visit func(address string)) (out string, exit cli.Exit) {
	t.Helper()
	ctx, end := context.WithCancel(t.Context())
	defer end()
	var o, e bytes.Buffer
	p := program(args, strings.NewReader(""), &o, &e, func(name string) string {
		if name == "FETTLER_FOLDER" {
			return folder
		}
		return ""
	})
	shown := ""
	p.Show = func(address string) error { shown = address; return nil }
	p.Ready = func(address string) {
		go func() {
			defer end()
			visit(address)
		}()
	}
	exit = p.Run(ctx)
	if exit != cli.OK {
		t.Errorf("exit %d: %s%s", exit, o.String(), e.String())
	}
	if wants := !strings.Contains(strings.Join(args, " "), "--no-browser"); wants != (shown != "") {
		t.Errorf("a browser was shown %q", shown)
	}
	return o.String(), exit
}

func get(t *testing.T, address string) string {
	r, err := http.Get(address)
	if err != nil {
		t.Error(err)
		return ""
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Error(err)
	}
	return string(body)
}

func TestBenchIsServedWithTheInventedCaseAndEndsCleanly(t *testing.T) {
	folder := t.TempDir()
	for range 2 { // the second start finds the case there
		out, _ := serveOnce(t, folder, nil, func(address string) {
			if page := get(t, address); strings.Count(page, "\n") != 1 || !strings.Contains(page, "invented") {
				t.Errorf("the bench has\n%s, want the invented case alone", page)
			}
		})
		if !strings.Contains(out, "the bench is at http://127.0.0.1:77") {
			t.Errorf("it said %q", out)
		}
	}
}

func TestBenchTakesTheNextPortIfOneIsTaken(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:7700")
	if err == nil { // else somebody else has taken it
		defer l.Close()
	}
	serveOnce(t, t.TempDir(), []string{"bench", "--no-browser", "--no-demo"}, func(address string) {
		if strings.Contains(address, ":7700/") || !strings.HasPrefix(address, "http://127.0.0.1:77") {
			t.Errorf("it is at %s", address)
		}
	})
}

func TestBenchSaysItsAddressAsJSON(t *testing.T) {
	out, _ := serveOnce(t, t.TempDir(), []string{"--addr", "127.0.0.1:0", "--no-browser", "--no-demo", "--json"}, func(string) {})
	if !strings.Contains(out, `"address": "http://127.0.0.1:`) {
		t.Errorf("it said %s", out)
	}
}

func TestBenchRefusesATakenAddress(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, errs, exit := newBench(t).run("bench", "--addr", l.Addr().String())
	if exit != cli.Usage || !strings.Contains(errs, "take another address") {
		t.Errorf("exit %d: %s", exit, errs)
	}
}
