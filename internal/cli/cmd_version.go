package cli

import (
	"context"
	"runtime"
	"runtime/debug"
)

// versionCmd says which build this is.
type versionCmd struct{}

// built says which build this is.
type built struct {
	Version string `json:"version"` // "(devel)" if it was not released
	Commit  string `json:"commit"`
	Dirty   bool   `json:"dirty"` // built from changed files
	Go      string `json:"go"`
	System  string `json:"system"`
}

func (c *versionCmd) run(context.Context, *session) (answer, error) { return buildOf(), nil }

func buildOf() *built {
	a := &built{Version: "(unknown)", Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return a
	}
	a.Version = info.Main.Version
	for _, x := range info.Settings {
		switch x.Key {
		case "vcs.revision":
			a.Commit = x.Value
		case "vcs.modified":
			a.Dirty = x.Value == "true"
		}
	}
	return a
}

func (a *built) text(p *page) {
	line := "fettler " + a.Version
	if a.Commit != "" {
		line += ", commit " + a.Commit
	}
	if a.Dirty {
		line += ", changed"
	}
	p.line(line)
	p.line(a.Go + " on " + a.System)
}
