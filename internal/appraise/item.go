package appraise

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"fettler/internal/note"
)

// An Item is one broken device as its owner describes it.
type Item struct {
	ID       string   `json:"id"`
	Device   string   `json:"device,omitempty"`   // what it is, in any words
	Category string   `json:"category,omitempty"` // product category of the open repair data standard
	AgeYears *float64 `json:"age_years,omitempty"`
	Symptoms []string `json:"symptoms"` // what the owner noticed
	Checks   []string `json:"checks"`   // what was looked at or measured, and what showed
}

// Bounds of what is taken for an item.
const (
	maxItems = 10_000
	maxTexts = 100
	maxBytes = 8 << 20
	maxAge   = 150
)

// ReadItems reads a JSON list of items. Keys it does not know are left aside,
// so that a file with more in it can be read. All that is wrong is in one error.
func ReadItems(r io.Reader) ([]Item, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the items: %w", err)
	}
	if len(data) > maxBytes {
		return nil, fmt.Errorf("the file is over %d MB: split it", maxBytes>>20)
	}
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, fmt.Errorf(`the file is not a JSON list of items such as [{"id": "1", "device": "kettle", "symptoms": ["dead"]}]: %w`, err)
	}
	if len(list) > maxItems {
		return nil, fmt.Errorf("%d items are more than %d: split the file", len(list), maxItems)
	}
	items := make([]Item, len(list))
	var wrong []error
	for i, raw := range list {
		if err := readItem(raw, &items[i], i+1); err != nil {
			wrong = append(wrong, err)
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return items, nil
}

// readItem reads one item, the number-th of its list.
func readItem(raw json.RawMessage, it *Item, number int) error {
	where := fmt.Sprintf("item %d", number)
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(raw, &fields); err != nil || fields == nil {
		return fmt.Errorf("%s is not an object: write {\"device\": \"kettle\", \"symptoms\": [\"dead\"]}", where)
	}
	var wrong []error
	take := func(key string, into any, want string) {
		if v, ok := fields[key]; ok && string(v) != "null" {
			if err := json.Unmarshal(v, into); err != nil {
				wrong = append(wrong, fmt.Errorf("%s: %s must be %s, not %s", where, key, want, short(string(v))))
			}
		}
	}
	take("id", &it.ID, "a text")
	if it.ID != "" {
		where += fmt.Sprintf(" (%s)", short(it.ID))
	}
	take("device", &it.Device, "a text")
	take("category", &it.Category, "a text")
	take("age_years", &it.AgeYears, "a number of years")
	take("symptoms", &it.Symptoms, "a list of texts")
	take("checks", &it.Checks, "a list of texts")
	if len(wrong) > 0 {
		return errors.Join(wrong...)
	}
	if err := it.validate(); err != nil {
		return fmt.Errorf("%s: %w", where, err)
	}
	return nil
}

// validate says what is wrong with an item, nil if nothing is.
func (it *Item) validate() error {
	device, category := strings.TrimSpace(it.Device), strings.TrimSpace(it.Category)
	if device == "" && category == "" {
		return errors.New(`neither "device" nor "category" is given: say what it is, if only "Misc"`)
	}
	if category != "" {
		if _, err := categoryNamed(category); err != nil {
			return err
		}
	}
	if a := it.AgeYears; a != nil && !(*a >= 0 && *a <= maxAge) {
		return fmt.Errorf("an age of %g years cannot be: give 0 to %d, or leave age_years out", *a, maxAge)
	}
	if n := max(len(it.Symptoms), len(it.Checks)); n > maxTexts {
		return fmt.Errorf("%d texts are more than %d: keep to what tells something", n, maxTexts)
	}
	return nil
}

// categoryNamed finds a category whatever its capitals.
func categoryNamed(name string) (string, error) {
	name = strings.TrimSpace(name)
	best, least := "", math.MaxInt
	for _, c := range note.Categories() {
		if strings.EqualFold(c, name) {
			return c, nil
		}
		if d := distance(strings.ToLower(c), strings.ToLower(name)); d < least {
			best, least = c, d
		}
	}
	return "", fmt.Errorf("there is no category %s; the nearest is %q (leave category out and give device if none fits)", short(name), best)
}

// distance is the number of letters to change, put in or leave out; a name
// that is part of the other is near.
func distance(a, b string) int {
	if len(b) > 200 {
		b = b[:200]
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			d := diagonal
			if a[i-1] != b[j-1] {
				d++
			}
			diagonal, row[j] = row[j], min(d, row[j]+1, row[j-1]+1)
		}
	}
	if len(b) >= 3 && (strings.Contains(a, b) || strings.Contains(b, a)) {
		return min(row[len(b)], 1)
	}
	return row[len(b)]
}

// short quotes a text for an error, cut if it is long.
func short(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
