package casework

import (
	"context"
	"encoding/json"
	"reflect"
	"strings"
)

// privateKey is the key of a payload that must not leave the bench.
const privateKey = "private"

// Public returns the events without what is marked private, in corrections too.
// A payload that cannot be taken apart is left out whole.
func Public(events []Event) []Event {
	out := make([]Event, len(events))
	for i, e := range events {
		e.Data = withoutPrivate(e.Data)
		out[i] = e
	}
	return out
}

func withoutPrivate(data json.RawMessage) json.RawMessage {
	var p map[string]json.RawMessage
	if json.Unmarshal(data, &p) != nil {
		return json.RawMessage(`{}`)
	}
	inner, nested := p["data"]
	private := false
	for k := range p {
		if strings.EqualFold(k, privateKey) {
			private = true
			delete(p, k)
		}
	}
	if !private && !nested {
		return data
	}
	if nested {
		p["data"] = withoutPrivate(inner)
	}
	out, err := json.Marshal(p)
	if err != nil {
		return json.RawMessage(`{}`)
	}
	return out
}

// Export returns the events of a case; without private what is marked private is left out.
func (b *Bench) Export(ctx context.Context, caseID string, private bool) ([]Event, error) {
	_, events, err := b.read(ctx, caseID)
	if err != nil || private {
		return events, err
	}
	return Public(events), nil
}

// fieldsOf is the set of JSON keys a payload of this type may have.
func fieldsOf(p any) map[string]bool {
	out := map[string]bool{}
	t := reflect.TypeOf(p)
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		out[name] = true
	}
	return out
}
