package ledger

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// exchange is the written form of a book. Its version is raised when a reader of
// the one before would misread it. 1: first.
type exchange struct {
	Kind    string   `json:"kind"`
	Version int      `json:"version"`
	Sheets  []Sheet  `json:"sheets"`
	Records []Record `json:"records"`
}

const (
	exchangeKind    = "closed cases of a repair bench"
	exchangeVersion = 1
	maxExchange     = 1 << 30
)

// Encode writes a book as JSON, the same bytes for the same set of records.
func (b *Book) Encode() ([]byte, error) {
	return json.Marshal(exchange{exchangeKind, exchangeVersion, b.Sheets(), b.All()})
}

// Decode reads what Encode has written. Every record is checked, and its hash
// compared with its content.
func Decode(data []byte) (*Book, error) {
	if len(data) > maxExchange {
		return nil, errors.New("ledger: the file is over 1 GB: export fewer cases at a time")
	}
	var x exchange
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&x); err != nil {
		return nil, fmt.Errorf("ledger: this is not an export of closed cases, or it is damaged; export it again: %w", err)
	}
	if d.More() {
		return nil, errors.New("ledger: something follows the export of closed cases: give the file as it was exported")
	}
	if x.Kind != exchangeKind || x.Version != exchangeVersion {
		return nil, fmt.Errorf("ledger: the file says it is %.60q, version %d: give an export of %q, version %d", x.Kind, x.Version, exchangeKind, exchangeVersion)
	}
	b := new(Book)
	var errs []error
	for _, s := range x.Sheets {
		if _, err := b.AddSheet(s); err != nil {
			errs = append(errs, err)
		}
	}
	errs = append(errs, b.Add(x.Records...))
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return b, nil
}
