package openrepair

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"fettler/internal/cell"
)

// fields in the order of the aggregate releases.
var fields = []string{"id", "data_provider", "country", "partner_product_category", "product_category", "product_category_id", "brand",
	"year_of_manufacture", "product_age", "repair_status", "repair_barrier_if_end_of_life", "group_identifier", "event_date", "problem"}

// Other names under which releases and drafts have a field.
var fieldNames = map[string]string{"product_age_estimate": "product_age", "repair_barrier": "repair_barrier_if_end_of_life"}

// Write writes records as CSV, texts guarded against spreadsheets (package cell). It stops at the first that does not fit the standard.
func Write(w io.Writer, records []Record) error {
	out := csv.NewWriter(w)
	if err := out.Write(fields); err != nil {
		return fmt.Errorf("open repair data: %w", err)
	}
	ids := map[string]bool{}
	for _, r := range records {
		if err := r.Check(); err != nil {
			return fmt.Errorf("open repair data: record %q: %w", clip(r.ID), err)
		}
		if ids[r.ID] {
			return fmt.Errorf("open repair data: the id %q is there twice: give each record one of its own", clip(r.ID))
		}
		ids[r.ID] = true
		year, age := "", ""
		if r.Year != 0 {
			year = strconv.Itoa(r.Year)
		}
		if r.Age != nil {
			age = strconv.FormatFloat(*r.Age, 'f', -1, 64)
		}
		row := []string{cell.Guard(r.ID), cell.Guard(r.Provider), r.Country, cell.Guard(r.PartnerCategory), r.Category, strconv.Itoa(r.CategoryID()), cell.Guard(r.Brand), year, age,
			string(r.Status), r.Barrier, cell.Guard(r.Group), r.Date, cell.Guard(r.Problem)}
		if err := out.Write(row); err != nil {
			return fmt.Errorf("open repair data: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("open repair data: %w", err)
	}
	return nil
}

// A Reject is a row that was left out, and why.
type Reject struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// errCut is of a file of which the end is missing.
var errCut = errors.New("open repair data: the file ends in the middle of a row; it did not arrive whole, get it once more")

// Read reads records from CSV; rows that make no sense are left out and returned.
// The error is of what is no such file at all, or not whole.
func Read(r io.Reader) ([]Record, []Reject, error) {
	in := csv.NewReader(r)
	in.FieldsPerRecord = -1
	in.ReuseRecord = true
	head, err := in.Read()
	if err != nil {
		return nil, nil, fmt.Errorf("open repair data: no head row of field names can be read; give a CSV file of the standard: %w", err)
	}
	at, err := columns(head)
	if err != nil {
		return nil, nil, err
	}
	wide, cut := len(head), false
	var out []Record
	var rejects []Reject
	seen := map[string]bool{}
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			if cut {
				return nil, nil, errCut
			}
			return out, rejects, nil
		}
		cut = false
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			cut = errors.Is(bad.Err, csv.ErrQuote) // if nothing comes after it
			rejects = append(rejects, Reject{bad.StartLine, "quotes that do not close or stand in the middle of a field"})
			continue
		}
		if err != nil {
			return nil, nil, fmt.Errorf("open repair data: the file cannot be read: %w", err)
		}
		line, _ := in.FieldPos(0)
		if len(row) < wide {
			cut = true // if nothing comes after it
			rejects = append(rejects, Reject{line, fmt.Sprintf("it has %d fields, the head row %d", len(row), wide)})
			continue
		}
		rec, err := at.record(row)
		if err == nil && seen[rec.Provider+"\x00"+rec.ID] {
			err = fmt.Errorf("the id %q was there before", clip(rec.ID))
		}
		if err != nil {
			rejects = append(rejects, Reject{line, err.Error()})
			continue
		}
		seen[rec.Provider+"\x00"+rec.ID] = true
		out = append(out, rec)
	}
}

// layout is where each field stands in a row.
type layout map[string]int

func columns(head []string) (layout, error) {
	at := layout{}
	for i, name := range head {
		name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\uFEFF")))
		if real := fieldNames[name]; real != "" {
			name = real
		}
		if _, twice := at[name]; !twice {
			at[name] = i
		}
	}
	for _, must := range []string{"id", "repair_status"} {
		if _, ok := at[must]; !ok {
			return nil, fmt.Errorf("open repair data: there is no column %q; the first row must hold the field names of the standard", must)
		}
	}
	if _, ok := at["product_category"]; !ok {
		if _, ok := at["product_category_id"]; !ok {
			return nil, errors.New("open repair data: there is no column \"product_category\"; the first row must hold the field names of the standard")
		}
	}
	return at, nil
}

func (at layout) record(row []string) (Record, error) {
	get := func(name string) string {
		if i, ok := at[name]; ok && i < len(row) {
			return cell.Plain(strings.TrimSpace(strings.ToValidUTF8(row[i], "\uFFFD")))
		}
		return ""
	}
	r := Record{ID: get("id"), Provider: get("data_provider"), Country: strings.ToUpper(get("country")), PartnerCategory: get("partner_product_category"), Brand: get("brand"),
		Group: get("group_identifier"), Date: get("event_date"), Problem: get("problem")}
	if strings.EqualFold(r.Brand, "unknown") {
		r.Brand = ""
	}
	var err error
	if r.Category, err = readCategory(get("product_category"), get("product_category_id")); err != nil {
		return r, err
	}
	if r.Status, err = readStatus(get("repair_status")); err != nil {
		return r, err
	}
	if r.Barrier, err = readBarrier(get("repair_barrier_if_end_of_life")); err != nil {
		return r, err
	}
	if r.Status != EndOfLife {
		r.Barrier = "" // means nothing there
	}
	if y := get("year_of_manufacture"); y != "" && y != "0" && y != "0000" {
		if r.Year, err = strconv.Atoi(y); err != nil {
			return r, fmt.Errorf("%q is no year", clip(y))
		}
	}
	if a := get("product_age"); a != "" {
		age, err := strconv.ParseFloat(a, 64)
		if err != nil || math.IsNaN(age) || math.IsInf(age, 0) {
			return r, fmt.Errorf("%q is no age", clip(a))
		}
		r.Age = &age
	}
	if len(r.Date) > 10 && (r.Date[10] == ' ' || r.Date[10] == 'T') {
		r.Date = r.Date[:10] // with a time of day
	}
	return r, r.Check()
}

func readCategory(text, id string) (string, error) {
	for _, c := range categories {
		if strings.EqualFold(c, text) {
			return c, nil
		}
	}
	if n, err := strconv.Atoi(id); err == nil && n >= 1 && n <= len(categories) && text == "" {
		return categories[n-1], nil
	}
	return "", fmt.Errorf("%q is no product category of the standard", clip(text))
}

func readStatus(text string) (Status, error) {
	if text == "" {
		return Unknown, nil
	}
	for code, s := range statuses {
		if strings.EqualFold(string(s), text) || text == strconv.Itoa(code) {
			return s, nil
		}
	}
	return "", fmt.Errorf("%q is no repair status", clip(text))
}

func readBarrier(text string) (string, error) {
	if text == "" || text == "0" {
		return "", nil
	}
	for i, b := range barriers {
		if strings.EqualFold(b, text) || text == strconv.Itoa(i+1) {
			return b, nil
		}
	}
	if b := barrierSpellings[strings.ToLower(text)]; b != "" {
		return b, nil
	}
	return "", fmt.Errorf("%q is no repair barrier", clip(text))
}
