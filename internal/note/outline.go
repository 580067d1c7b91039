package note

import (
	"bytes"
	"strings"
)

// headKeys are the keys of a device that a list of devices needs.
var headKeys = []string{"device", "title", "about", "category", "names", "mass", "worth", "scrap"}

// outline finds out what a note is, and the head of a device, without reading
// the rest: a key of a note stands at the start of a line, and what belongs to
// it does not. It returns false if that does not suffice; then the whole note is read.
func (f *file) outline() bool {
	var head []byte
	keep := false
	for rest := f.data; len(rest) > 0; {
		line := rest
		if i := bytes.IndexByte(rest, '\n'); i >= 0 {
			line = rest[:i+1]
		}
		rest = rest[len(line):]
		switch c := line[0]; {
		case c == '#' || c == ' ' || c == '\n' || c == '\r':
		case c < 'a' || c > 'z':
			return false
		default:
			key, value, ok := strings.Cut(string(line), ":")
			if !ok {
				return false
			}
			if f.sort == noNote && !f.isNote(key, value) {
				return false
			}
			keep = contains(headKeys, key)
		}
		if keep {
			head = append(head, line...)
		}
	}
	if f.sort != deviceNoteSort {
		return f.sort == blockNoteSort
	}
	return f.readHead(head)
}

// isNote tells from the first key what the note is.
func (f *file) isNote(key, value string) bool {
	id, _, _ := strings.Cut(value, " #")
	id = strings.TrimSpace(id)
	if !validName(id) {
		return false
	}
	switch key {
	case "block":
		f.sort = blockNoteSort
	case "device":
		f.sort = deviceNoteSort
	default:
		return false
	}
	f.id = id
	return true
}

// readHead reads the head of a device into its definition, for the time being.
func (f *file) readHead(head []byte) bool {
	var s sink
	d := &deviceDef{}
	if tree := parseTree(f.shown, head, &s); tree != nil {
		readKeys(&s, tree, "the device", deviceKeys, d)
	}
	if s.failed(0) || d.id == nil {
		return false
	}
	f.device = d
	return true
}
