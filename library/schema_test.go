package library_test

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"fettler/internal/note"
	"fettler/library"
)

// Every shipped note is right by the schema that editors use: it may be laxer than the reader, not stricter.
func TestSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(note.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("note.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("note.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	err = fs.WalkDir(library.Notes(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".yaml") {
			return err
		}
		data, err := fs.ReadFile(library.Notes(), name)
		if err != nil {
			return err
		}
		var v any
		if err := yaml.Load(data, &v); err != nil {
			t.Errorf("%s: %v", name, err)
			return nil
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
