// Command fettler is the bench repairer's tool: what may be wrong, what to do
// next, and when to stop. Without a command it serves the bench to a browser;
// "fettler help" lists the rest. Package cli is the program; here it is tied to
// this machine.
package main

import (
	"context"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"syscall"

	"github.com/mattn/go-isatty"

	"fettler/internal/casework"
	"fettler/internal/cli"
	"fettler/internal/demo"
	"fettler/internal/web"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends it at once
	home, _ := os.UserHomeDir()  // without one the folder must be named
	m := cli.Main{
		Args: os.Args[1:], Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv,
		Asks: isatty.IsTerminal(os.Stdin.Fd()) && isatty.IsTerminal(os.Stderr.Fd()),
		Bold: isatty.IsTerminal(os.Stdout.Fd()),
		OS:   runtime.GOOS, Home: home,
		Pages: pages, Demo: demo.Install, Show: browser(runtime.GOOS),
	}
	exit := m.Run(ctx)
	stop()
	os.Exit(int(exit))
}

// pages is the web face.
func pages(b *casework.Bench, p cli.PageSettings) (http.Handler, error) {
	s, err := web.New(b, web.Options{Notes: p.Notes, Desk: p.Desk, Version: p.Version, Hosts: p.Hosts, Gallery: p.Gallery})
	if err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	s.Install(mux)
	return mux, nil
}

// browser opens an address in the user's browser, nil where there is none to open.
func browser(system string) func(string) error {
	var command []string
	switch system {
	case "darwin":
		command = []string{"open"}
	case "windows":
		command = []string{"rundll32", "url.dll,FileProtocolHandler"}
	default:
		if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
			return nil
		}
		command = []string{"xdg-open"}
	}
	return func(address string) error {
		c := exec.Command(command[0], append(command[1:], address)...)
		if err := c.Start(); err != nil {
			return err
		}
		go c.Wait() // it may outlive us; only its remains are cleared away
		return nil
	}
}
