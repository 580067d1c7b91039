package house_test

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestEachPackageHasOnePackageComment(t *testing.T) {
	comments := map[string][]string{}
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		comments[f.dir] = append(comments[f.dir], nil...)
		if f.comment {
			comments[f.dir] = append(comments[f.dir], path.Base(f.path))
		}
	}
	for dir, in := range comments {
		if len(in) != 1 {
			t.Errorf("package %s has %d package comments, want one (%s)", dir, len(in), strings.Join(in, ", "))
		}
	}
}

// mostLines is what a person reads in one go, at the very most.
const mostLines = 500

func TestFilesAreReadInOneGo(t *testing.T) {
	for _, f := range goFiles(t) {
		if !f.generated && f.lines > mostLines {
			t.Errorf("%s has %d lines, more than %d; it is usually two ideas", f.path, f.lines, mostLines)
		}
	}
}

// The words are put together here so that this file does not hold them.
var unwanted = []struct{ pattern, why string }{
	{`/wo` + `rk/|/ro` + `ot/|/ho` + `me/[a-z]+/|/Us` + `ers/[a-z]+/|[Cc]:\\Us` + `ers`, "a path of one machine"},
	{`/t` + `mp/`, "a path that is not the same everywhere; tests have t.TempDir"},
	{`proxy\.gol` + `ang|registry\.n` + `pmjs|py` + `pi\.org`, "the host of a registry"},
	{`(?i)\bseed doc` + `ument|\btran` + `script\b`, "where something was first said; say what it is for"},
	{`\bTO` + `DO\b|\bFIX` + `ME\b|\bXX` + `X\b`, "work not done; do it, or say what the limit is"},
	{`(?i)\blorem ip` + `sum\b`, "text that says nothing"},
	{`(?i)\bissue #\d`, "a number that nobody can look up; say what the trouble was"},
}

func TestUnwantedWords(t *testing.T) {
	var rules []*regexp.Regexp
	for _, u := range unwanted {
		rules = append(rules, regexp.MustCompile(u.pattern))
	}
	texts(t, func(name, text string) {
		for i, r := range rules {
			if at := r.FindStringIndex(text); at != nil {
				t.Errorf("%s:%d: %q is %s", name, 1+strings.Count(text[:at[0]], "\n"), text[at[0]:at[1]], unwanted[i].why)
			}
		}
	})
}

// maySkip are the files whose tests may be skipped, each with its reason.
var maySkip = map[string]string{
	"internal/web/browsertest": "FETTLER_NO_BROWSER says that there is no browser on purpose",
	"internal/store/sqlite":    "Windows keeps the rights of files otherwise",
}

func TestNothingIsSkipped(t *testing.T) {
	skip := regexp.MustCompile(`\b[tbf]\.(Skip|Skipf|SkipNow)\(`)
	short := regexp.MustCompile(`if testing\.Short\(\) \{\s*t\.Skip\(`) // never so in checkall
	for _, f := range goFiles(t) {
		if maySkip[f.dir] == "" && skip.MatchString(short.ReplaceAllString(f.text, "")) {
			t.Errorf("%s skips a test; a test that cannot run must fail, or stand in maySkip with the reason", f.path)
		}
	}
}

// mayTime are the tests that take the time and assert nothing by it.
var mayTime = map[string]string{
	"internal/plan/growth_test.go": "draws the picture of how the time grows; what it draws is not compared",
}

func TestNoTestAssertsTime(t *testing.T) {
	clock := regexp.MustCompile(`time\.Since\(`)
	for _, f := range goFiles(t) {
		if f.test && mayTime[f.path] == "" && clock.MatchString(f.text) && !strings.Contains(f.text, "testing.B") {
			t.Errorf("%s takes the time; speed is for benchmarks, a busy machine must not fail a test", f.path)
		}
	}
}

// own are folders of test data that are made here and need no source.
var own = []string{"fuzz", "script", "rapid"}

func TestTestDataNamesItsSource(t *testing.T) {
	readme, data := map[string]bool{}, map[string]string{}
	files(t, func(name string, _ []byte) {
		at := strings.Index(name, "testdata/")
		if at < 0 {
			return
		}
		dir, rest := name[:at+len("testdata")], name[at+len("testdata/"):]
		first, _, _ := strings.Cut(rest, "/")
		switch {
		case path.Base(name) == "README.md":
			readme[dir] = true
		case !slices.Contains(own, first):
			data[dir] = name
		}
	})
	for dir, name := range data {
		if !readme[dir] {
			t.Errorf("%s has no README.md that says where %s comes from", dir, path.Base(name))
		}
	}
}
