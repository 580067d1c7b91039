package web

import (
	"fmt"
	"html/template"
	"log/slog"
	"net/http"
	"sync"

	"fettler/internal/casework"
	"fettler/internal/heatdesk"
	"fettler/internal/notedesk"
	"fettler/internal/partdesk"
)

// Options are what the pages need besides the bench. The zero value is the default.
type Options struct {
	// Notes gives the notes to read; nil leaves the reading pages with titles only.
	Notes casework.Notes
	// Desk is where notes are written; nil stands for one that can try a note but not keep it.
	Desk *notedesk.Desk
	// Log gets what visitors are not shown; nil means slog.Default.
	Log *slog.Logger
	// Hosts are host names the pages may be reached under besides IP addresses,
	// localhost, names without a dot and names under .local.
	Hosts []string
	// Gallery adds /gallery, which shows every screen in every state with invented data.
	Gallery bool
	// Version is shown on the help page.
	Version string
}

// A Server answers requests for the bench's pages. It is safe for concurrent use.
type Server struct {
	bench  *casework.Bench
	heat   heatdesk.Desk
	parts  *partdesk.Desk
	o      Options
	log    *slog.Logger
	pages  map[string]*template.Template
	static *assets
	cross  *http.CrossOriginProtection
	desk   *notedesk.Desk
	tools  func() []string
}

// New parses the templates. An error is a mistake in this package.
func New(b *casework.Bench, o Options) (*Server, error) {
	if b == nil {
		return nil, fmt.Errorf("web: New wants a bench")
	}
	s := &Server{bench: b, parts: partdesk.New(b), o: o, log: o.Log, cross: http.NewCrossOriginProtection()}
	if s.desk = o.Desk; s.desk == nil {
		s.desk = &notedesk.Desk{}
	}
	if s.o.Notes == nil && o.Desk != nil {
		s.o.Notes = o.Desk
	}
	if s.log == nil {
		s.log = slog.Default()
	}
	var err error
	if s.static, err = newAssets(); err != nil {
		return nil, fmt.Errorf("web: static files: %w", err)
	}
	if s.pages, err = parsePages(); err != nil {
		return nil, fmt.Errorf("web: templates: %w", err)
	}
	s.tools = sync.OnceValue(s.instruments)
	return s, nil
}
