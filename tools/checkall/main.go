// Command checkall is the one test command of this repository: what passes here
// may go in. Run it from anywhere in the repository with
//
//	go run ./tools/checkall
//
// It checks the formatting, runs go vet, builds the program without cgo for
// Linux, macOS and Windows, sees that there is a Chromium for the browser tests
// (installing it on Debian as root), and runs every test, uncached, with the
// output of go test as it is. It ends with exit code 1 if anything failed.
// FETTLER_NO_BROWSER=1 leaves Chromium and the browser tests out.
package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := toRoot(); err != nil {
		fmt.Fprintln(os.Stderr, "checkall:", err)
		os.Exit(2)
	}
	var failed []string
	for _, s := range []struct {
		name string
		run  func(context.Context) error
	}{{"format", format}, {"vet", vet}, {"build", build}, {"browser", browser}, {"test", test}} {
		fmt.Println("==", s.name)
		if err := s.run(ctx); err != nil {
			fmt.Fprintf(os.Stderr, "checkall: %s: %v\n", s.name, err)
			failed = append(failed, s.name)
		}
		if ctx.Err() != nil {
			failed = append(failed, "stopped")
			break
		}
	}
	if len(failed) > 0 {
		fmt.Fprintln(os.Stderr, "checkall: failed:", strings.Join(failed, ", "))
		os.Exit(1)
	}
	fmt.Println("== all well")
}

// toRoot goes to the folder of go.mod.
func toRoot() error {
	dir, err := os.Getwd()
	if err != nil {
		return err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return os.Chdir(dir)
		}
		up := filepath.Dir(dir)
		if up == dir {
			return fmt.Errorf("there is no go.mod here or above; run it inside the repository")
		}
		dir = up
	}
}

// format lists files that gofmt would change.
func format(ctx context.Context) error {
	out, err := exec.CommandContext(ctx, "gofmt", "-l", ".").Output()
	if err != nil {
		return fmt.Errorf("gofmt: %w", err)
	}
	if files := strings.TrimSpace(string(out)); files != "" {
		return fmt.Errorf("gofmt -w these files:\n%s", files)
	}
	return nil
}

func vet(ctx context.Context) error { return command(ctx, nil, "go", "vet", "./...") }

// build builds the program for every system it is meant for.
func build(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "checkall")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	for _, target := range []string{"linux/amd64", "linux/arm64", "darwin/arm64", "windows/amd64"} {
		system, arch, _ := strings.Cut(target, "/")
		fmt.Println("  ", target)
		env := []string{"CGO_ENABLED=0", "GOOS=" + system, "GOARCH=" + arch}
		if err := command(ctx, env, "go", "build", "-trimpath", "-o", filepath.Join(dir, system+"-"+arch), "./cmd/..."); err != nil {
			return fmt.Errorf("%s: %w", target, err)
		}
	}
	return nil
}

// browsers are the names under which Chromium is known.
var browsers = []string{"chromium", "chromium-browser", "headless-shell"}

// browser sees that there is a Chromium, which the browser tests need.
func browser(ctx context.Context) error {
	if os.Getenv("FETTLER_NO_BROWSER") != "" {
		fmt.Println("   left out")
		return nil
	}
	if slices.ContainsFunc(browsers, found) {
		return nil
	}
	if runtime.GOOS == "linux" && os.Geteuid() == 0 && found("apt-get") {
		fmt.Println("   installing chromium")
		if err := command(ctx, nil, "apt-get", "update"); err != nil {
			return err
		}
		return command(ctx, []string{"DEBIAN_FRONTEND=noninteractive"}, "apt-get", "install", "-y", "--no-install-recommends", "chromium")
	}
	how := "install your system's Chromium and see that it is on the path"
	if runtime.GOOS == "linux" {
		how = "install it, on Debian with sudo apt-get install chromium"
	}
	return fmt.Errorf("no Chromium was found; %s, or set FETTLER_NO_BROWSER=1 to leave the browser tests out", how)
}

func found(name string) bool {
	_, err := exec.LookPath(name)
	return err == nil
}

func test(ctx context.Context) error { return command(ctx, nil, "go", "test", "./...", "-count=1") }

// command runs a program with its output shown as it comes.
func command(ctx context.Context, env []string, name string, args ...string) error {
	c := exec.CommandContext(ctx, name, args...)
	c.Env = append(os.Environ(), env...)
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	if err := c.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}
