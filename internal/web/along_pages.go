package web

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/openrepair"
)

// alongRoutes are the pages on which cases leave the bench and come to it.
func (s *Server) alongRoutes() []route {
	return []route{
		{"GET /take-along", s.alongShow},
		{"GET /take-along/pack", s.packGet},
		{"GET /take-along/open-data", s.openDataGet},
	}
}

// mostPacked is the largest pack taken here; the command line takes larger ones.
const mostPacked = 256 << 20

type alongPage struct {
	Base
	In       casework.OpenData
	Unpacked *casework.Unpacked
	Imported *casework.Imported
}

func (s *Server) alongPage(r *http.Request) *alongPage {
	return &alongPage{Base: s.base(r, "Take along", "")}
}

// alongShow shows what can leave the bench and come to it.
func (s *Server) alongShow(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, http.StatusOK, "along", s.alongPage(r))
}

// packGet is the whole bench in one file.
func (s *Server) packGet(w http.ResponseWriter, r *http.Request) error {
	var b bytes.Buffer
	if err := s.bench.Pack(r.Context(), &b); err != nil {
		return err
	}
	return s.download(w, "bench.zip", "application/zip", b.Bytes())
}

// packTake takes a pack over.
func (s *Server) packTake(w http.ResponseWriter, r *http.Request) error {
	p := s.alongPage(r)
	file, err := sentFile(r)
	var data []byte
	if err == nil {
		data, err = io.ReadAll(file)
	}
	if err == nil {
		p.Unpacked, err = s.bench.Unpack(r.Context(), bytes.NewReader(data), int64(len(data)))
	}
	if err != nil {
		return s.again(w, err, "along", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "along", p)
}

// openDataGet is the closed cases as open repair data.
func (s *Server) openDataGet(w http.ResponseWriter, r *http.Request) error {
	p := s.alongPage(r)
	p.In = casework.OpenData{Provider: strings.TrimSpace(r.FormValue("provider")), Country: strings.ToUpper(strings.TrimSpace(r.FormValue("country"))), Group: strings.TrimSpace(r.FormValue("group"))}
	if p.In.Country != "" && len(p.In.Country) != 3 {
		return s.again(w, refusal(fmt.Sprintf("%q is no country", clip(p.In.Country)), "give the three letters of ISO 3166-1, such as GBR or DEU"), "along", &p.Base, p)
	}
	records, err := s.bench.OpenRecords(r.Context(), p.In)
	if err != nil {
		return s.again(w, err, "along", &p.Base, p)
	}
	var b bytes.Buffer
	if err := openrepair.Write(&b, records); err != nil {
		return s.again(w, refusal(err.Error(), "put that right, then try again"), "along", &p.Base, p)
	}
	return s.download(w, "open-repair-data.csv", "text/csv; charset=utf-8", b.Bytes())
}

// openDataTake takes open repair data over.
func (s *Server) openDataTake(w http.ResponseWriter, r *http.Request) error {
	p := s.alongPage(r)
	file, err := sentFile(r)
	if err == nil {
		p.Imported, err = s.bench.ImportOpenData(r.Context(), file, by(r))
	}
	if err != nil {
		return s.again(w, err, "along", &p.Base, p)
	}
	return s.render(w, http.StatusOK, "along", p)
}
