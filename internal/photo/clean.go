package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/draw"
	"golang.org/x/image/webp"
)

// Limits bound what is taken and what is kept. The zero value is the default.
type Limits struct {
	Bytes  int   // of the file; 0: 40 MB
	Pixels int   // of the picture as sent; 0: 64 million
	Memory int64 // bytes that decoding may take, estimated; 0: 400 MB
	Edge   int   // pixels of the longer edge as kept; 0: 4000
	Thumb  int   // pixels of the longer edge of the small picture; 0: 480
}

// MostBytes is the largest file taken by default.
const MostBytes = 40_000_000

func (l Limits) withDefaults() Limits {
	or := func(v *int, d int) {
		if *v == 0 {
			*v = d
		}
	}
	or(&l.Bytes, MostBytes)
	or(&l.Pixels, 64_000_000)
	or(&l.Edge, 4000)
	or(&l.Thumb, 480)
	if l.Memory == 0 {
		l.Memory = 400_000_000
	}
	return l
}

// A Picture is a picture fit to keep: JPEG, upright, without metadata.
type Picture struct {
	JPEG          []byte
	Width, Height int
	Thumb         []byte // JPEG of the same, small
}

// A Refusal is why a file is not taken.
type Refusal struct {
	Text string // what is wrong, one sentence without a full stop
	Next string // what to do
	Err  error  // the cause, may be nil
}

func (r *Refusal) Error() string { return r.Text + "; " + r.Next }

// Unwrap returns the cause.
func (r *Refusal) Unwrap() error { return r.Err }

type format int

const (
	isOther format = iota
	isJPEG
	isPNG
	isWebP
	isHEIF
)

func sniff(data []byte) format {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		return isJPEG
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		return isPNG
	case len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP":
		return isWebP
	case len(data) >= 12 && string(data[4:8]) == "ftyp":
		return isHEIF
	}
	return isOther
}

// Clean makes a picture fit to keep out of a file.
func Clean(data []byte, l Limits) (*Picture, error) {
	l = l.withDefaults()
	if len(data) > l.Bytes {
		return nil, &Refusal{Text: fmt.Sprintf("the picture has more than %d MB", l.Bytes/1_000_000), Next: "send a smaller one"}
	}
	m, err := decode(data, l)
	if err != nil {
		return nil, err
	}
	kept := upright(scaled(m, l.Edge), Orientation(data))
	p := &Picture{Width: kept.Bounds().Dx(), Height: kept.Bounds().Dy()}
	if p.JPEG, err = encode(kept, 88); err != nil {
		return nil, err
	}
	p.Thumb, err = encode(scaled(kept, l.Thumb), 80)
	return p, err
}

// decode looks at the dimensions first.
func decode(data []byte, l Limits) (image.Image, error) {
	type codec struct {
		config func([]byte) (image.Config, error)
		whole  func([]byte) (image.Image, error)
	}
	var c codec
	switch sniff(data) {
	case isJPEG:
		c = codec{func(b []byte) (image.Config, error) { return jpeg.DecodeConfig(bytes.NewReader(b)) }, func(b []byte) (image.Image, error) { return jpeg.Decode(bytes.NewReader(b)) }}
	case isPNG:
		c = codec{func(b []byte) (image.Config, error) { return png.DecodeConfig(bytes.NewReader(b)) }, func(b []byte) (image.Image, error) { return png.Decode(bytes.NewReader(b)) }}
	case isWebP:
		c = codec{func(b []byte) (image.Config, error) { return webp.DecodeConfig(bytes.NewReader(b)) }, func(b []byte) (image.Image, error) { return webp.Decode(bytes.NewReader(b)) }}
	case isHEIF:
		return nil, &Refusal{Text: "this is a HEIC or AVIF picture, which cannot be read here", Next: "set the camera to its most compatible form (JPEG), or send it as JPEG, PNG or WebP"}
	default:
		return nil, &Refusal{Text: "this is no picture that can be read here", Next: "send a JPEG, PNG or WebP"}
	}
	cfg, err := c.config(data)
	if err != nil {
		return nil, broken(err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || cfg.Width > l.Pixels/cfg.Height {
		return nil, &Refusal{Text: fmt.Sprintf("the picture has %d × %d pixels, more than %d million", cfg.Width, cfg.Height, l.Pixels/1_000_000), Next: "scale it down and send it again"}
	}
	if need := int64(cfg.Width) * int64(cfg.Height) * perPixel(cfg.ColorModel, progressive(data)); need > l.Memory {
		return nil, &Refusal{Text: fmt.Sprintf("reading this picture of %d × %d pixels would take some %d MB of memory", cfg.Width, cfg.Height, need/1_000_000), Next: "scale it down, or save it as plain JPEG, and send it again"}
	}
	m, err := c.whole(data)
	if err != nil {
		return nil, broken(err)
	}
	if m.Bounds().Dx() > cfg.Width || m.Bounds().Dy() > cfg.Height {
		return nil, broken(nil)
	}
	return m, nil
}

func broken(err error) error {
	return &Refusal{Text: "the picture is damaged or not complete", Next: "take or send it once more", Err: err}
}

// perPixel estimates the bytes a decoder takes for one pixel. Progressive JPEG keeps
// its coefficients, four bytes per component, until the end.
func perPixel(m color.Model, progressive bool) int64 {
	n := int64(4)
	switch m {
	case color.GrayModel:
		n = 1
	case color.YCbCrModel:
		n = 3
	case color.RGBA64Model, color.NRGBA64Model, color.Gray16Model:
		n = 8
	}
	if progressive {
		n *= 5
	}
	return n
}

// scaled is m with its longer edge at most edge, on white. It halves until less than
// half is left to do, each time the mean of four pixels, so that nothing aliases
// and no buffer is larger than the picture.
func scaled(m image.Image, edge int) *image.RGBA {
	for {
		w, h := m.Bounds().Dx(), m.Bounds().Dy()
		long := max(w, h)
		switch {
		case long > 2*edge:
			w, h = (w+1)/2, (h+1)/2
		case long > edge:
			w, h = max(1, w*edge/long), max(1, h*edge/long)
		}
		out := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
		draw.ApproxBiLinear.Scale(out, out.Bounds(), m, m.Bounds(), draw.Over, nil)
		if max(w, h) <= edge {
			return out
		}
		m = out
	}
}

// upright turns a picture as its EXIF orientation says.
func upright(m *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return m
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	ow, oh := w, h
	if orientation >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			sx, sy := source(orientation, x, y, w, h)
			copy(out.Pix[out.PixOffset(x, y):][:4], m.Pix[m.PixOffset(sx, sy):][:4])
		}
	}
	return out
}

// Turned is a picture that Clean made, turned clockwise by 90, 180 or 270 degrees and
// written anew; by 0 it is as it was.
func Turned(kept []byte, degrees int) ([]byte, error) {
	orientation, ok := map[int]int{0: 1, 90: 6, 180: 3, 270: 8}[degrees]
	switch {
	case !ok:
		return nil, &Refusal{Text: fmt.Sprintf("a picture cannot be turned by %d degrees", degrees), Next: "turn it by 90, 180 or 270"}
	case orientation == 1:
		return kept, nil
	}
	m, err := decode(kept, Limits{}.withDefaults())
	if err != nil {
		return nil, err
	}
	return encode(upright(scaled(m, Limits{}.withDefaults().Edge), orientation), 85)
}

// source is the pixel of the stored picture (w × h) that belongs at x, y upright.
func source(orientation, x, y, w, h int) (int, int) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}

func encode(m image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("photo: writing the picture anew: %w", err)
	}
	return b.Bytes(), nil
}
