package web

import "testing"

// On a phone of 360 pixels the drawing is 300 wide and shows 540 units: a band is at
// least 44 pixels wide to the finger (WCAG 2.2, target size enhanced: 44 CSS pixels),
// its paint lies in what is tapped, nothing overlaps, and the last stands apart.
func TestBandsAreWideEnoughToTap(t *testing.T) {
	for n := 3; n <= 6; n++ {
		d := drawBands(make([]string, n), 0)
		end := 40
		for i, b := range d.Bands {
			if px := b.HitW * 300 / 540; px < 44 {
				t.Errorf("%d bands: band %d is %d pixels wide to the finger", n, i+1, px)
			}
			if b.X < b.HitX || b.X+b.W > b.HitX+b.HitW || b.HitX < end || b.HitX+b.HitW > 580 {
				t.Errorf("%d bands: band %d is painted from %d to %d, tapped from %d to %d, after %d", n, i+1, b.X, b.X+b.W, b.HitX, b.HitX+b.HitW, end)
			}
			end = b.HitX + b.HitW
		}
		if apart, step := d.Bands[n-1].X-d.Bands[n-2].X, d.Bands[1].X-d.Bands[0].X; apart <= step {
			t.Errorf("%d bands: the last stands %d after the one before, the second %d after the first", n, apart, step)
		}
	}
}
