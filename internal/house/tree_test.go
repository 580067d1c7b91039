package house_test

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const root = "../.."

// A goFile is a file of Go source outside testdata.
type goFile struct {
	path, dir string // from the root, with slashes
	pkg       string
	test      bool
	generated bool
	comment   bool // it has a package comment
	imports   []string
	lines     int
	text      string
}

// files calls visit with every file of the repository that is kept.
func files(t *testing.T, visit func(name string, data []byte)) {
	t.Helper()
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if n := d.Name(); n == ".git" || n == "node_modules" {
				return filepath.SkipDir
			}
			return nil
		}
		name, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(file)
		if err == nil {
			visit(filepath.ToSlash(name), data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// texts calls visit with every file of text that was written here.
func texts(t *testing.T, visit func(name, text string)) {
	t.Helper()
	files(t, func(name string, data []byte) {
		if bytes.IndexByte(data, 0) < 0 && !strings.Contains(name, ".min.") && path.Base(name) != "go.sum" && !strings.HasSuffix(name, "LICENSE") && !strings.HasSuffix(name, "LICENSE.txt") {
			visit(name, string(data))
		}
	})
}

func goFiles(t *testing.T) []goFile {
	t.Helper()
	var out []goFile
	files(t, func(name string, data []byte) {
		if path.Ext(name) != ".go" || strings.Contains(name, "testdata/") {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, data, parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			t.Errorf("%v", err)
			return
		}
		g := goFile{path: name, dir: path.Dir(name), pkg: f.Name.Name, test: strings.HasSuffix(name, "_test.go"), comment: f.Doc != nil,
			lines: bytes.Count(data, []byte("\n")), text: string(data), generated: bytes.Contains(data, []byte("// Code generated "))}
		for _, i := range f.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			g.imports = append(g.imports, p)
		}
		out = append(out, g)
	})
	if len(out) < 50 {
		t.Fatalf("only %d Go files were found", len(out))
	}
	return out
}
