package cli

import (
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite docs/cli.json.schema")

const schemaFile = "../../docs/cli.json.schema"

// answers is what each command gives.
var answers = map[string]any{
	"bench": served{}, "take-in": done{}, "say": done{}, "notice": done{}, "suspects": suspectList{}, "next": advice{}, "check": done{},
	"measure": done{}, "opened": done{}, "repair": done{}, "test": done{}, "order": done{}, "arrived": done{}, "remark": done{}, "undo": done{},
	"correct": done{}, "close": done{}, "reopen": done{}, "cases": caseList{}, "show": shown{}, "settings": settingsShown{}, "export": exported{},
	"devices": deviceList{}, "note lint": lintReport{}, "note list": noteList{}, "note show": noteShown{}, "note schema": noteSchema{},
	"note picture": notePicture{}, "note raises": raisedList{}, "note rehearse": rehearsed{}, "note trials": trialList{}, "note diff": noteChanges{}, "note assemble": assembled{},
	"version": built{}, "help": helpShown{}, "heat": heatAnswer{}, "off": done{}, "back": done{}, "appraise": appraisals{}, "soak": soakState{}, "learnt": lessons{}, "find": foundCases{}, "story": storyTold{}, "pack": packedUp{},
	"unpack": unpacked{}, "open-data": openDataDone{},
	"part read": marksRead{}, "part bands": marksRead{}, "part instead": insteadFound{}, "part electrolytic": electrolyticJudged{}, "part combine": waysFound{}, "part discharge": emptied{},
	"board": boardShown{}, "steps": stepsShown{}, "tick": done{}, "way": done{}, "photo": done{}, "tag": done{}, "placement": placementSheet{}, "power-up": powerShown{},
	"shelf list": shelfShown{}, "shelf add": shelfWritten{}, "shelf take": shelfWritten{}, "shelf move": shelfWritten{}, "shelf count": shelfWritten{}, "shelf is": shelfWritten{}, "shelf undo": shelfWritten{}, "shelf log": shelfLog{},
	"shelf import": shelfImport{}, "shelf export": shelfExported{}, "shelf labels": labelsMade{}, "shopping": shoppingList{}, "offers": offersWeighed{}, "salvage": salvaged{},
	"why": reasons{}, "what-if": supposed{}, "rehearse": outcomes{}, "map": moveMap{},
}

// The schema is made from the types, so that it cannot drift from them.
func TestSchemaIsThatOfTheTypes(t *testing.T) {
	got, err := json.MarshalIndent(newSchema(t).whole(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	if *update {
		if err := os.WriteFile(schemaFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("docs/cli.json.schema is not that of the types; go test ./internal/cli -update rewrites it (-file +types):\n%s", diff)
	}
}

func TestEveryCommandHasASchemaAndHelp(t *testing.T) {
	for _, name := range commands(t) {
		if _, ok := answers[name]; !ok {
			t.Errorf("command %q has no schema", name)
		}
		if _, err := helpOn(strings.Fields(name)); err != nil {
			t.Errorf("command %q: %v", name, err)
		}
	}
	for _, name := range helpNames() {
		if name != "fettler" && !slices.Contains(groups, name) && !slices.Contains(commands(t), name) {
			t.Errorf("there is help on %q, but no such command", name)
		}
	}
}

// commands are the names of all commands.
func commands(t *testing.T) []string {
	var out []string
	var walk func(prefix string, x reflect.Type)
	walk = func(prefix string, x reflect.Type) {
		for i := range x.NumField() {
			f := x.Field(i)
			if _, ok := f.Tag.Lookup("cmd"); !ok {
				continue
			}
			name := strings.TrimSpace(prefix + " " + f.Tag.Get("name"))
			if before := len(out); true {
				walk(name, f.Type)
				if len(out) == before {
					out = append(out, name)
				}
			}
		}
	}
	walk("", reflect.TypeFor[grammar]())
	if len(out) < 20 {
		t.Fatalf("only %d commands found", len(out))
	}
	return out
}

// schema makes JSON Schemas of Go types.
type schema struct {
	defs     map[string]any
	comments map[string]string // "casework.View", "casework.View.Header"
}

func newSchema(t *testing.T) *schema {
	s := &schema{defs: map[string]any{}, comments: map[string]string{}}
	for _, dir := range []string{".", "../casework", "../appraise", "../failure", "../heatdesk", "../journal", "../openrepair", "../notedesk", "../part/fit", "../partdesk", "../shelf"} {
		s.read(t, dir)
	}
	return s
}

// whole is the schema of a document.
func (s *schema) whole() map[string]any {
	var names []string
	var rules []any
	for name := range answers {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		rules = append(rules, map[string]any{
			"if":   map[string]any{"properties": map[string]any{"command": map[string]any{"const": name}}},
			"then": map[string]any{"properties": map[string]any{"data": s.of(reflect.TypeOf(answers[name]))}},
		})
	}
	fault := s.of(reflect.TypeFor[fault]())
	return map[string]any{
		"$schema": "https://json-schema.org/draft/2020-12/schema",
		"title":   "What fettler --json prints",
		"type":    "object",
		"properties": map[string]any{
			"form":    map[string]any{"const": jsonForm, "description": s.comments["cli.document.Form"]},
			"command": map[string]any{"enum": append(names, "fettler"), "description": s.comments["cli.document.Command"]},
			"data":    map[string]any{"description": "the answer"},
			"error":   fault,
		},
		"required":             []string{"form", "command"},
		"additionalProperties": false,
		"oneOf":                []any{map[string]any{"required": []string{"data"}}, map[string]any{"required": []string{"error"}}},
		"allOf":                rules,
		"$defs":                s.defs,
	}
}

func (s *schema) of(t reflect.Type) map[string]any {
	switch {
	case t == reflect.TypeFor[time.Time]():
		return map[string]any{"type": "string", "format": "date-time"}
	case t == reflect.TypeFor[json.RawMessage]() || t == reflect.TypeFor[rawJSON]():
		return map[string]any{}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return map[string]any{"anyOf": []any{s.of(t.Elem()), map[string]any{"type": "null"}}}
	case reflect.Slice:
		return map[string]any{"type": []string{"array", "null"}, "items": s.of(t.Elem())}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Struct:
		name := path.Base(t.PkgPath()) + "." + t.Name()
		if _, ok := s.defs[name]; !ok {
			s.defs[name] = nil // for a type that holds itself
			s.defs[name] = s.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	}
	panic("no schema for " + t.String())
}

func (s *schema) object(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	var add func(t reflect.Type)
	add = func(t reflect.Type) {
		for i := range t.NumField() {
			f := t.Field(i)
			name, opts, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case f.Anonymous:
				add(f.Type)
				continue
			case name == "-" || name == "":
				continue
			case !strings.Contains(opts, "omitempty"):
				required = append(required, name)
			}
			x := s.of(f.Type)
			if c := s.comments[path.Base(t.PkgPath())+"."+original(t)+"."+f.Name]; c != "" {
				x["description"] = c
			}
			properties[name] = x
		}
	}
	add(t)
	slices.Sort(required)
	out := map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
	if c := s.comments[path.Base(t.PkgPath())+"."+t.Name()]; c != "" {
		out["description"] = c
	}
	return out
}

// original is the name under which a type's fields are written down.
func original(t reflect.Type) string {
	if t == reflect.TypeFor[shown]() {
		return "View"
	}
	return t.Name()
}

// read collects the comments of a package's types and fields.
func (s *schema) read(t *testing.T, dir string) {
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path.Join(dir, f.Name()), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			d, ok := n.(*ast.GenDecl)
			if !ok {
				return true
			}
			for _, x := range d.Specs {
				if spec, ok := x.(*ast.TypeSpec); ok {
					s.note(file.Name.Name, d, spec)
				}
			}
			return true
		})
	}
}

func (s *schema) note(pkg string, d *ast.GenDecl, spec *ast.TypeSpec) {
	key := pkg + "." + spec.Name.Name
	s.comments[key] = tidy(d.Doc.Text())
	if x, ok := spec.Type.(*ast.StructType); ok {
		for _, f := range x.Fields.List {
			for _, n := range f.Names {
				s.comments[key+"."+n.Name] = tidy(f.Doc.Text() + f.Comment.Text())
				if pkg == "casework" && spec.Name.Name == "View" {
					s.comments["cli.View."+n.Name] = s.comments[key+"."+n.Name]
				}
			}
		}
	}
}

func tidy(s string) string { return strings.Join(strings.Fields(s), " ") }
