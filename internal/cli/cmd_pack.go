package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/openrepair"
)

// packCmd writes the whole bench into one file.
type packCmd struct {
	File string `arg:""`
}

// packedUp is the file written.
type packedUp struct {
	Written string `json:"written"`
	Bytes   int    `json:"bytes"`
}

func (c *packCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	f, err := createFile(c.File, 0o600)
	if err != nil {
		return nil, err
	}
	err = b.Pack(ctx, f)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil && e != nil {
		err = &casework.Error{Code: casework.StoreFail, Text: "the file could not be written", Next: "see that there is room, then try again", Err: e}
	}
	if err != nil {
		os.Remove(c.File) // half of a pack is none
		return nil, err
	}
	a := &packedUp{Written: c.File}
	if info, err := os.Stat(c.File); err == nil {
		a.Bytes = int(info.Size())
	}
	return a, nil
}

func (a *packedUp) text(p *page) {
	p.line(fmt.Sprintf("written: %s, %d kB; names and telephone numbers of owners are in it", a.Written, (a.Bytes+999)/1000))
}

// unpackCmd takes a pack over.
type unpackCmd struct {
	File string `arg:""`
}

// unpacked is what was taken over.
type unpacked struct {
	casework.Unpacked
}

func (c *unpackCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	f, size, err := openFile(c.File, "name the file as it was packed")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	got, err := b.Unpack(ctx, f, size)
	if err != nil {
		return nil, err
	}
	return &unpacked{*got}, nil
}

func (a *unpacked) no() bool { return len(a.Refused) > 0 }

func (a *unpacked) text(p *page) {
	p.line(fmt.Sprintf("taken over: %s, %s; %s here already", plural(a.Cases, "case", "cases"), plural(a.Files, "file", "files"), plural(a.Same, "case was", "cases were")))
	if a.Settings {
		p.line("the settings of the bench were taken over too")
	}
	if len(a.Refused) > 0 {
		p.para("  left as they are, since they have gone another way here: ", strings.Join(a.Refused, ", "))
	}
}

// openDataCmd reads and writes open repair data.
type openDataCmd struct {
	Out      string `name:"out"`
	In       string `name:"in"`
	Provider string `name:"provider"`
	Country  string `name:"country"`
	Group    string `name:"group"`
}

// openDataDone is what was written and read.
type openDataDone struct {
	Written  string             `json:"written,omitempty"`
	Records  int                `json:"records"`
	Imported *casework.Imported `json:"imported"`
}

func (c *openDataCmd) run(ctx context.Context, s *session) (answer, error) {
	if (c.Out == "") == (c.In == "") {
		return nil, &usageError{text: "it is not said whether to write or to read", next: "say --out FILE to write closed cases, or --in FILE to take records over"}
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	a := &openDataDone{}
	if c.In != "" {
		f, _, err := openFile(c.In, "name a CSV file of open repair data")
		if err != nil {
			return nil, err
		}
		defer f.Close()
		a.Imported, err = b.ImportOpenData(ctx, f, s.by())
		return a, err
	}
	records, err := b.OpenRecords(ctx, casework.OpenData{Provider: c.Provider, Country: strings.ToUpper(c.Country), Group: c.Group})
	if err != nil {
		return nil, err
	}
	var w strings.Builder
	if err := openrepair.Write(&w, records); err != nil {
		return nil, &casework.Error{Code: casework.BadInput, Text: err.Error(), Next: "put that right, then try again", Err: err}
	}
	a.Written, a.Records = filepath.Clean(c.Out), len(records)
	return a, writeNew(c.Out, []byte(w.String()))
}

func (a *openDataDone) no() bool { return a.Imported != nil && len(a.Imported.Rejected) > 0 }

func (a *openDataDone) text(p *page) {
	if a.Written != "" {
		p.line(fmt.Sprintf("written: %s, %s", a.Written, plural(a.Records, "record", "records")))
	}
	if a.Imported == nil {
		return
	}
	p.line(fmt.Sprintf("taken over: %s; %d were here already", plural(a.Imported.Taken, "record", "records"), a.Imported.Known))
	for i, x := range a.Imported.Rejected {
		if i == 20 {
			p.line(fmt.Sprintf("  (and %d more rows left out)", len(a.Imported.Rejected)-i))
			break
		}
		p.para(fmt.Sprintf("  line %d left out: ", x.Line), x.Why)
	}
}
