package label_test

import (
	"fmt"
	"strings"
	"testing"

	"fettler/internal/label"
)

// A reader of QR codes written from ISO/IEC 18004, for undamaged codes of level M up to version 10: it knows nothing of how
// the encoder works. Tables from memory; a wrong entry would read nonsense.
type reader struct {
	code    [][]bool
	version int
	taken   [][]bool // function patterns, format and version information
}

// blocksM is, per version, blocks and data codewords of each, level M; a second pair where blocks differ.
var blocksM = map[int][][2]int{1: {{1, 16}}, 2: {{1, 28}}, 3: {{1, 44}}, 4: {{2, 32}}, 5: {{2, 43}}, 6: {{4, 27}}, 7: {{4, 31}}, 8: {{2, 38}, {2, 39}}, 9: {{3, 36}, {2, 37}}, 10: {{4, 43}, {1, 44}}}

// aligned is where the centres of alignment patterns stand.
var aligned = map[int][]int{2: {6, 18}, 3: {6, 22}, 4: {6, 26}, 5: {6, 30}, 6: {6, 34}, 7: {6, 22, 38}, 8: {6, 24, 42}, 9: {6, 26, 46}, 10: {6, 28, 50}}

func newReader(code [][]bool) *reader {
	n := len(code)
	r := &reader{code: code, version: (n - 17) / 4}
	for range code {
		r.taken = append(r.taken, make([]bool, n))
	}
	r.take(0, 0, 9, 9)
	r.take(0, n-8, 9, 8)
	r.take(n-8, 0, 8, 9)
	r.take(6, 0, 1, n)
	r.take(0, 6, n, 1)
	for _, y := range aligned[r.version] {
		for _, x := range aligned[r.version] {
			last := n - 7
			if !(y == 6 && x == 6 || y == 6 && x == last || y == last && x == 6) {
				r.take(y-2, x-2, 5, 5)
			}
		}
	}
	if r.version >= 7 {
		r.take(0, n-11, 6, 3)
		r.take(n-11, 0, 3, 6)
	}
	return r
}

func (r *reader) take(y, x, h, w int) {
	for i := y; i < y+h; i++ {
		for j := x; j < x+w; j++ {
			r.taken[i][j] = true
		}
	}
}

// mask is the number of the mask, from the format information around the first finder.
func (r *reader) mask() (int, error) {
	bits := 0
	for _, at := range [][2]int{{8, 0}, {8, 1}, {8, 2}, {8, 3}, {8, 4}, {8, 5}, {8, 7}, {8, 8}, {7, 8}, {5, 8}, {4, 8}, {3, 8}, {2, 8}, {1, 8}, {0, 8}} {
		bits <<= 1
		if r.code[at[0]][at[1]] {
			bits |= 1
		}
	}
	bits ^= 0x5412
	if level := bits >> 13; level != 0 {
		return 0, fmt.Errorf("error correction level %02b, want M (00)", level)
	}
	return bits >> 10 & 7, nil
}

func masked(m, i, j int) bool {
	switch m {
	case 0:
		return (i+j)%2 == 0
	case 1:
		return i%2 == 0
	case 2:
		return j%3 == 0
	case 3:
		return (i+j)%3 == 0
	case 4:
		return (i/2+j/3)%2 == 0
	case 5:
		return i*j%2+i*j%3 == 0
	case 6:
		return (i*j%2+i*j%3)%2 == 0
	}
	return ((i+j)%2+i*j%3)%2 == 0
}

// codewords reads the modules in their zigzag, two columns at a time from the right.
func (r *reader) codewords() ([]byte, error) {
	m, err := r.mask()
	if err != nil {
		return nil, err
	}
	var out []byte
	bits, have := 0, 0
	up := true
	n := len(r.code)
	for x := n - 1; x > 0; x -= 2 {
		if x == 6 {
			x--
		}
		for k := range n {
			y := k
			if up {
				y = n - 1 - k
			}
			for _, c := range []int{x, x - 1} {
				if r.taken[y][c] {
					continue
				}
				bits <<= 1
				if r.code[y][c] != masked(m, y, c) {
					bits |= 1
				}
				if have++; have == 8 {
					out, bits, have = append(out, byte(bits)), 0, 0
				}
			}
		}
		up = !up
	}
	return out, nil
}

// data puts the interleaved blocks back in order.
func (r *reader) data() ([]byte, error) {
	words, err := r.codewords()
	if err != nil {
		return nil, err
	}
	var sizes []int
	for _, b := range blocksM[r.version] {
		for range b[0] {
			sizes = append(sizes, b[1])
		}
	}
	blocks := make([][]byte, len(sizes))
	for i := 0; ; i++ {
		more := false
		for b, size := range sizes {
			if i < size {
				blocks[b], words, more = append(blocks[b], words[0]), words[1:], true
			}
		}
		if !more {
			break
		}
	}
	var out []byte
	for _, b := range blocks {
		out = append(out, b...)
	}
	return out, nil
}

// text reads the segments: digits, the 45 characters, bytes.
func (r *reader) text() (string, error) {
	data, err := r.data()
	if err != nil {
		return "", err
	}
	at := 0
	next := func(n int) int {
		v := 0
		for range n {
			v <<= 1
			if at/8 < len(data) && data[at/8]>>(7-at%8)&1 == 1 {
				v |= 1
			}
			at++
		}
		return v
	}
	long := 0
	if r.version >= 10 {
		long = 1
	}
	const chars = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
	var out strings.Builder
	for at < 8*len(data)-4 {
		switch mode := next(4); mode {
		case 0:
			return out.String(), nil
		case 1:
			for n := next([]int{10, 12}[long]); n > 0; n -= 3 {
				digits := min(n, 3)
				fmt.Fprintf(&out, "%0*d", digits, next([]int{0, 4, 7, 10}[digits]))
			}
		case 2:
			n := next([]int{9, 11}[long])
			for ; n > 1; n -= 2 {
				v := next(11)
				out.WriteString(chars[v/45:v/45+1] + chars[v%45:v%45+1])
			}
			if n == 1 {
				v := next(6)
				out.WriteString(chars[v : v+1])
			}
		case 4:
			for range next([]int{8, 16}[long]) {
				out.WriteByte(byte(next(8)))
			}
		default:
			return "", fmt.Errorf("mode %04b", mode)
		}
	}
	return out.String(), nil
}

// What a phone would read is what was meant, for texts of all sorts and lengths.
func TestACodeReadsBack(t *testing.T) {
	texts := []string{"s12", "S12", "12345", "1234567", "DRAWER 3", "drawer 3", "s12 · electrolytic 470 µF 25 V 105 °C · drawer 3", "hall-left · Hall left · taken in 25 November 2026",
		"http://192.168.1.20:7700/shelf/line/s12", "http://bench.local:7700/shelf?place=drawer+3"}
	for n := 1; n <= 180; n += 7 {
		texts = append(texts, strings.Repeat("screws of the back plate, ", 9)[:n])
	}
	for _, want := range texts {
		c, err := label.Code(want)
		if err != nil {
			t.Fatal(err)
		}
		r := newReader(c)
		if _, known := blocksM[r.version]; !known {
			t.Fatalf("%d bytes: version %d is beyond this reader", len(want), r.version)
		}
		if got, err := r.text(); err != nil || got != want {
			t.Errorf("%q reads %q, %v", want, got, err)
		}
	}
}
