package note

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.yaml.in/yaml/v4"
)

// drawn is a tree with its places, for comparing.
func drawn(n *node) string {
	var b strings.Builder
	var walk func(n *node, depth int)
	walk = func(n *node, depth int) {
		fmt.Fprintf(&b, "%*s%d:%d kind %d plain %v %q\n", 2*depth, "", n.line, n.column, n.kind, n.plain, n.text)
		for i, v := range n.vals {
			if n.kind == mapping {
				walk(n.keys[i], depth+1)
			}
			walk(v, depth+1)
		}
	}
	if n == nil {
		return "nothing"
	}
	walk(n, 0)
	return b.String()
}

// bothTrees reads data quickly and by the YAML library. ok says that the quick
// reader did not leave it to the library.
func bothTrees(t *testing.T, data []byte) (got, want string, ok bool) {
	t.Helper()
	name := "x.yaml"
	var quickly, fully sink
	tree, ok := (&treeMaker{file: &name, sink: &quickly}).quickTree(data)
	if !ok {
		return "", "", false
	}
	var doc yaml.Node
	if err := yaml.Load(data, &doc, yaml.WithV4Defaults()); err != nil {
		t.Fatalf("read quickly, but no YAML: %v\n%s", err, data)
	}
	slow := (&treeMaker{file: &name, sink: &fully}).convert(doc.Content[0], 0)
	return drawn(tree) + listed(quickly.list), drawn(slow) + listed(fully.list), true
}

// listed are problems in an order that does not hang on when they came up.
func listed(list Problems) string {
	var lines []string
	for _, p := range list {
		lines = append(lines, fmt.Sprint(p))
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// TestQuickTree compares the trees of all shipped notes, byte for byte of text
// and place for place. The yardstick is the YAML library.
func TestQuickTree(t *testing.T) {
	files, left := 0, 0
	for _, dir := range []string{"../../library", "testdata/doc"} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".yaml") {
				return err
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			files++
			got, want, ok := bothTrees(t, data)
			if !ok {
				left++
				t.Logf("%s is left to the library", path)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (-library +quick):\n%s", path, diff)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d of %d files read quickly", files-left, files)
	if left > files/10 {
		t.Errorf("%d of %d files are left to the library", left, files)
	}
}

// odd are corners of YAML in which the quick reader must agree or give up.
var odd = []string{
	"a: b\n", "a: b", "a:\n  b: c\n", "a:\n  - b\n  - c: d\n    e: f\n", "a:\n- b\n- c\nd: e\n", "a: {b: c, d: [e, f]}\n",
	"a: {b: c,\n  d: e}\n", "a: [b,\n  c]\nd: e\n", "a: 'it''s'\n", "a: \"b: c # d\"\n", "a: b # c\n", "a: b#c\n", "a: b: c\n", "a: b:c\n",
	"a: b\n  c\n", "a: |\n  b\n", "a: &x b\n", "a: *x\n", "a: ~\n", "a:\nb: c\n", "a: 007\n", "a: -5\n", "a: - b\n", "? a\n: b\n", "a: {b}\n", "a: {b: }\n",
	"a: [b, ]\n", "a: [b: c]\n", "{a: b}\n", "- a\n", "a: [é, ü]\nö: x\n", "a: b\na: c\n", "--- a\n", "---\na: b\n", "a: b\n...\n", "a: 'b'\n  'c'\n",
	"a: 'b' c\n", "a: \"b\\n\"\n", "a : b\n", "\"a\": b\n", "\"a\":b\n", "a: {\"b\":c}\n", "a:   b  \n", "  a: b\n", "a:\n    b: c\n  d: e\n", "a:\n  b: c\n d: e\n",
	"#c\na: b\n#d\n", "a: !x b\n", "a: %b\n", "a: @b\n", "a: [a\n]\n", "a: [b]c\n", "a: {b: c} d\n", "a: [b # c\n  , d]\n", "a: [b, #c\n  d]\n", "a:\n  - - b\n",
	"a:\n  -\n    b\n", "a: b\n- c\n", "a:\n  b\n", "a: b ?c\n", "a: [?b]\n", "a: [-b, -]\n", "a: [:b]\n", "a: {b:: c}\n", "a: [b:]\n", "a: [b:c]\n", "a: x---\n", "a: ---\n",
	"a: [b,,c]\n", "a: {b: c d: e}\n", "a: 'b\n", "a: [b\n", "a\n", ": b\n", "a: 'b': c\n", "a: b ': c'\n", "a:\n  b: c\n# x\n  d: e\n", "a: \"\"\n", "a: ''''\n",
}

func TestQuickTreeOdd(t *testing.T) {
	for _, text := range odd {
		if got, want, _ := bothTrees(t, []byte(text)); got != want {
			t.Errorf("%q (-library +quick):\n%s", text, cmp.Diff(want, got))
		}
	}
}

func FuzzQuickTree(f *testing.F) {
	for _, text := range odd {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if got, want, _ := bothTrees(t, data); got != want {
			t.Errorf("%q (-library +quick):\n%s", data, cmp.Diff(want, got))
		}
	})
}

// BenchmarkTree reads a shipped note both ways.
func BenchmarkTree(b *testing.B) {
	data, err := os.ReadFile("../../library/devices/powered-loudspeaker.yaml")
	if err != nil {
		b.Fatal(err)
	}
	name := "x.yaml"
	b.Run("quick", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			var s sink
			if _, ok := (&treeMaker{file: &name, sink: &s}).quickTree(data); !ok {
				b.Fatal("left to the library")
			}
		}
	})
	b.Run("library", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			var s sink
			var doc yaml.Node
			if err := yaml.Load(data, &doc, yaml.WithV4Defaults()); err != nil {
				b.Fatal(err)
			}
			(&treeMaker{file: &name, sink: &s}).convert(doc.Content[0], 0)
		}
	})
}
