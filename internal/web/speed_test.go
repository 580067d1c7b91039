package web_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/demo"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// BenchmarkFirstPage is everything from nothing to the first page: notes listed, templates parsed, page made.
func BenchmarkFirstPage(b *testing.B) {
	for b.Loop() {
		ask(b, serve(b), "/")
	}
}

// BenchmarkCase is the case page of the demonstration case once its view is known.
func BenchmarkCase(b *testing.B) {
	mux := serve(b)
	ask(b, mux, "/case/demo")
	for b.Loop() {
		ask(b, mux, "/case/demo")
	}
}

func serve(b *testing.B) *http.ServeMux {
	b.Helper()
	lib, err := library.Load(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	bench := casework.New(memory.New(), lib, casework.Options{})
	if _, err := demo.Install(b.Context(), bench); err != nil {
		b.Fatal(err)
	}
	s, err := web.New(bench, web.Options{Notes: lib})
	if err != nil {
		b.Fatal(err)
	}
	mux := http.NewServeMux()
	s.Install(mux)
	return mux
}

func ask(b *testing.B, mux http.Handler, path string) {
	b.Helper()
	r := httptest.NewRequestWithContext(b.Context(), http.MethodGet, path, strings.NewReader(""))
	r.Host = "localhost"
	w := httptest.NewRecorder()
	mux.ServeHTTP(w, r)
	if body, _ := io.ReadAll(w.Body); w.Code != http.StatusOK {
		b.Fatalf("%s answered %d: %.200s", path, w.Code, body)
	}
}
