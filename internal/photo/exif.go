package photo

import (
	"bytes"
	"encoding/binary"
)

// Orientation returns the EXIF orientation, 1 to 8, of a JPEG, PNG or WebP file;
// 1 (upright) if there is none or it cannot be read. It reads no more than the
// headers, never outside data, and takes time linear in the file at most.
func Orientation(data []byte) int {
	switch sniff(data) {
	case isJPEG:
		return tiffOrientation(jpegEXIF(data))
	case isPNG:
		return tiffOrientation(pngEXIF(data))
	case isWebP:
		return tiffOrientation(webpEXIF(data))
	}
	return 1
}

var exifHead = []byte("Exif\x00\x00")

// A segment is one of a JPEG's header segments.
type segment struct {
	marker byte
	data   []byte
}

// segments walks a JPEG's segments up to the picture's data; do returns false to stop.
// Stray bytes between them are passed over, as image/jpeg does: what it decodes must not
// look to us as if it ended before.
func segments(data []byte, do func(segment) bool) {
	for i := 2; i+4 <= len(data); {
		m := data[i+1]
		switch {
		case data[i] != 0xff, m == 0xff: // stray, or fill byte
			i++
			continue
		case m == 0 || m == 0x01 || m >= 0xd0 && m <= 0xd8: // no length
			i += 2
			continue
		case m == 0xd9 || m == 0xda: // end, or start of the picture's data
			return
		}
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		if n < 2 || i+2+n > len(data) {
			return
		}
		if !do(segment{m, data[i+4 : i+2+n]}) {
			return
		}
		i += 2 + n
	}
}

func jpegEXIF(data []byte) (tiff []byte) {
	segments(data, func(s segment) bool {
		if s.marker == 0xe1 && bytes.HasPrefix(s.data, exifHead) {
			tiff = s.data[len(exifHead):]
			return false
		}
		return true
	})
	return tiff
}

// progressive says that a JPEG is coded in several scans, which takes more memory to decode.
func progressive(data []byte) bool {
	yes := false
	segments(data, func(s segment) bool {
		yes = yes || s.marker == 0xc2
		return !yes
	})
	return yes
}

func pngEXIF(data []byte) []byte {
	for i := 8; i+12 <= len(data); {
		n := binary.BigEndian.Uint32(data[i:])
		if uint64(n)+12 > uint64(len(data)-i) {
			return nil
		}
		if string(data[i+4:i+8]) == "eXIf" {
			return data[i+8 : i+8+int(n)]
		}
		i += 12 + int(n)
	}
	return nil
}

func webpEXIF(data []byte) []byte {
	for i := 12; i+8 <= len(data); {
		n := binary.LittleEndian.Uint32(data[i+4:])
		if uint64(n)+8 > uint64(len(data)-i) {
			return nil
		}
		if string(data[i:i+4]) == "EXIF" {
			return bytes.TrimPrefix(data[i+8:i+8+int(n)], exifHead)
		}
		i += 8 + int(n) + int(n&1)
	}
	return nil
}

// tiffOrientation reads tag 0x0112 of the first directory of a TIFF block.
func tiffOrientation(t []byte) int {
	if len(t) < 8 {
		return 1
	}
	var o binary.ByteOrder
	switch string(t[:4]) {
	case "II*\x00":
		o = binary.LittleEndian
	case "MM\x00*":
		o = binary.BigEndian
	default:
		return 1
	}
	at := uint64(o.Uint32(t[4:]))
	if at+2 > uint64(len(t)) {
		return 1
	}
	entries := uint64(o.Uint16(t[at:]))
	for k := range entries {
		e := at + 2 + 12*k
		if e+12 > uint64(len(t)) {
			return 1
		}
		if o.Uint16(t[e:]) != 0x0112 {
			continue
		}
		if o.Uint16(t[e+2:]) != 3 || o.Uint32(t[e+4:]) != 1 { // one short
			return 1
		}
		if v := o.Uint16(t[e+8:]); v >= 1 && v <= 8 {
			return int(v)
		}
		return 1
	}
	return 1
}
