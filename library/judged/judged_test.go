package judged

import (
	"math"
	"strings"
	"testing"

	"fettler/library/records"
)

func TestRows(t *testing.T) {
	list, err := Rows()
	if err != nil {
		t.Fatal(err)
	}
	n := map[string]int{}
	seen := map[string]bool{}
	for _, r := range list {
		n[r.Category]++
		key := strings.ToLower(r.Category + "|" + r.Device + "|" + r.Symptoms)
		if seen[key] {
			t.Errorf("%s twice", key)
		}
		seen[key] = true
		if strings.TrimSpace(r.Device) == "" || strings.TrimSpace(r.Symptoms) == "" {
			t.Errorf("%+v: something is missing", r)
		}
		sum := 0.0
		for _, x := range r.Odds {
			sum += x
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: odds add up to %g", key, sum)
		}
	}
	for _, c := range records.Categories() {
		if n[c] < 20 {
			t.Errorf("%s has %d rows", c, n[c])
		}
	}
}

func TestReadRefuses(t *testing.T) {
	const head = "category,device,symptoms,odds\n"
	for _, tc := range []struct{ text, want string }{
		{"", "does not begin"},
		{head + "Kettle,kettle,dead", "odds.csv"},
		{head + "Kettles,kettle,dead,fuse:100", `no category is called "Kettles"`},
		{head + "Kettle,kettle,dead,fuses:100", "not a class"},
		{head + "Kettle,kettle,dead,fuse:a lot", "not a percentage"},
		{head + "Kettle,kettle,dead,fuse:NaN", "not a percentage"},
		{head + "Kettle,kettle,dead,fuse:50", "add up to 50"},
		{head + "Kettle,kettle,dead,fuse:50;fuse:50", "comes twice"},
	} {
		if _, err := read(tc.text); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%q: %v, want %q", tc.text, err, tc.want)
		}
	}
}
