package school

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"

	"fettler/internal/failure"
	"fettler/internal/ledger"
)

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
	MostShared    = 512 << 20
)

// WriteBook writes a book for other benches: the same bytes for the same cases.
func WriteBook(w io.Writer, book *ledger.Book) error {
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

// ReadBook reads what WriteBook has written.
func ReadBook(data []byte) (*ledger.Book, error) {
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
			return nil, &failure.Error{Code: failure.BadInput, Text: fmt.Sprintf("line %d of the file: %v", n, err), Next: "give a file that another bench has written for sharing, as it is", Err: err}
		}
	}
	if err := lines.Err(); err != nil || n == 0 {
		return nil, &failure.Error{Code: failure.BadInput, Text: "this is not a file of closed cases", Next: "give a file that another bench has written for sharing", Err: err}
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
func (x *School) otherBook(ctx context.Context, hash string) (*ledger.Book, error) {
	if x.from[hash] != nil {
		return x.from[hash], nil
	}
	if x.o.Files == nil {
		return nil, fmt.Errorf("nothing is kept here from other benches")
	}
	data, err := x.o.Files.Get(ctx, hash)
	if err != nil {
		return nil, err
	}
	book, err := ReadBook(data)
	if err == nil {
		x.from[hash] = book
	}
	return book, err
}
