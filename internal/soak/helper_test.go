package soak_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8g, want %.8g (±%g)", what, got, want, tol)
	}
}

func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func table(t *testing.T, file string) [][]float64 {
	t.Helper()
	f, err := os.Open("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out [][]float64
	for _, r := range rows[1:] {
		var nums []float64
		for _, s := range r {
			v := math.NaN() // an empty field
			if s != "" {
				if v, err = strconv.ParseFloat(s, 64); err != nil {
					t.Fatal(err)
				}
			}
			nums = append(nums, v)
		}
		out = append(out, nums)
	}
	return out
}
