package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

//go:embed static
var staticFiles embed.FS

// assets serves the static files under addresses that change with their
// content, so that a browser may keep them for good.
type assets struct {
	files map[string][]byte // by address
	paths map[string]string // address by name
}

func newAssets() (*assets, error) {
	a := &assets{files: map[string][]byte{}, paths: map[string]string{}}
	err := fs.WalkDir(staticFiles, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := staticFiles.ReadFile(name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(data)
		short := strings.TrimPrefix(name, "static/")
		address := "/static/" + hex.EncodeToString(sum[:6]) + "/" + short
		a.files[address], a.paths[short] = data, address
		return nil
	})
	return a, err
}

func (a *assets) path(name string) string { return a.paths[name] }

// ServeHTTP answers with a file.
func (a *assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	data, ok := a.files[r.URL.Path]
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	http.ServeContent(w, r, path.Base(r.URL.Path), time.Time{}, bytes.NewReader(data))
}
