package casework

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"fettler/internal/journal"
	"fettler/internal/shelf"
)

// A pack is a zip file: bench.json says what it is, journal.jsonl holds every
// event, a line each, the bench's own first and then case by case in the order of
// their names, and photos/ and others/ the files the events name, by their SHA-256.
// Nothing in it depends on when or where it was packed.
const (
	packKind    = "everything on a repair bench"
	packVersion = 1
	packHead    = "bench.json"
	packJournal = "journal.jsonl"
	packPhotos  = "photos/"
	packOthers  = "others/"

	mostPackLine = 16 << 20
	mostPackFile = 512 << 20
)

type packHeader struct {
	Kind    string `json:"kind"`
	Version int    `json:"version"`
}

// Pack writes everything there is: settings, all cases with what is private, the
// pictures and what came from other benches. The same bench gives the same bytes.
func (b *Bench) Pack(ctx context.Context, w io.Writer) error {
	z := zip.NewWriter(w)
	head, err := json.Marshal(packHeader{packKind, packVersion})
	if err == nil {
		err = packFile(z, packHead, append(head, '\n'), zip.Store)
	}
	if err != nil {
		return packError(err)
	}
	photos, others, err := b.packJournal(ctx, z)
	if err != nil {
		return err
	}
	for _, x := range []struct {
		from   journal.Files
		folder string
		names  map[string]bool
	}{{b.o.Photos, packPhotos, photos}, {b.o.Files, packOthers, others}} {
		if err := packBlobs(ctx, z, x.from, x.folder, x.names); err != nil {
			return err
		}
	}
	return packError(z.Close())
}

func packError(err error) error {
	if err == nil {
		return nil
	}
	return &Error{Code: StoreFail, Text: "the file could not be written", Next: "see that there is room, then try again", Err: err}
}

func packFile(z *zip.Writer, name string, data []byte, method uint16) error {
	f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method})
	if err == nil {
		_, err = f.Write(data)
	}
	return err
}

// packJournal writes the events and returns the files they name.
func (b *Bench) packJournal(ctx context.Context, z *zip.Writer) (photos, others map[string]bool, err error) {
	heads, err := b.journal.Heads(ctx)
	if err != nil {
		return nil, nil, storeError(err)
	}
	ids := []string{BenchCase}
	for _, h := range heads {
		ids = append(ids, h.Case)
	}
	slices.Sort(ids)
	f, err := z.CreateHeader(&zip.FileHeader{Name: packJournal, Method: zip.Deflate})
	if err != nil {
		return nil, nil, packError(err)
	}
	out := bufio.NewWriter(f)
	lines := json.NewEncoder(out)
	lines.SetEscapeHTML(false)
	photos, others = map[string]bool{}, map[string]bool{}
	for _, id := range ids {
		events, err := b.events(ctx, id)
		if err != nil {
			return nil, nil, err
		}
		for _, e := range events {
			blobsOf(e, photos, others)
			if err := lines.Encode(e); err != nil {
				return nil, nil, packError(err)
			}
		}
	}
	return photos, others, packError(out.Flush())
}

// blobsOf adds the files an event names, corrections included.
func blobsOf(e Event, photos, others map[string]bool) {
	data := e.Data
	if e.Kind == KindCorrected {
		if p, err := decode[Corrected](e, data); err == nil {
			data = p.Data
		}
	}
	var p struct {
		Hash  string `json:"hash"`
		Thumb string `json:"thumb"`
	}
	if json.Unmarshal(data, &p) != nil {
		return
	}
	to := photos
	if e.Kind == KindTakenOver {
		to = others
	}
	for _, h := range []string{p.Hash, p.Thumb} {
		if photoName.MatchString(h) {
			to[h] = true
		}
	}
}

// packBlobs writes files by their names; what is not there any more, or not what it was,
// is left out. What is there and cannot be read is an error: the pack would look whole.
func packBlobs(ctx context.Context, z *zip.Writer, from journal.Files, folder string, names map[string]bool) error {
	if from == nil {
		return nil
	}
	all := make([]string, 0, len(names))
	for n := range names {
		all = append(all, n)
	}
	slices.Sort(all)
	for _, n := range all {
		data, err := from.Get(ctx, n)
		var cannot *fs.PathError
		switch {
		case err == nil:
		case ctx.Err() != nil:
			return ctx.Err()
		case errors.As(err, &cannot) && !errors.Is(err, fs.ErrNotExist):
			return photoError(err)
		default:
			continue
		}
		if err := packFile(z, folder+n, data, zip.Store); err != nil {
			return packError(err)
		}
	}
	return nil
}

// Unpacked says what came of unpacking. The bench's own journal counts as no case.
type Unpacked struct {
	Cases    int      `json:"cases"`    // new or longer than before
	Same     int      `json:"same"`     // there already
	Files    int      `json:"files"`    // pictures and what came from other benches
	Refused  []string `json:"refused"`  // cases that have gone another way here: left as they are
	Settings bool     `json:"settings"` // the bench's own journal was taken over
}

// Unpack takes over what Pack has written. A case that is here already is carried
// on if the pack knows more of it; one that has gone another way here is left as it is.
func (b *Bench) Unpack(ctx context.Context, file io.ReaderAt, size int64) (*Unpacked, error) {
	bad := func(err error) error {
		return &Error{Code: BadInput, Text: "this is no pack of a bench, or it is damaged", Next: "give the file as it was packed", Err: err}
	}
	z, err := zip.NewReader(file, size)
	if err != nil {
		return nil, bad(err)
	}
	var head packHeader
	data, err := packed(z, packHead, 1<<16)
	if err != nil || json.Unmarshal(data, &head) != nil || head.Kind != packKind {
		return nil, bad(err)
	}
	if head.Version != packVersion {
		return nil, fail(BadInput, "unpack it with a newer version of the program", "the pack has the form %d, this version knows %d", head.Version, packVersion)
	}
	data, err = packed(z, packJournal, mostPackFile)
	if err != nil {
		return nil, bad(err)
	}
	cases, order, err := packedEvents(data)
	if err != nil {
		return nil, err
	}
	out := &Unpacked{Refused: []string{}}
	if err := b.unpackFiles(ctx, z, out); err != nil {
		return nil, err
	}
	for _, id := range order {
		if err := b.unpackCase(ctx, id, cases[id], out); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func packed(z *zip.Reader, name string, most int64) ([]byte, error) {
	f, err := z.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = errors.New("it is too large")
	}
	return data, err
}

// packedEvents reads the lines of the journal, by case.
func packedEvents(data []byte) (map[string][]Event, []string, error) {
	cases := map[string][]Event{}
	var order []string
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Buffer(nil, mostPackLine)
	for n := 1; lines.Scan(); n++ {
		var e Event
		wrong := func(what string, err error) error {
			return &Error{Code: BadInput, Text: fmt.Sprintf("line %d of the journal %s", n, what), Next: "give the file as it was packed", Err: err}
		}
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			return nil, nil, wrong("cannot be read", err)
		}
		switch {
		case e.Case != BenchCase && !caseName.MatchString(e.Case):
			return nil, nil, wrong(fmt.Sprintf("names the case %q, which cannot be a name", clip(e.Case)), nil)
		case e.Seq != len(cases[e.Case])+1 || e.At.IsZero() || e.Kind == "" || len(e.Data) == 0:
			return nil, nil, wrong("is out of order or not whole", nil)
		case e.Seq == 1 && (e.Kind == KindOpened) == (e.Case == BenchCase):
			return nil, nil, wrong("begins a case wrongly", nil)
		}
		if e.Seq == 1 {
			order = append(order, e.Case)
		}
		e.At, e.Data = e.At.UTC(), slices.Clone(e.Data)
		cases[e.Case] = append(cases[e.Case], e)
	}
	if err := lines.Err(); err != nil {
		return nil, nil, &Error{Code: BadInput, Text: "a line of the journal is too long", Next: "give the file as it was packed", Err: err}
	}
	for id, events := range cases { // what cannot be projected must not get in
		_, err := project(nil, namesOf(nil), nil, events)
		if err == nil && id == BenchCase {
			_, err = readShelf(new(shelf.Reader), events)
		}
		if err != nil {
			return nil, nil, &Error{Code: BadInput, Text: "the journal in the pack makes no sense: " + firstSentence(err), Next: "give the file as it was packed", Err: err}
		}
	}
	return cases, order, nil
}

// unpackFiles keeps the files; each must be what its name says. All are looked at
// before the first is kept.
func (b *Bench) unpackFiles(ctx context.Context, z *zip.Reader, out *Unpacked) error {
	for _, keep := range []bool{false, true} {
		for _, f := range z.File {
			to, name := b.packedFile(f.Name)
			if name == "" {
				continue
			}
			if to == nil {
				return &Error{Code: StoreFail, Text: "this bench keeps no pictures and files", Next: "start it with a data folder"}
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			data, err := packed(z, f.Name, mostPackFile)
			if err != nil {
				return &Error{Code: BadInput, Text: "a picture or file in the pack is damaged", Next: "give the file as it was packed", Err: err}
			}
			if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != name {
				return fail(BadInput, "give the file as it was packed", "a picture or file in the pack is not what its name says")
			}
			if !keep {
				continue
			}
			if _, err := to.Put(ctx, data); err != nil {
				return photoError(err)
			}
			out.Files++
		}
	}
	return nil
}

// packedFile says where a file of a pack belongs, and its name there; "" for another.
func (b *Bench) packedFile(path string) (to journal.Files, name string) {
	if n, ok := strings.CutPrefix(path, packPhotos); ok {
		return b.o.Photos, n
	}
	if n, ok := strings.CutPrefix(path, packOthers); ok {
		return b.o.Files, n
	}
	return nil, ""
}

func (b *Bench) unpackCase(ctx context.Context, id string, events []Event, out *Unpacked) error {
	have, err := b.events(ctx, id)
	if err != nil {
		return err
	}
	for i := range min(len(have), len(events)) {
		if !sameEvent(have[i], events[i]) {
			name := id
			if id == BenchCase {
				name = "the settings of the bench"
			}
			out.Refused = append(out.Refused, name)
			return nil
		}
	}
	if len(events) <= len(have) {
		if id != BenchCase { // the settings are no case
			out.Same++
		}
		return nil
	}
	if err := b.journal.Append(ctx, id, len(have), events[len(have):]...); err != nil {
		return storeError(err)
	}
	if id == BenchCase {
		out.Settings = true
	} else {
		out.Cases++
	}
	return nil
}

func sameEvent(a, b Event) bool {
	return a.At.Equal(b.At) && a.Kind == b.Kind && a.Who == b.Who && a.Version == b.Version && bytes.Equal(compact(a.Data), compact(b.Data))
}

func compact(data json.RawMessage) []byte {
	var out bytes.Buffer
	if json.Compact(&out, data) != nil {
		return data
	}
	return out.Bytes()
}

// firstSentence is what is wrong, without what to do about it.
func firstSentence(err error) string {
	var e *Error
	if errors.As(err, &e) {
		return e.Text
	}
	return err.Error()
}
