package casework

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"

	"fettler/internal/ledger"
)

// Events of the bench that have to do with other benches.
const (
	KindBenchNamed Kind = "bench-named" // BenchNamed
	KindTakenOver  Kind = "taken-over"  // TakenOver
)

// shareKind tells the kinds of this file.
func shareKind(k Kind) bool { return k == KindBenchNamed || k == KindTakenOver }

// BenchNamed gives the bench the name its cases go by elsewhere: random, so that no two are alike.
type BenchNamed struct {
	Name string `json:"name"`
}

// TakenOver is closed cases of other benches; the file is kept by its SHA-256.
type TakenOver struct {
	Hash  string `json:"hash"`
	Cases int    `json:"cases"`
}

// benchName is the name of this bench, "" if it has none yet.
func benchName(bench []Event) string {
	eff := effects(bench)
	for i, e := range bench {
		if e.Kind != KindBenchNamed { // the shelf's are long
			continue
		}
		if p, err := decode[BenchNamed](e, eff[i].data); err == nil {
			return p.Name // the first stands, also if undone: others know it by now
		}
	}
	return ""
}

// takenOver lists the files taken over, oldest first.
func takenOver(bench []Event) []string {
	eff := effects(bench)
	var out []string
	for i, e := range bench {
		if e.Kind != KindTakenOver || eff[i].void {
			continue
		}
		if p, err := decode[TakenOver](e, eff[i].data); err == nil {
			out = append(out, p.Hash)
		}
	}
	return out
}

// The file for other benches is JSON lines: a head, then sheets, then records.
type shareLine struct {
	Kind    string         `json:"kind,omitempty"` // head only
	Version int            `json:"version,omitempty"`
	Sheet   *ledger.Sheet  `json:"sheet,omitempty"`
	Record  *ledger.Record `json:"record,omitempty"`
}

const (
	shareHead     = "closed cases of repair benches"
	shareVersion  = 1
	mostShareLine = 8 << 20
	mostShare     = 512 << 20
)

// ShareLessons writes what closed cases teach, own ones and those taken over, for
// another bench: JSON lines, the same bytes for the same cases. There are no names,
// labels or words of people in it.
func (b *Bench) ShareLessons(ctx context.Context, w io.Writer) error {
	if err := b.nameBench(ctx); err != nil {
		return err
	}
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return err
	}
	x := &b.school
	x.mu.Lock()
	defer x.mu.Unlock()
	if err := b.catchUp(ctx, bench, true); err != nil {
		return err
	}
	return writeShare(w, x.book)
}

func writeShare(w io.Writer, book *ledger.Book) error {
	out := bufio.NewWriter(w)
	e := json.NewEncoder(out)
	err := e.Encode(shareLine{Kind: shareHead, Version: shareVersion})
	for _, s := range book.Sheets() {
		if err == nil {
			err = e.Encode(shareLine{Sheet: &s})
		}
	}
	for _, r := range book.All() {
		if err == nil {
			err = e.Encode(shareLine{Record: &r})
		}
	}
	if err == nil {
		err = out.Flush()
	}
	if err != nil {
		return fmt.Errorf("writing what closed cases teach: %w", err)
	}
	return nil
}

// nameBench gives the bench a name if it has none.
func (b *Bench) nameBench(ctx context.Context) error {
	bench, err := b.events(ctx, BenchCase)
	if err != nil || benchName(bench) != "" {
		return err
	}
	name := b.newID() + "-" + b.newID()
	_, err = b.write(ctx, BenchCase, By{}, func(_ *Case, bench []Event) (Kind, any, error) {
		return KindBenchNamed, BenchNamed{Name: name}, nil
	}, false)
	return err
}

// TakeOver takes over what other benches have learnt. Nothing counts twice, however
// often it is taken over. Undoing the event takes it out again.
func (b *Bench) TakeOver(ctx context.Context, file io.Reader, by By) (Receipt, error) {
	if b.o.Files == nil {
		return Receipt{}, &Error{Code: StoreFail, Text: "this bench cannot keep what comes from others", Next: "start it with a data folder"}
	}
	data, err := io.ReadAll(io.LimitReader(file, mostShare+1))
	if err != nil {
		return Receipt{}, &Error{Code: BadInput, Text: "the file did not arrive whole", Next: "send it once more", Err: err}
	}
	if len(data) > mostShare {
		return Receipt{}, fail(BadInput, "ask for a part of it", "the file is over %d MB", mostShare>>20)
	}
	book, err := readShare(data)
	if err != nil {
		return Receipt{}, err
	}
	hash, err := b.o.Files.Put(ctx, data)
	if err != nil {
		return Receipt{}, storeError(err)
	}
	return b.write(ctx, BenchCase, by, func(_ *Case, bench []Event) (Kind, any, error) {
		for _, h := range takenOver(bench) {
			if h == hash {
				return "", nil, fail(BadInput, "there is nothing to be done", "this very file has been taken over already")
			}
		}
		return KindTakenOver, TakenOver{Hash: hash, Cases: len(book.Counting())}, nil
	}, false)
}

// readShare reads a file that ShareLessons has written.
func readShare(data []byte) (*ledger.Book, error) {
	book := new(ledger.Book)
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Buffer(nil, mostShareLine)
	n := 0
	for lines.Scan() {
		n++
		if len(bytes.TrimSpace(lines.Bytes())) == 0 && n > 1 {
			continue
		}
		if err := readShareLine(book, n, lines.Bytes()); err != nil {
			return nil, &Error{Code: BadInput, Text: fmt.Sprintf("line %d of the file: %v", n, err), Next: "give a file that another bench has written for sharing, as it is", Err: err}
		}
	}
	if err := lines.Err(); err != nil || n == 0 {
		return nil, &Error{Code: BadInput, Text: "this is not a file of closed cases", Next: "give a file that another bench has written for sharing", Err: err}
	}
	return book, nil
}

func readShareLine(book *ledger.Book, n int, line []byte) error {
	var l shareLine
	d := json.NewDecoder(bytes.NewReader(line))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		return fmt.Errorf("not as it should be: %w", err)
	}
	switch {
	case n == 1 && (l.Kind != shareHead || l.Version != shareVersion):
		return fmt.Errorf("it does not begin as a file of %q, version %d, does", shareHead, shareVersion)
	case n == 1:
		return nil
	case l.Sheet != nil && l.Record == nil:
		_, err := book.AddSheet(*l.Sheet)
		return err
	case l.Record != nil && l.Sheet == nil:
		return book.Add(*l.Record)
	}
	return fmt.Errorf("neither a sheet nor a record")
}

// otherBook reads a file taken over, once.
func (b *Bench) otherBook(ctx context.Context, hash string) (*ledger.Book, error) {
	x := &b.school
	if x.from[hash] != nil {
		return x.from[hash], nil
	}
	if b.o.Files == nil {
		return nil, fmt.Errorf("nothing is kept here from other benches")
	}
	data, err := b.o.Files.Get(ctx, hash)
	if err != nil {
		return nil, err
	}
	book, err := readShare(data)
	if err == nil {
		x.from[hash] = book
	}
	return book, err
}

// shareWords is an event of this file in words.
func shareWords(e Event, data json.RawMessage) (string, error) {
	words := ""
	var err error
	switch e.Kind {
	case KindBenchNamed:
		err = with(e, data, func(p BenchNamed) { words = "this bench goes by the name " + p.Name })
	case KindTakenOver:
		err = with(e, data, func(p TakenOver) {
			words = fmt.Sprintf("took over %d closed cases of other benches", p.Cases)
		})
	}
	return words, err
}
