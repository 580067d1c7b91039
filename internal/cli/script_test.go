package cli_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fettler/internal/cli"
)

// Beside testscript's own commands the scripts have
//
//	fettler ARGS…        the program in this process (so paths must be absolute); ! if it must not exit with 0
//	exits CODE ARGS…     the program must exit with CODE
//	asked LINES ARGS…    the program at a terminal where LINES (with \n) are typed
//	valid                the last output is a document that docs/cli.json.schema allows
//	json PATH VALUE      in the last output the value at PATH (a.b.0.c) is VALUE; len is a list's length
func TestScripts(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/cli.json.schema")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("FETTLER_FOLDER", filepath.Join(e.WorkDir, "the bench #1"))
			return writePicture(filepath.Join(e.WorkDir, "board.png"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"fettler": func(ts *testscript.TestScript, neg bool, args []string) {
				if exit := run(ts, "", args); (exit != cli.OK) != neg {
					ts.Fatalf("exit %d", exit)
				}
			},
			"exits": func(ts *testscript.TestScript, _ bool, args []string) {
				want, err := strconv.Atoi(args[0])
				ts.Check(err)
				if exit := run(ts, "", args[1:]); int(exit) != want {
					ts.Fatalf("exit %d, want %d", exit, want)
				}
			},
			"asked": func(ts *testscript.TestScript, neg bool, args []string) {
				if exit := run(ts, strings.ReplaceAll(args[0], `\n`, "\n"), args[1:]); (exit != cli.OK) != neg {
					ts.Fatalf("exit %d", exit)
				}
			},
			"valid": func(ts *testscript.TestScript, _ bool, _ []string) {
				if err := schema.Validate(document(ts)); err != nil {
					ts.Fatalf("%v", err)
				}
			},
			"json": func(ts *testscript.TestScript, _ bool, args []string) {
				if got := at(document(ts), strings.Split(args[0], ".")); got != args[1] {
					ts.Fatalf("%s is %q, want %q", args[0], got, args[1])
				}
			},
		},
	})
}

// writePicture writes a small picture of an empty board.
func writePicture(name string) error {
	m := image.NewRGBA(image.Rect(0, 0, 80, 60))
	draw.Draw(m, m.Bounds(), image.NewUniform(color.RGBA{20, 90, 50, 255}), image.Point{}, draw.Src)
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	return errors.Join(png.Encode(f, m), f.Close())
}

func run(ts *testscript.TestScript, typed string, args []string) cli.Exit {
	p := program(args, strings.NewReader(typed), ts.Stdout(), ts.Stderr(), func(name string) string {
		v := ts.Getenv(name)
		if name == "FETTLER_FOLDER" && v == "" {
			v = ts.MkAbs("nowhere") // never the tester's own bench
		}
		return v
	})
	p.Asks = typed != ""
	return p.Run(context.Background())
}

func document(ts *testscript.TestScript) any {
	d, err := jsonschema.UnmarshalJSON(strings.NewReader(ts.ReadFile("stdout")))
	if err != nil {
		ts.Fatalf("the output is not one JSON document: %v", err)
	}
	return d
}

// at is the value at a path, as text.
func at(v any, path []string) string {
	for _, p := range path {
		switch x := v.(type) {
		case map[string]any:
			v = x[p]
		case []any:
			if p == "len" {
				return strconv.Itoa(len(x))
			}
			i, err := strconv.Atoi(p)
			if err != nil || i < 0 || i >= len(x) {
				return "nothing"
			}
			v = x[i]
		default:
			return "nothing"
		}
	}
	switch x := v.(type) {
	case string:
		return x
	case json.Number:
		return x.String()
	case []any, map[string]any:
		return fmt.Sprintf("%T", x)
	}
	return fmt.Sprint(v)
}
