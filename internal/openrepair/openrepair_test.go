package openrepair_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/note"
	"fettler/internal/openrepair"
)

// schema is testdata/schema.json, written down from the standard's documentation.
type schema struct {
	Fields []struct {
		Name, Pattern string
		Enum          []string
		Unique        bool
	}
}

func readSchema(t testing.TB) schema {
	t.Helper()
	data, err := os.ReadFile("testdata/schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// validate checks a file against the schema, cell by cell.
func (s schema) validate(t interface{ Errorf(string, ...any) }, file []byte) {
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Errorf("no CSV: %v", err)
		return
	}
	seen := map[string]bool{}
	for i, f := range s.Fields {
		if i >= len(rows[0]) || rows[0][i] != f.Name {
			t.Errorf("column %d is not %s: %v", i+1, f.Name, rows[0])
			return
		}
		for n, row := range rows[1:] {
			v := row[i]
			if f.Pattern != "" && !regexp.MustCompile(f.Pattern).MatchString(v) || len(f.Enum) > 0 && !slices.Contains(f.Enum, v) {
				t.Errorf("row %d: %s cannot be %q", n+1, f.Name, v)
			}
			if f.Unique && seen[v] {
				t.Errorf("row %d: %s %q is there twice", n+1, f.Name, v)
			}
			seen[v] = seen[v] || f.Unique
		}
	}
}

// The codelists and the order of fields are those of the standard.
func TestCodelists(t *testing.T) {
	s := readSchema(t)
	var names []string
	for _, f := range s.Fields {
		names = append(names, f.Name)
		switch f.Name {
		case "product_category":
			if diff := cmp.Diff(f.Enum, openrepair.Categories()); diff != "" {
				t.Errorf("categories (-standard +here):\n%s", diff)
			}
			if diff := cmp.Diff(f.Enum, note.Categories()); diff != "" {
				t.Errorf("categories of the notes (-standard +here):\n%s", diff)
			}
		case "repair_barrier_if_end_of_life":
			if diff := cmp.Diff(f.Enum[1:], openrepair.Barriers()); diff != "" {
				t.Errorf("barriers (-standard +here):\n%s", diff)
			}
		}
	}
	if diff := cmp.Diff(names, openrepair.Fields()); diff != "" {
		t.Errorf("fields (-standard +here):\n%s", diff)
	}
	if got := (openrepair.Record{Category: "Kettle"}).CategoryID(); got != 14 { // ORDS v0.3, product category values
		t.Errorf("a kettle is number %d, want 14", got)
	}
}

func TestRead(t *testing.T) {
	f, err := os.Open("testdata/sample.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	got, rejects, err := openrepair.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	ten, four := 10.0, 4.5
	want := []openrepair.Record{
		{ID: "a-1", Provider: "Invented Hall", Country: "GBR", PartnerCategory: "Bread machine", Category: "Small kitchen item", Year: 2014, Age: &ten, Status: "Fixed", Group: "hall", Date: "2024-03-09", Problem: "paddle does not turn, belt off"},
		{ID: "a-2", Provider: "Invented Hall", Country: "GBR", Category: "Kettle", Status: "End of life", Barrier: "Item too worn out", Group: "hall", Date: "2024-03-09", Problem: "leaks\non two lines"},
		{ID: "a-3", Provider: "Invented Hall", Country: "GBR", Category: "Toaster", Brand: "Made Up", Age: &four, Status: "End of life", Barrier: "No way to open product", Group: "hall", Date: "2024-03-09"},
		{ID: "a-4", Provider: "Invented Hall", Country: "GBR", Category: "Toaster", Status: "Unknown", Group: "hall"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("read (-want +got):\n%s", diff)
	}
	var lines []int
	for _, r := range rejects {
		lines = append(lines, r.Line)
		if r.Why == "" {
			t.Errorf("line %d is left out without a reason", r.Line)
		}
	}
	if diff := cmp.Diff([]int{7, 8, 9, 10, 11}, lines); diff != "" {
		t.Errorf("lines left out (-want +got):\n%s", diff)
	}
}

// What other programs write beside the standard's own form is read: a barrier with what was
// not given up means nothing there, and a date may have a time of day after it.
func TestReadLooselyWritten(t *testing.T) {
	for name, c := range map[string]struct{ status, barrier, date, wantBarrier, wantDate string }{
		"fixed, with a barrier":      {"Fixed", "Lack of equipment", "2024-03-09", "", "2024-03-09"},
		"repairable, with a barrier": {"Repairable", "Lack of equipment", "", "", ""},
		"end of life, with one":      {"End of life", "Item too worn out", "", "Item too worn out", ""},
		"a time after a blank":       {"Fixed", "", "2024-03-09 19:30:00", "", "2024-03-09"},
		"a time after a T":           {"Fixed", "", "2024-03-09T19:30:00Z", "", "2024-03-09"},
	} {
		file := "id,product_category,repair_status,repair_barrier_if_end_of_life,event_date\n1,Kettle," + c.status + "," + c.barrier + "," + c.date + "\n"
		got, rejects, err := openrepair.Read(strings.NewReader(file))
		if err != nil || len(got) != 1 || got[0].Barrier != c.wantBarrier || got[0].Date != c.wantDate {
			t.Errorf("%s: %+v, %v, %v", name, got, rejects, err)
		}
	}
}

func record() *rapid.Generator[openrepair.Record] {
	text := rapid.StringMatching(`[A-Za-zäß",;.\n '=+@\t0-9-]{0,30}`)
	return rapid.Custom(func(t *rapid.T) openrepair.Record {
		r := openrepair.Record{
			ID: rapid.StringMatching(`[a-z]{1,8}-[0-9]{1,6}`).Draw(t, "id"), Provider: strings.TrimSpace(text.Draw(t, "provider")),
			Country: rapid.SampledFrom([]string{"", "GBR", "DEU"}).Draw(t, "country"), Category: rapid.SampledFrom(openrepair.Categories()).Draw(t, "category"),
			Status: rapid.SampledFrom(openrepair.Statuses()).Draw(t, "status"), Problem: strings.TrimSpace(text.Draw(t, "problem")),
			Date: rapid.SampledFrom([]string{"", "2024-02-29", "1999-12-31"}).Draw(t, "date"), Year: rapid.SampledFrom([]int{0, 1987, 2020}).Draw(t, "year"),
		}
		if rapid.Bool().Draw(t, "aged") {
			age := float64(rapid.IntRange(0, 200).Draw(t, "age")) / 2
			r.Age = &age
		}
		if r.Status == openrepair.EndOfLife {
			r.Barrier = rapid.SampledFrom(append(openrepair.Barriers(), "")).Draw(t, "barrier")
		}
		return r
	})
}

// What is written is valid by the schema and read back as it was.
func TestRoundTrip(t *testing.T) {
	s := readSchema(t)
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfNDistinct(record(), 0, 8, func(r openrepair.Record) string { return r.ID }).Draw(t, "records")
		var w bytes.Buffer
		if err := openrepair.Write(&w, in); err != nil {
			t.Fatal(err)
		}
		s.validate(t, w.Bytes())
		out, rejects, err := openrepair.Read(&w)
		if err != nil || len(rejects) > 0 {
			t.Fatalf("%v, left out %v", err, rejects)
		}
		if diff := cmp.Diff(in, out); diff != "" && len(in) > 0 {
			t.Fatalf("read back (-in +out):\n%s", diff)
		}
	})
}

// A file that was cut off is refused, or, where the cut cannot be seen (between two
// rows, or in the text that is the last field), gives whole rows and a shorter text.
func TestCutOff(t *testing.T) {
	var w bytes.Buffer
	want := []openrepair.Record{
		{ID: "1", Category: "Kettle", Status: openrepair.Fixed, Problem: "leaks, a \"lot\""},
		{ID: "2", Category: "Lamp", Status: openrepair.EndOfLife, Barrier: "No way to open product", Date: "2024-03-09", Problem: "dark"},
	}
	if err := openrepair.Write(&w, want); err != nil {
		t.Fatal(err)
	}
	file := w.String()
	head := strings.Index(file, "\n") + 1
	for cut := head; cut < len(file); cut++ {
		got, rejects, err := openrepair.Read(strings.NewReader(file[:cut]))
		if err != nil {
			if got != nil || !strings.Contains(err.Error(), "whole") {
				t.Errorf("cut at %d: %v with %d records", cut, err, len(got))
			}
			continue
		}
		for i, r := range got {
			if !strings.HasPrefix(want[i].Problem, r.Problem) {
				t.Errorf("cut at %d: record %d says %q", cut, i, r.Problem)
			}
			r.Problem = want[i].Problem
			if diff := cmp.Diff(want[i], r); diff != "" || len(rejects) > 0 {
				t.Errorf("cut at %d (-want +got):\n%s%v", cut, diff, rejects)
			}
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	good := openrepair.Record{ID: "a-1", Category: "Kettle", Status: openrepair.Fixed}
	change := func(f func(*openrepair.Record)) []openrepair.Record {
		r := good
		f(&r)
		return []openrepair.Record{r}
	}
	bad := -1.0
	for name, records := range map[string][]openrepair.Record{
		"no id": change(func(r *openrepair.Record) { r.ID = " " }), "twice": {good, good}, "category": change(func(r *openrepair.Record) { r.Category = "Spoon" }),
		"country": change(func(r *openrepair.Record) { r.Country = "UK" }), "age": change(func(r *openrepair.Record) { r.Age = &bad }),
		"barrier": change(func(r *openrepair.Record) { r.Barrier = "Lack of equipment" }), "date": change(func(r *openrepair.Record) { r.Date = "9.3.2024" }),
		"year": change(func(r *openrepair.Record) { r.Year = 14 }), "long": change(func(r *openrepair.Record) { r.Problem = strings.Repeat("x", 30_000) }),
	} {
		if err := openrepair.Write(&bytes.Buffer{}, records); err == nil {
			t.Errorf("%s is written", name)
		}
	}
	for name, file := range map[string]string{"empty": "", "another table": "name,price\nx,1\n", "no category": "id,repair_status\n1,Fixed\n"} {
		if _, _, err := openrepair.Read(strings.NewReader(file)); err == nil {
			t.Errorf("%s is read", name)
		}
	}
}

// Whatever is read can be written again.
func FuzzRead(f *testing.F) {
	sample, err := os.ReadFile("testdata/sample.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sample)
	f.Add([]byte("id,repair_status,product_category\n\"a,Fixed,Kettle\n1,2,Kettle"))
	s := readSchema(f)
	f.Fuzz(func(t *testing.T, file []byte) {
		records, _, err := openrepair.Read(bytes.NewReader(file))
		if err != nil {
			return
		}
		for i := range records {
			records[i].ID = strconv.Itoa(i) // ids are unique with the provider only
		}
		var w bytes.Buffer
		if err := openrepair.Write(&w, records); err != nil {
			t.Fatalf("read and not writable: %v", err)
		}
		s.validate(t, w.Bytes())
	})
}

// What a spreadsheet would run as a formula is written as text, and comes back as it was.
func TestNoFormulas(t *testing.T) {
	in := []openrepair.Record{
		{ID: "=1+1", Provider: "@SUM(A1)", PartnerCategory: "+tuner", Category: "Kettle", Brand: "-x", Status: openrepair.Fixed, Group: "=A1", Problem: `=HYPERLINK("http://invalid","look")`},
		{ID: "2", Category: "Kettle", Status: openrepair.Fixed, Problem: "-12 V rail dead"},
		{ID: "3", Category: "Kettle", Status: openrepair.Fixed, Problem: "'=already'"},
	}
	var w bytes.Buffer
	if err := openrepair.Write(&w, in); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(w.Bytes())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for i, v := range row {
			if v != "" && strings.ContainsAny(v[:1], "=+-@\t\r\n") {
				t.Errorf("%s is written as %q", rows[0][i], v)
			}
		}
	}
	out, rejects, err := openrepair.Read(&w)
	if diff := cmp.Diff(in, out); diff != "" || len(rejects) > 0 || err != nil {
		t.Errorf("read back (-in +out):\n%s%v, %v", diff, rejects, err)
	}
}
