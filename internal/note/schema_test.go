package note_test

import (
	"bytes"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"fettler/internal/note"
)

// The schema that editors use is the one the reader's tables make.
func TestSchemaFile(t *testing.T) {
	const file = "../../docs/note.schema.json"
	got := note.Schema()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, got) {
		t.Error("docs/note.schema.json is not what the tables say; run: go test ./internal/note -run TestSchemaFile -update")
	}
}

// The schema takes the doc's examples and refuses what is wrong by its keys and values.
func TestSchemaJudges(t *testing.T) {
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
	judge := func(data []byte) error {
		var v any
		if err := yaml.Load(data, &v); err != nil {
			t.Fatal(err)
		}
		return schema.Validate(v)
	}
	for name, f := range docNotes(t) {
		if err := judge(f.Data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"keys", "kinds"} {
		a, err := txtar.ParseFile("testdata/bad/" + name + ".txtar")
		if err != nil {
			t.Fatal(err)
		}
		if judge(a.Files[0].Data) == nil {
			t.Errorf("%s.txtar is right by the schema", name)
		}
	}
}
