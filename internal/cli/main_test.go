package cli_test

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"fettler/internal/casework"
	"fettler/internal/cli"
	"fettler/internal/demo"
)

// The test binary is also the program itself, for the scripts that want a
// second process ("exec fettler"); "fettler" alone runs in this process.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"fettler": func() {
			p := program(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv)
			os.Exit(int(p.Run(context.Background())))
		},
	})
}

// program is the program as the tests run it.
func program(args []string, in io.Reader, out, errs io.Writer, env func(string) string) *cli.Main {
	return &cli.Main{Args: args, Stdin: in, Stdout: out, Stderr: errs, Getenv: env, OS: "linux", Pages: pages, Demo: demo.Install}
}

// pages is a web face of one line.
func pages(b *casework.Bench, _ cli.PageSettings) (http.Handler, error) {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		list, err := b.List(r.Context())
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		for _, l := range list {
			io.WriteString(w, l.Title+"\n")
		}
	}), nil
}

// bench runs commands in a folder of their own.
type bench struct {
	t      *testing.T
	folder string
	asked  string // what is typed when asked; "" for nobody there
	env    map[string]string
}

func newBench(t *testing.T) *bench { return &bench{t: t, folder: t.TempDir()} }

func (b *bench) run(args ...string) (out, errs string, exit cli.Exit) {
	b.t.Helper()
	var o, e bytes.Buffer
	p := program(args, strings.NewReader(b.asked), &o, &e, func(name string) string {
		if name == "FETTLER_FOLDER" {
			return b.folder
		}
		return b.env[name]
	})
	p.Asks = b.asked != ""
	exit = p.Run(b.t.Context())
	return o.String(), e.String(), exit
}

func (b *bench) must(args ...string) string {
	b.t.Helper()
	out, errs, exit := b.run(args...)
	if exit != cli.OK {
		b.t.Fatalf("fettler %q: exit %d\n%s%s", args, exit, out, errs)
	}
	return out
}
