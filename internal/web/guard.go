package web

import (
	"errors"
	"net"
	"net/http"
	"slices"
	"strings"
)

// A handler answers a request or says why not; the error becomes a page in fail.
type handler func(w http.ResponseWriter, r *http.Request) error

// mostSent bounds what a form may send.
const mostSent = 256 << 10

const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard puts the protections of every page around a handler.
func (s *Server) guard(h handler) http.Handler {
	return s.guardRaw(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-store")
		r.Body = http.MaxBytesReader(w, r.Body, mostSent)
		err := r.ParseForm()
		var tooBig *http.MaxBytesError
		if err != nil && !errors.As(err, &tooBig) {
			err = refusal("what was sent cannot be read as a form", "go back and send it again")
		}
		if err == nil {
			err = h(w, r)
		}
		if err != nil {
			s.fail(w, r, err)
		}
	}))
}

func (s *Server) guardRaw(next http.Handler) http.Handler {
	next = s.cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.hostOurs(r.Host) {
			http.Error(w, "This bench does not answer under that host name. Use its IP address or localhost.", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hostOurs says whether a request under this Host header can be meant for us. A
// page elsewhere can make its own name point to this machine and so read what
// it likes; it cannot do so with an IP address, localhost, a name without a dot
// or one under .local (RFC 6762), which no outside name server answers for.
func (s *Server) hostOurs(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	return net.ParseIP(name) != nil || !strings.Contains(name, ".") || strings.HasSuffix(name, ".local") ||
		strings.HasSuffix(name, ".localhost") || slices.Contains(s.o.Hosts, name)
}
