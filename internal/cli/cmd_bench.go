package cli

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"time"

	"fettler/internal/casework"
)

// benchCmd serves the pages.
type benchCmd struct {
	Addr      string   `name:"addr"`
	Host      []string `name:"host"`
	NoBrowser bool     `name:"no-browser"`
	NoDemo    bool     `name:"no-demo"`
	Gallery   bool     `name:"gallery"`
}

const (
	usualPort = 7700
	portsTry  = 20              // so many ports are tried from the usual one on
	closeWait = 5 * time.Second // requests under way get so long to end
)

// served is where the pages are; it is said at the start, and nothing at the end.
type served struct {
	Address string `json:"address"`
}

func (c *benchCmd) run(ctx context.Context, s *session) (answer, error) {
	if s.Pages == nil {
		return nil, &usageError{text: "this build has no pages", next: "use the other commands; fettler help lists them"}
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	if s.Demo != nil && !c.NoDemo {
		if _, err := s.Demo(ctx, b); err != nil {
			return nil, err
		}
	}
	pages, err := s.Pages(b, PageSettings{Notes: s.desk, Desk: s.desk, Version: buildOf().Version, Hosts: c.Host, Gallery: c.Gallery})
	if err != nil {
		return nil, fmt.Errorf("the pages cannot be made: %w", err)
	}
	l, err := listen(ctx, c.Addr)
	if err != nil {
		return nil, err
	}
	address := "http://" + l.Addr().String() + "/"
	if err := s.announce(address, c.NoBrowser); err != nil {
		return nil, err
	}
	return nil, serve(ctx, l, pages)
}

// announce says where the bench is and opens a browser there.
func (s *session) announce(address string, quiet bool) error {
	if s.json {
		if err := s.writeJSON(document{Form: jsonForm, Command: s.command, Data: served{address}}); err != nil {
			return err
		}
	} else {
		fmt.Fprintf(s.out, "the bench is at %s\n(Ctrl-C ends it)\n", address)
	}
	if err := s.out.Flush(); err != nil {
		return fmt.Errorf("the address could not be written: %w", err)
	}
	if !quiet && s.Show != nil {
		if err := s.Show(address); err != nil {
			s.say("no browser could be opened (%v); open %s yourself", err, address)
		}
	}
	if s.Ready != nil {
		s.Ready(address)
	}
	return nil
}

// listen takes the address asked for, or on this machine alone the usual port
// or the next free one.
func listen(ctx context.Context, addr string) (net.Listener, error) {
	var lc net.ListenConfig
	if addr != "" {
		l, err := lc.Listen(ctx, "tcp", addr)
		if err != nil {
			return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("the bench cannot be served at %q: %v", addr, err), Next: "take another address, as in --addr 127.0.0.1:7701", Err: err}
		}
		return l, nil
	}
	var last error
	for port := usualPort; port < usualPort+portsTry; port++ {
		l, err := lc.Listen(ctx, "tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
		if err == nil {
			return l, nil
		}
		if last = err; ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("no port from %d to %d is free", usualPort, usualPort+portsTry-1), Next: "name one with --addr 127.0.0.1:PORT", Err: last}
}

// serve answers requests until ctx ends, then lets those under way finish.
func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute}
	failed := make(chan error, 1)
	go func() { failed <- srv.Serve(l) }()
	select {
	case err := <-failed:
		return fmt.Errorf("the bench can no longer be served: %w", err)
	case <-ctx.Done():
	}
	rest, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeWait)
	defer cancel()
	if err := srv.Shutdown(rest); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("the bench was not closed cleanly: %w", err)
	}
	return nil
}
