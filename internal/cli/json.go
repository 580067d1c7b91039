package cli

import (
	"encoding/json"
	"fmt"
)

// jsonForm is the version of the documents' form. It rises when a field
// changes its meaning or goes; new fields may come without.
const jsonForm = 1

// A document is what --json prints: Data is the answer, or Error says why there is none.
type document struct {
	Form    int    `json:"form"`    // version of this form
	Command string `json:"command"` // "show", "note lint"; "fettler" if none could be read
	Data    any    `json:"data,omitempty"`
	Error   *fault `json:"error,omitempty"`
}

func (s *session) writeJSON(d document) error {
	e := json.NewEncoder(s.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(d); err != nil {
		return fmt.Errorf("the answer cannot be written as JSON: %w", err)
	}
	return nil
}

// rawJSON is JSON as it stands.
type rawJSON []byte

// MarshalJSON implements json.Marshaler.
func (r rawJSON) MarshalJSON() ([]byte, error) { return r, nil }
