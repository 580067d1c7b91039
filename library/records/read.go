package records

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// sheet is a CSV file with a heading line, read by column name.
type sheet struct {
	name string
	head map[string]int
	rows [][]string
}

func readSheet(name, text string, columns ...string) (*sheet, error) {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s is empty: it needs a heading line", name)
	}
	s := &sheet{name: name, head: map[string]int{}, rows: all[1:]}
	for i, c := range all[0] {
		s.head[c] = i
	}
	for _, c := range columns {
		if _, ok := s.head[c]; !ok {
			return nil, fmt.Errorf("%s has no column %q", name, c)
		}
	}
	return s, nil
}

func (s *sheet) text(row int, column string) string { return s.rows[row][s.head[column]] }

// number reads a finite, non-negative cell.
func (s *sheet) number(row int, column string) (float64, error) {
	x, err := strconv.ParseFloat(s.text(row, column), 64)
	if err != nil || math.IsInf(x, 0) || !(x >= 0) {
		return 0, fmt.Errorf("%s, line %d: %s %q is not a number of zero or more", s.name, row+2, column, s.text(row, column))
	}
	return x, nil
}

// numbers reads several cells of one row into their places.
func (s *sheet) numbers(row int, into map[string]*float64) error {
	for column, p := range into {
		x, err := s.number(row, column)
		if err != nil {
			return err
		}
		*p = x
	}
	return nil
}

func readShares(text string) (map[string][]Share, error) {
	s, err := readSheet("class-shares.csv", text, "category", "class", "share", "n")
	if err != nil {
		return nil, err
	}
	out := map[string][]Share{}
	for i := range s.rows {
		e := Share{Class: s.text(i, "class")}
		if err := s.numbers(i, map[string]*float64{"share": &e.Share, "n": &e.N}); err != nil {
			return nil, err
		}
		c := s.text(i, "category")
		out[c] = append(out[c], e)
	}
	return out, nil
}

func readOutcomes(text string) (map[string]Ending, error) {
	s, err := readSheet("outcomes.csv", text, "category", "n", "fixed", "repairable", "end_of_life",
		"median_age_years", "n_age_known", "top_barrier", "top_barrier_n")
	if err != nil {
		return nil, err
	}
	out := map[string]Ending{}
	for i := range s.rows {
		e := Ending{TopBarrier: s.text(i, "top_barrier")}
		var n, fixed, repairable, endOfLife, known, barrier float64
		if err := s.numbers(i, map[string]*float64{
			"n": &n, "fixed": &fixed, "repairable": &repairable, "end_of_life": &endOfLife,
			"median_age_years": &e.MedianAgeYears, "n_age_known": &known, "top_barrier_n": &barrier,
		}); err != nil {
			return nil, err
		}
		if n == 0 {
			return nil, fmt.Errorf("outcomes.csv, line %d: n is 0, so there are no shares", i+2)
		}
		e.N, e.AgeKnown, e.TopBarrierN = int(n), int(known), int(barrier)
		e.Fixed, e.Repairable, e.EndOfLife = fixed/n, repairable/n, endOfLife/n
		out[s.text(i, "category")] = e
	}
	return out, nil
}
