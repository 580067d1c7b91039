package label_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/label"
)

// ISO/IEC 18004: the three finder patterns are 7 × 7 rings around a 3 × 3 core in the corners,
// the smallest code has 21 modules a side, each larger version four more.
func TestACodeHasItsFinders(t *testing.T) {
	for _, text := range []string{"s12", "http://192.168.1.20:7700/shelf/line/s12", strings.Repeat("ä", 100)} {
		c, err := label.Code(text)
		if err != nil {
			t.Fatal(err)
		}
		n := len(c)
		if n < 21 || (n-21)%4 != 0 {
			t.Errorf("%d modules", n)
		}
		for _, corner := range [][2]int{{0, 0}, {0, n - 7}, {n - 7, 0}} {
			for y := range 7 {
				for x := range 7 {
					ring := x == 0 || y == 0 || x == 6 || y == 6
					core := x >= 2 && x <= 4 && y >= 2 && y <= 4
					if c[corner[0]+y][corner[1]+x] != (ring || core) {
						t.Fatalf("%q: corner %v, module %d,%d", text, corner, x, y)
					}
				}
			}
		}
		for i := 8; i < n-8; i++ { // the timing pattern alternates
			if c[6][i] != (i%2 == 0) || c[i][6] != (i%2 == 0) {
				t.Fatalf("%q: timing at %d", text, i)
			}
		}
	}
}

func TestSheets(t *testing.T) {
	var labels []label.Label
	for range 25 {
		labels = append(labels, label.Label{Code: "http://bench.local:7700/shelf?place=drawer+3", Title: `drawer "3" <&>`, Lines: []string{"electrolytic capacitors"}})
	}
	s, err := label.Sheets(labels, label.Paper{})
	if err != nil || len(s) != 2 {
		t.Fatalf("%d sheets, %v", len(s), err)
	}
	for _, x := range s {
		if !strings.Contains(x, `width="210mm" height="297mm"`) {
			t.Error("not A4")
		}
		d := xml.NewDecoder(strings.NewReader(x))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestWhatCannotBePrinted(t *testing.T) {
	for name, c := range map[string]struct {
		l label.Label
		p label.Paper
	}{
		"empty": {}, "long": {l: label.Label{Code: strings.Repeat("x", 400)}}, "fine": {l: label.Label{Code: strings.Repeat("x", 250)}, p: label.Paper{Width: 210, Height: 297, Columns: 10, Rows: 30, Margin: 5}},
		"paper": {l: label.Label{Code: "x"}, p: label.Paper{Width: 210}}, "not text": {l: label.Label{Code: "\xff"}}, "used up": {l: label.Label{Code: "x"}, p: label.Paper{Used: 24}}, "used less than nothing": {l: label.Label{Code: "x"}, p: label.Paper{Used: -1}},
	} {
		if _, err := label.Sheets([]label.Label{c.l}, c.p); err == nil {
			t.Errorf("%s was printed", name)
		}
	}
}

// A sheet of which five labels are gone takes nineteen more, the next is full again.
func TestAUsedSheet(t *testing.T) {
	var labels []label.Label
	for i := range 20 {
		labels = append(labels, label.Label{Code: fmt.Sprint("s", i), Title: fmt.Sprintf("line %d.", i)})
	}
	s, err := label.Sheets(labels, label.Paper{Used: 5})
	if err != nil || len(s) != 2 {
		t.Fatalf("%d sheets, %v", len(s), err)
	}
	if !strings.Contains(s[0], "line 18.") || strings.Contains(s[0], "line 19.") || !strings.Contains(s[1], "line 19.") {
		t.Error("the sheets do not break after the nineteenth")
	}
	// the sixth of 3 × 8 on A4 with 8 mm around: third column, second row
	if !strings.Contains(s[0], fmt.Sprintf(`<rect x="%.2f" y="%.2f"`, 8+2*194.0/3, 8+281.0/8)) {
		t.Error("the first label is not where the sixth belongs")
	}
	if !strings.Contains(s[1], `<rect x="8.00" y="8.00"`) {
		t.Error("the second sheet does not begin at its first")
	}
}

// The last word of a title is often the one that counts: letters get smaller before a word is left out.
func TestALongTitleIsWhole(t *testing.T) {
	s, err := label.Sheets([]label.Label{{Code: "s8", Title: "film capacitor 100 nF 275 V AC self-healing X2", Lines: []string{"s8", "drawer 4"}}}, label.Paper{})
	if err != nil || !strings.Contains(s[0], "X2<") || !strings.Contains(s[0], "drawer 4") {
		t.Errorf("%v, %s", err, s)
	}
}

// What is drawn is the code: the dark runs of the picture, laid back on the grid, are its modules.
func TestWhatIsDrawnIsTheCode(t *testing.T) {
	for _, text := range []string{"s12", "drawer 3", "s12 electrolytic 470 µF 25 V 105 °C, drawer 3", "http://192.168.1.20:7700/shelf/line/s12"} {
		s, err := label.Sheets([]label.Label{{Code: text, Title: "x"}}, label.Paper{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := label.Code(text)
		if err != nil {
			t.Fatal(err)
		}
		d := s[0][strings.Index(s[0], `d="`)+3:]
		d = d[:strings.IndexByte(d, '"')]
		side := min(281.0/8-2, 194.0/3*0.55)
		module := side / float64(len(want)+8)
		left, top := 8+1+4*module, 8+(281.0/8-side)/2+4*module
		got := make([][]bool, len(want))
		for y := range got {
			got[y] = make([]bool, len(want))
		}
		for _, run := range strings.Split(strings.TrimSuffix(d, "z"), "z") {
			var x, y, w, h, back float64
			if _, err := fmt.Sscanf(run, "M%f %fh%fv%fh-%f", &x, &y, &w, &h, &back); err != nil {
				t.Fatalf("%q: %v", run, err)
			}
			row, col, n := int(math.Round((y-top)/module)), int(math.Round((x-left)/module)), int(math.Round(w/module))
			for i := range n {
				got[row][col+i] = true
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
	}
}

func FuzzSheets(f *testing.F) {
	f.Add("s12", "drawer", "line")
	f.Fuzz(func(t *testing.T, code, title, line string) {
		s, err := label.Sheets([]label.Label{{Code: code, Title: title, Lines: []string{line}}}, label.Paper{})
		if err == nil && len(s) != 1 {
			t.Errorf("%d sheets", len(s))
		}
	})
}
