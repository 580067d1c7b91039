package note_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"fettler/internal/note"
)

// manyParts is a note with so many parts, and the text of two of them once more at the end. YAML's
// own reader gets it if its title is folded over two lines.
func manyParts(n int, yaml bool) string {
	title := "Many"
	if yaml {
		title = ">-\n  Many"
	}
	var b strings.Builder
	b.WriteString("device: many\ntitle: " + title + "\ncategory: Misc\nparts:\n")
	for i := range n {
		fmt.Fprintf(&b, "  p%d: {class: fuse}\n", i)
	}
	fmt.Fprintf(&b, "  p0: {class: fuse}\n  p%d: {class: fuse}\n", n-1)
	return b.String()
}

// A key that stands in a mapping twice is found however many there are, with the line of the first.
func TestTwiceAmongMany(t *testing.T) {
	for _, yaml := range []bool{false, true} {
		for _, n := range []int{2, 63, 64, 65, 200} {
			_, err := note.Load(context.Background(), layerOf("many.yaml", manyParts(n, yaml)))
			var problems note.Problems
			errors.As(err, &problems)
			found := ""
			for _, p := range problems {
				if strings.Contains(p.Text, "stands here twice") {
					found += fmt.Sprintf("%s %s; ", p.Text, p.Hint)
				}
			}
			first := 5
			if yaml {
				first = 6
			}
			want := fmt.Sprintf("%q stands here twice it is there already, in line %d; %q stands here twice it is there already, in line %d; ", "p0", first, fmt.Sprint("p", n-1), first+n-1)
			if found != want {
				t.Errorf("%d parts, YAML %v: %s\nwant %s", n, yaml, found, want)
			}
		}
	}
}

// BenchmarkManyKeys reads a file of the largest size that is all one mapping: it must not take
// longer than in proportion to its size.
func BenchmarkManyKeys(b *testing.B) {
	for _, n := range []int{5_000, 40_000} {
		text := manyParts(n, false)
		b.Run(fmt.Sprintf("%d kB", len(text)>>10), func(b *testing.B) {
			layer := layerOf("many.yaml", text)
			for b.Loop() {
				if lib, err := note.Load(context.Background(), layer); lib == nil {
					b.Fatal(err)
				}
			}
		})
	}
}
