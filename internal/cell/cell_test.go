package cell_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/cell"
)

func TestGuard(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "lamp": "lamp", "'": "'", "'quoted'": "'quoted'", "a=b": "a=b", "3 V": "3 V",
		"=1+1": "'=1+1", "+44": "'+44", "-12 V rail dead": "'-12 V rail dead", "@SUM(A1)": "'@SUM(A1)", "\t=1+1": "'\t=1+1", "\n=1+1": "'\n=1+1", "＝1+1": "'＝1+1",
		"'=1+1": "''=1+1",
	} {
		if got := cell.Guard(in); got != want {
			t.Errorf("%q is written as %q, want %q", in, got, want)
		}
	}
}

func TestEveryTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("'=+-@\t\r\na ＝é"))).Draw(t, "text")
		if got := cell.Plain(cell.Guard(s)); got != s {
			t.Fatalf("%q came back as %q", s, got)
		}
		if g := cell.Guard(s); g != "" && strings.ContainsRune("=+-@\t\r\n＝", []rune(g)[0]) {
			t.Fatalf("%q is written as %q", s, g)
		}
	})
}
