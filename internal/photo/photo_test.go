package photo_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"fettler/internal/photo"
)

// corner is a 30 × 20 picture, white, with its upper left corner red.
func corner() image.Image {
	m := image.NewRGBA(image.Rect(0, 0, 30, 20))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := range 8 {
		for x := range 8 {
			m.Set(x, y, color.RGBA{200, 0, 0, 255})
		}
	}
	return m
}

// exif is a TIFF block with an orientation and, as a phone writes it, a place: a GPS
// directory with latitude reference N and a latitude (Exif 2.32, tags 0x8825, 1, 2).
func exif(order binary.AppendByteOrder, orientation uint16) []byte {
	b := []byte("MM\x00*")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		b = []byte("II*\x00")
	}
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 2)
	entry := func(tag, kind uint16, count uint32) {
		b = order.AppendUint32(order.AppendUint16(order.AppendUint16(b, tag), kind), count)
	}
	entry(0x0112, 3, 1)
	b = order.AppendUint16(order.AppendUint16(b, orientation), 0)
	entry(0x8825, 4, 1)
	b = order.AppendUint32(b, 38)
	b = order.AppendUint32(b, 0)
	b = order.AppendUint16(b, 2)
	entry(1, 2, 2)
	b = append(b, 'N', 0, 0, 0)
	entry(2, 5, 3)
	b = order.AppendUint32(b, 68)
	b = order.AppendUint32(b, 0)
	for _, v := range []uint32{47, 1, 48, 1, 4711, 100} {
		b = order.AppendUint32(b, v)
	}
	return append(b, "GPSPLACEHERE"...)
}

func jpegOf(t testing.TB, m image.Image, tiff []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	if tiff == nil {
		return b.Bytes()
	}
	seg := append([]byte("Exif\x00\x00"), tiff...)
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(seg)+2))...)
	return append(append(head, seg...), b.Bytes()[2:]...)
}

func chunk(kind string, data []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	body := append([]byte(kind), data...)
	return binary.BigEndian.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
}

func pngOf(t testing.TB, m image.Image, tiff []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	raw := b.Bytes()
	const afterHead = 8 + 25
	return append(append(append([]byte(nil), raw[:afterHead]...), chunk("eXIf", tiff)...), raw[afterHead:]...)
}

// webp of 1 × 1, lossless (VP8L), made by hand after the container's specification.
const tinyWebP = "UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA=="

// Where the red corner goes for each orientation: Exif 2.32, tag 0x0112 (row 0 and column 0 of the stored picture).
var corners = map[uint16][2]bool{ // right, bottom
	1: {false, false}, 2: {true, false}, 3: {true, true}, 4: {false, true}, 5: {false, false}, 6: {true, false}, 7: {true, true}, 8: {false, true},
}

func TestOrientation(t *testing.T) {
	for o, want := range corners {
		for name, data := range map[string][]byte{
			"jpeg big": jpegOf(t, corner(), exif(binary.BigEndian, o)), "jpeg little": jpegOf(t, corner(), exif(binary.LittleEndian, o)), "png": pngOf(t, corner(), exif(binary.BigEndian, o)),
		} {
			if got := photo.Orientation(data); got != int(o) {
				t.Errorf("%s: orientation %d, want %d", name, got, o)
			}
			p, err := photo.Clean(data, photo.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			m, err := jpeg.Decode(bytes.NewReader(p.JPEG))
			if err != nil {
				t.Fatal(err)
			}
			w, h := 30, 20
			if o >= 5 {
				w, h = h, w
			}
			if p.Width != w || p.Height != h || m.Bounds().Dx() != w || m.Bounds().Dy() != h {
				t.Errorf("%s %d: %d × %d, want %d × %d", name, o, p.Width, p.Height, w, h)
			}
			x, y := 3, 3
			if want[0] {
				x = w - 4
			}
			if want[1] {
				y = h - 4
			}
			if r, g, _, _ := m.At(x, y).RGBA(); r>>8 < 150 || g>>8 > 90 {
				t.Errorf("%s %d: the corner is not at %d, %d", name, o, x, y)
			}
		}
	}
}

// Turned by 90° clockwise, the red corner goes from the upper left to the upper right.
// The decoder passes over stray bytes between segments (Go, image/jpeg/reader.go,
// decode); what looks at them beforehand has to as well.
func TestStrayBytes(t *testing.T) {
	data := jpegOf(t, corner(), exif(binary.BigEndian, 6))
	for _, stray := range []string{"\x00", "\x12\x34\x56", "\xff\x00", "\xff\xff", "\xff\x00\x07"} {
		odd := append([]byte("\xff\xd8\xff\xfe\x00\x02"+stray), data[2:]...)
		if got := photo.Orientation(odd); got != 6 {
			t.Errorf("%q: orientation %d, want 6", stray, got)
		}
		if p, err := photo.Clean(odd, photo.Limits{}); err != nil || p.Width != 20 || p.Height != 30 {
			t.Errorf("%q: not upright, %v", stray, err)
		}
	}
}

func TestTurned(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, corner(), nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ degrees, w, h, x, y int }{{0, 30, 20, 2, 2}, {90, 20, 30, 17, 2}, {180, 30, 20, 27, 17}, {270, 20, 30, 2, 27}} {
		got, err := photo.Turned(b.Bytes(), c.degrees)
		if err != nil {
			t.Fatal(err)
		}
		m, err := jpeg.Decode(bytes.NewReader(got))
		if err != nil || m.Bounds().Dx() != c.w || m.Bounds().Dy() != c.h {
			t.Fatalf("%d°: %v, %v", c.degrees, m.Bounds(), err)
		}
		if r, g, _, _ := m.At(c.x, c.y).RGBA(); r>>8 < 180 || g>>8 > 90 {
			t.Errorf("%d°: the red corner is not at %d, %d", c.degrees, c.x, c.y)
		}
	}
	for _, bad := range []int{45, -90, 360} {
		if _, err := photo.Turned(b.Bytes(), bad); err == nil {
			t.Errorf("turned by %d°", bad)
		}
	}
	if _, err := photo.Turned([]byte("no picture"), 90); err == nil {
		t.Error("what is no picture was turned")
	}
}

// Nothing of the old file is left: no place, no tags.
func TestMetadataIsGone(t *testing.T) {
	m := corner()
	for name, data := range map[string][]byte{"jpeg": jpegOf(t, m, exif(binary.BigEndian, 6)), "png": pngOf(t, m, exif(binary.LittleEndian, 6))} {
		if !bytes.Contains(data, []byte("GPSPLACEHERE")) {
			t.Fatalf("%s: the test's own picture holds no place", name)
		}
		p, err := photo.Clean(data, photo.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		for _, out := range [][]byte{p.JPEG, p.Thumb} {
			for _, bad := range []string{"GPSPLACEHERE", "Exif", "eXIf", "MM\x00*", "II*\x00", "XMP", "\xff\xe1", "\xff\xed", "\xff\xfe"} {
				if bytes.Contains(out, []byte(bad)) {
					t.Errorf("%s: %q is still in it", name, bad)
				}
			}
			if photo.Orientation(out) != 1 {
				t.Errorf("%s: it is still to be turned", name)
			}
		}
	}
}

func TestScaling(t *testing.T) {
	p, err := photo.Clean(jpegOf(t, image.NewGray(image.Rect(0, 0, 900, 300)), nil), photo.Limits{Edge: 600, Thumb: 90})
	if err != nil {
		t.Fatal(err)
	}
	thumb, err := jpeg.DecodeConfig(bytes.NewReader(p.Thumb))
	if err != nil || p.Width != 600 || p.Height != 200 || thumb.Width != 90 || thumb.Height != 30 {
		t.Errorf("%d × %d, small %d × %d, %v", p.Width, p.Height, thumb.Width, thumb.Height, err)
	}
}

func TestWebP(t *testing.T) {
	data, err := base64.StdEncoding.DecodeString(tinyWebP)
	if err != nil {
		t.Fatal(err)
	}
	p, err := photo.Clean(data, photo.Limits{})
	if err != nil || p.Width != 1 || p.Height != 1 {
		t.Errorf("%+v, %v", p, err)
	}
}

// bomb is a PNG of a few bytes that claims a huge picture.
func bomb(w, h uint32, depth, kind byte) []byte {
	head := append(binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h), depth, kind, 0, 0, 0)
	return append(append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head)...), chunk("IDAT", nil)...)
}

// claiming is a JPEG of a few bytes whose frame header (ITU-T T.81, B.2.2) claims so many pixels,
// coded in one scan (SOF0) or in several (SOF2).
func claiming(data []byte, w, h uint16, progressive bool) []byte {
	out := bytes.Clone(data)
	i := bytes.Index(out, []byte{0xff, 0xc0})
	copy(out[i+5:], binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(nil, h), w))
	if progressive {
		out[i+1] = 0xc2
	}
	return out
}

func TestRefusals(t *testing.T) {
	whole := jpegOf(t, corner(), nil)
	gray := jpegOf(t, image.NewGray(image.Rect(0, 0, 30, 20)), nil)
	for name, c := range map[string]struct {
		data []byte
		l    photo.Limits
		says string
	}{
		"empty":             {nil, photo.Limits{}, "no picture"},
		"text":              {[]byte("hello, this is not a picture"), photo.Limits{}, "JPEG, PNG or WebP"},
		"svg":               {[]byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), photo.Limits{}, "no picture"},
		"gif":               {[]byte("GIF89a\x01\x00\x01\x00"), photo.Limits{}, "no picture"},
		"heic":              {[]byte("\x00\x00\x00\x18ftypheic\x00\x00"), photo.Limits{}, "HEIC"},
		"cut off":           {whole[:len(whole)/2], photo.Limits{}, "damaged"},
		"too many bytes":    {make([]byte, photo.MostBytes+1), photo.Limits{}, "more than 40 MB"},
		"png bomb":          {bomb(100_000, 100_000, 8, 6), photo.Limits{}, "pixels"},
		"png bomb, edge":    {bomb(1<<31-1, 1<<31-1, 8, 6), photo.Limits{}, ""},
		"png of deep pixel": {bomb(8000, 7900, 16, 6), photo.Limits{}, "MB of memory"},
		"jpeg bomb":         {claiming(whole, 65_000, 65_000, false), photo.Limits{}, "pixels"},
		"in one scan":       {claiming(whole, 6000, 5000, false), photo.Limits{}, "damaged"},       // 90 MB, but nothing in it
		"in several scans":  {claiming(whole, 6000, 5000, true), photo.Limits{}, "450 MB"},         // five times as much
		"gray":              {claiming(gray, 8000, 7900, false), photo.Limits{}, "damaged"},        // 63 MB
		"gray, own limit":   {claiming(gray, 8000, 7900, false), photo.Limits{Memory: 60e6}, "MB"}, // of memory
		"own limit":         {whole, photo.Limits{Pixels: 100}, "pixels"},
	} {
		_, err := photo.Clean(c.data, c.l)
		var r *photo.Refusal
		if !errors.As(err, &r) || !strings.Contains(r.Error(), c.says) || r.Next == "" {
			t.Errorf("%s: %v, want a refusal with %q", name, err, c.says)
		}
	}
}

// A 12-megapixel picture, as a telephone takes it.
func BenchmarkClean(b *testing.B) {
	m := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = byte(i * i / 4032)
	}
	data := jpegOf(b, m, exif(binary.BigEndian, 6))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := photo.Clean(data, photo.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzOrientation(f *testing.F) {
	f.Add(jpegOf(f, corner(), exif(binary.BigEndian, 6)))
	f.Add(jpegOf(f, corner(), exif(binary.LittleEndian, 3)))
	f.Add(pngOf(f, corner(), exif(binary.BigEndian, 8)))
	f.Add([]byte("RIFF\x00\x00\x00\x00WEBPEXIF\x1a\x00\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00"))
	f.Add([]byte("\xff\xd8\xff\xe1\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if o := photo.Orientation(data); o < 1 || o > 8 {
			t.Fatalf("orientation %d", o)
		}
	})
}

func FuzzClean(f *testing.F) {
	f.Add(jpegOf(f, corner(), exif(binary.BigEndian, 6)))
	f.Add(pngOf(f, corner(), nil))
	f.Add(bomb(40, 40, 8, 6))
	tiny, _ := base64.StdEncoding.DecodeString(tinyWebP)
	f.Add(tiny)
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := photo.Clean(data, photo.Limits{Pixels: 10_000, Memory: 1 << 20, Edge: 50, Thumb: 10})
		if err != nil {
			return
		}
		if p.Width < 1 || p.Width > 50 || p.Height < 1 || p.Height > 50 || len(p.JPEG) == 0 || len(p.Thumb) == 0 {
			t.Fatalf("%d × %d", p.Width, p.Height)
		}
	})
}
