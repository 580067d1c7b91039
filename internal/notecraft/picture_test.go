package notecraft_test

import (
	"context"
	"regexp"
	"strconv"
	"testing"

	"fettler/internal/notecraft"
	"fettler/library"
)

var edge = regexp.MustCompile(`class="nc-card-edge" d="M(\d+) (\d+)h(\d+)l(\d+) (\d+)v(\d+)h`)

// In the picture of every shipped device no two cards overlap and all lie within the picture.
func TestPictureOfLibrary(t *testing.T) {
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		svg := string(notecraft.Picture(m))
		size := regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`).FindStringSubmatch(svg)
		var cards [][4]int // left, top, right, bottom
		for _, x := range edge.FindAllStringSubmatch(svg, -1) {
			n := make([]int, len(x))
			for k := range x {
				n[k], _ = strconv.Atoi(x[k])
			}
			cards = append(cards, [4]int{n[1], n[2], n[1] + n[3] + n[4], n[2] + n[5] + n[6]})
		}
		if len(cards) < len(m.Units)-1 {
			t.Errorf("%s: %d cards for %d blocks", d.ID, len(cards), len(m.Units)-1)
		}
		width, _ := strconv.Atoi(size[1])
		height, _ := strconv.Atoi(size[2])
		for i, a := range cards {
			if a[2] > width || a[3] > height {
				t.Errorf("%s: card %v is outside of %d × %d", d.ID, a, width, height)
			}
			for _, b := range cards[:i] {
				if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
					t.Errorf("%s: cards %v and %v overlap", d.ID, a, b)
				}
			}
		}
	}
}
