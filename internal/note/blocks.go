package note

import (
	"errors"
	"fmt"
	"io/fs"
)

// BlockInfo is what a list of blocks shows.
type BlockInfo struct {
	ID    string
	Title string
	About string
	Own   bool // from a later layer than the first: the user's own
}

// ErrNoBlock is the error of Block for a block that is in no note.
var ErrNoBlock = errors.New("there is no such block in the notes")

// Blocks lists the blocks whose notes can be read, by ID. It reads them whole.
func (l *Library) Blocks() []BlockInfo {
	var out []BlockInfo
	for _, id := range l.blockNames() {
		f := l.blocks[id]
		f.read()
		if len(f.broken()) > 0 || f.block == nil {
			continue
		}
		out = append(out, BlockInfo{ID: id, Title: f.block.title, About: f.block.about, Own: f.rank > 0})
	}
	return out
}

// Block puts a block together by itself: everything it needs is taken as good,
// and nothing is wired to what it gives. The odds of its modes tell their shares
// among one another, not in any device. The error is of type Problems, or wraps ErrNoBlock.
func (l *Library) Block(id string) (*Model, error) {
	f := l.blocks[id]
	if f == nil {
		return nil, fmt.Errorf("block %q: %w; %s", clip(id), ErrNoBlock, hintNames(id, l.blockNames()))
	}
	m, ps := l.alone(f)
	if err := ps.err(); err != nil {
		return nil, err
	}
	return m, nil
}

// alone composes a block by itself.
func (l *Library) alone(f *file) (*Model, Problems) {
	f.read()
	if broken := f.broken(); len(broken) > 0 {
		return nil, broken
	}
	m, ps := compose(l, &deviceDef{blockDef: *f.block}, true)
	if m != nil {
		m.ID, m.Units[0].Title = f.id, m.Title
	}
	return m, ps
}

// A NoteText is a note as it is written.
type NoteText struct {
	Sort string // "device", "block" or "kinds"
	ID   string // of the device or block
	File string // name in its layer
	Rank int    // number of its layer, 0 for the lowest
	Text []byte
}

// Text returns the note of a device or block as it is written, read afresh. The
// error wraps ErrNoDevice or ErrNoBlock if there is none.
func (l *Library) Text(sort, id string) (NoteText, error) {
	var f *file
	if sort == "block" {
		f = l.blocks[id]
	} else if d := l.devices[id]; d != nil {
		f = d.file
	}
	if f == nil {
		none := ErrNoDevice
		if sort == "block" {
			none = ErrNoBlock
		}
		return NoteText{}, fmt.Errorf("%s %q: %w", sort, clip(id), none)
	}
	text, err := fs.ReadFile(f.layer, f.name)
	if err != nil {
		return NoteText{}, fmt.Errorf("the note %s cannot be read: %w", f.shown, err)
	}
	return NoteText{Sort: f.sortWord(), ID: f.id, File: f.name, Rank: f.rank, Text: text}, nil
}

func (f *file) sortWord() string {
	return map[sortOfNote]string{kindsNote: "kinds", blockNoteSort: "block", deviceNoteSort: "device"}[f.sort]
}

// A Checked note is what came of one file among all.
type Checked struct {
	Sort     string   // "device", "block", "kinds", or "" if it is no note
	ID       string   // of the device or block
	Problems Problems // all that is wrong with it, warnings too
	Model    *Model   // what it means; nil if it cannot be used, or is a table of kinds
}

// CheckFile checks the note of that name in the last layer as Check would, and
// nothing else; ok is false if there is no such file.
func (l *Library) CheckFile(name string) (c Checked, ok bool) {
	var f *file
	for _, x := range l.files {
		if x.name == name && (f == nil || x.rank >= f.rank) {
			f = x
		}
	}
	if f == nil {
		return Checked{}, false
	}
	f.read()
	c = Checked{Sort: f.sortWord(), ID: f.id, Problems: append(Problems(nil), f.list...)}
	if len(f.broken()) == 0 {
		var more Problems
		switch d := l.devices[f.id]; {
		case f.sort == blockNoteSort:
			c.Model, more = l.alone(f)
		case f.sort == deviceNoteSort && d != nil && d.file == f:
			d.compose(l)
			c.Model, more = d.model, d.found
		}
		c.Problems = append(c.Problems, more...)
	}
	c.Problems = c.Problems.sorted()
	if len(c.Problems.Errors()) > 0 {
		c.Model = nil
	}
	return c, true
}
