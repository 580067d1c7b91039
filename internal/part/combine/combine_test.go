package combine_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"testing"

	"fettler/internal/part/combine"
	"fettler/internal/part/eseries"

	"pgregory.net/rapid"
)

func ExampleFind() {
	stock := []combine.Stock{
		{Value: 10e3, Tolerance: 0.05, Rating: 0.25, Count: 4},
		{Value: 22e3, Tolerance: 0.05, Rating: 0.25, Count: 2},
		{Value: 1e3, Tolerance: 0.05, Rating: 0.25, Count: 2},
	}
	best, err := combine.Find(context.Background(), stock, combine.Goal{Value: 12e3, Best: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, n := range best {
		fmt.Println(n)
	}
	// Output:
	// (22 kΩ ∥ 22 kΩ) + 1 kΩ = 12 kΩ (+0 %)
	// 1 kΩ + 1 kΩ + 10 kΩ = 12 kΩ (+0 %)
}

// net is a network of the brute force, with its own evaluation.
type net struct {
	value float64
	text  string // canonical
	used  []int
	op    byte
	parts []string // of the chain
}

// brute lists every series-parallel network by splitting every multiset of parts in
// two, in every way.
func brute(values []float64, counts []int, capacitors bool, maxParts int) []net {
	memo := map[string][]net{}
	var all func(used []int) []net
	all = func(used []int) []net {
		key := fmt.Sprint(used)
		if got, ok := memo[key]; ok {
			return got
		}
		total := 0
		for _, u := range used {
			total += u
		}
		var out []net
		if total == 1 {
			i := slices.Index(used, 1)
			out = []net{{value: values[i], text: fmt.Sprintf("%06d", i), used: used}}
		} else {
			seen := map[string]bool{}
			for _, sub := range subs(used) {
				rest := make([]int, len(used))
				for i := range used {
					rest[i] = used[i] - sub[i]
				}
				for _, a := range all(sub) {
					for _, b := range all(rest) {
						for _, op := range []byte{'+', '|'} {
							n := merge(a, b, op, capacitors, used)
							if !seen[n.text] {
								seen[n.text] = true
								out = append(out, n)
							}
						}
					}
				}
			}
		}
		memo[key] = out
		return out
	}
	var out []net
	var pick func(i int, used []int, left int)
	pick = func(i int, used []int, left int) {
		if i == len(values) {
			if left < maxParts {
				out = append(out, all(slices.Clone(used))...)
			}
			return
		}
		for k := 0; k <= min(left, counts[i]); k++ {
			used[i] = k
			pick(i+1, used, left-k)
		}
		used[i] = 0
	}
	pick(0, make([]int, len(values)), maxParts)
	return out
}

func subs(used []int) [][]int {
	out := [][]int{{}}
	for _, u := range used {
		var next [][]int
		for _, s := range out {
			for k := 0; k <= u; k++ {
				next = append(next, append(slices.Clone(s), k))
			}
		}
		out = next
	}
	return slices.DeleteFunc(out, func(s []int) bool {
		sum, total := 0, 0
		for i := range s {
			sum, total = sum+s[i], total+used[i]
		}
		return sum == 0 || sum == total
	})
}

func merge(a, b net, op byte, capacitors bool, used []int) net {
	v := a.value + b.value
	if (op == '|') != capacitors {
		v = a.value * b.value / (a.value + b.value)
	}
	var parts []string
	for _, n := range []net{a, b} {
		switch {
		case n.op == op:
			parts = append(parts, n.parts...)
		case n.op == 0:
			parts = append(parts, n.text)
		default:
			parts = append(parts, "("+n.text+")")
		}
	}
	sort.Strings(parts)
	return net{value: v, text: strings.Join(parts, string(op)), used: used, op: op, parts: parts}
}

// Find agrees with brute force: the same errors, part counts and networks.
func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 5).Draw(t, "different values")
		e := combine.Element(rapid.IntRange(0, 2).Draw(t, "element"))
		parts := rapid.IntRange(1, 4).Draw(t, "parts")
		goal := combine.Goal{Element: e, MaxParts: parts, Best: rapid.IntRange(1, 12).Draw(t, "best"), Close: rapid.SampledFrom([]float64{0, 0.01, 0.1}).Draw(t, "close")}
		e24 := eseries.E24.Values()
		var stock []combine.Stock
		var values []float64
		var counts []int
		for range k {
			v := float64(rapid.SampledFrom(e24).Draw(t, "value")) * math.Pow10(rapid.IntRange(0, 2).Draw(t, "decade"))
			if slices.Contains(values, v) {
				continue
			}
			n := rapid.IntRange(1, 4).Draw(t, "count")
			values, counts = append(values, v), append(counts, n)
			stock = append(stock, combine.Stock{Value: v, Count: n})
		}
		goal.Value = math.Exp(rapid.Float64Range(1, 10).Draw(t, "ln goal"))
		if rapid.Bool().Draw(t, "goal in stock") {
			goal.Value = values[0]
		}
		got, err := combine.Find(context.Background(), stock, goal)
		if err != nil {
			t.Fatal(err)
		}
		type ranked struct {
			step, err float64
			parts     int
		}
		rank := func(v float64, n int) ranked {
			miss := math.Abs(v/goal.Value - 1)
			step := math.Round(miss * 1e9)
			if goal.Close > 0 {
				step = math.Floor(miss/goal.Close + 1e-9)
			}
			return ranked{step, math.Round(miss * 1e9), n}
		}
		var want []ranked
		for _, n := range brute(values, counts, e == combine.Capacitors, parts) {
			total := 0
			for _, u := range n.used {
				total += u
			}
			want = append(want, rank(n.value, total))
		}
		sort.Slice(want, func(i, j int) bool {
			a, b := want[i], want[j]
			if a.step != b.step {
				return a.step < b.step
			}
			if a.parts != b.parts {
				return a.parts < b.parts
			}
			return a.err < b.err
		})
		if len(got) != min(goal.Best, len(want)) {
			t.Fatalf("%d answers, want %d of %d", len(got), goal.Best, len(want))
		}
		for i, n := range got {
			r := rank(n.Value, len(n.Parts))
			if math.Abs(r.step-want[i].step) > 1 || goal.Close > 0 && r.step != want[i].step || r.step == want[i].step && r.parts != want[i].parts || math.Abs(r.err-want[i].err) > 1 {
				t.Fatalf("place %d: %s %+v, want %+v", i, n, r, want[i])
			}
		}
		seen := map[string]bool{}
		for _, n := range got {
			if seen[n.Text] {
				t.Fatalf("%s twice", n.Text)
			}
			seen[n.Text] = true
		}
	})
}

func find(t *testing.T, e combine.Element, want float64, rating float64, stock ...combine.Stock) combine.Network {
	t.Helper()
	got, err := combine.Find(context.Background(), stock, combine.Goal{Element: e, Value: want, Rating: rating, Best: 1})
	if err != nil {
		t.Fatal(err)
	}
	return got[0]
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// Shares by the laws of Kirchhoff and Ohm, worked by hand.
func TestShares(t *testing.T) {
	// 100 Ω and 300 Ω in series, both 1 W: the larger takes three quarters, so 1.333 W in all.
	n := find(t, combine.Resistors, 400, 0, combine.Stock{Value: 100, Rating: 1, Count: 1}, combine.Stock{Value: 300, Rating: 1, Count: 1})
	if !near(n.Rating, 4.0/3) || !near(n.Value, 400) {
		t.Errorf("series resistors: %+v", n)
	}
	// In parallel the smaller takes three quarters.
	n = find(t, combine.Resistors, 75, 0, combine.Stock{Value: 100, Rating: 1, Count: 1}, combine.Stock{Value: 300, Rating: 1, Count: 1})
	if !near(n.Rating, 4.0/3) || !near(n.Parts[0].Share+n.Parts[1].Share, 1) {
		t.Errorf("parallel resistors: %+v", n)
	}
	// 10 µF and 30 µF in series: the smaller takes three quarters of the voltage.
	n = find(t, combine.Capacitors, 7.5e-6, 0, combine.Stock{Value: 10e-6, Rating: 100, Count: 1}, combine.Stock{Value: 30e-6, Rating: 100, Count: 1})
	if !near(n.Rating, 400.0/3) || len(n.Notes) < 2 {
		t.Errorf("series capacitors: %+v", n)
	}
	// Two equal ones of ±20 %: one low, one high share 1.2 : 0.8, so 0.6 of the voltage on the low one.
	n = find(t, combine.Capacitors, 5e-6, 0, combine.Stock{Value: 10e-6, Rating: 100, Tolerance: 0.2, Count: 2})
	if !near(n.Rating, 100/0.6) || !near(n.Parts[0].Worst, 0.6) || !near(n.Parts[0].Share, 0.5) {
		t.Errorf("series capacitors with tolerance: %+v", n)
	}
	// In parallel the lowest voltage rating counts.
	n = find(t, combine.Capacitors, 40e-6, 0, combine.Stock{Value: 10e-6, Rating: 50, Count: 1}, combine.Stock{Value: 30e-6, Rating: 100, Count: 1})
	if !near(n.Rating, 50) {
		t.Errorf("parallel capacitors: %+v", n)
	}
	// 10 µH and 30 µH in parallel: the smaller takes three quarters of the current.
	n = find(t, combine.Inductors, 7.5e-6, 0, combine.Stock{Value: 10e-6, Rating: 3, Count: 1}, combine.Stock{Value: 30e-6, Rating: 3, Count: 1})
	if !near(n.Rating, 4) {
		t.Errorf("parallel inductors: %+v", n)
	}
}

// Equal parts of the same tolerance: worst case stays, rms falls by √n.
func TestTolerances(t *testing.T) {
	n := find(t, combine.Resistors, 200, 0, combine.Stock{Value: 100, Tolerance: 0.05, Count: 2})
	if !near(n.Low, 190) || !near(n.High, 210) || !near(n.RMS, 0.05/math.Sqrt2) {
		t.Errorf("%+v", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		// The energy share is the logarithmic sensitivity: compare with a finite difference.
		e := combine.Element(rapid.IntRange(0, 2).Draw(t, "element"))
		var stock []combine.Stock
		for range 3 {
			stock = append(stock, combine.Stock{Value: rapid.Float64Range(1, 100).Draw(t, "value"), Count: 1, Tolerance: 0.1})
		}
		goal := combine.Goal{Element: e, Value: rapid.Float64Range(1, 100).Draw(t, "goal"), Best: 1}
		got, err := combine.Find(context.Background(), stock, goal)
		if err != nil {
			t.Fatal(err)
		}
		n, sum := got[0], 0.0
		for _, p := range n.Parts {
			sum += p.Energy
		}
		if !near(sum, 1) || n.Low > n.Value || n.High < n.Value || n.RMS > 0.1+1e-12 || !near(n.Low, n.Value*0.9) || !near(n.High, n.Value*1.1) {
			t.Fatalf("%+v", n)
		}
	})
}

func TestRatingIsKept(t *testing.T) {
	stock := []combine.Stock{{Value: 100, Rating: 0.25, Count: 9}, {Value: 220, Rating: 0.25, Count: 9}, {Value: 390, Rating: 1, Count: 1}}
	got, err := combine.Find(context.Background(), stock, combine.Goal{Value: 100, Rating: 0.7})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range got {
		if n.Rating < 0.7 {
			t.Errorf("%s carries only %v W", n, n.Rating)
		}
	}
	if _, err := combine.Find(context.Background(), stock, combine.Goal{Value: 100, Rating: 50}); err == nil {
		t.Error("50 W from quarter-watt parts")
	}
}

func TestRefuses(t *testing.T) {
	ok := []combine.Stock{{Value: 100, Count: 1}}
	for _, g := range []combine.Goal{{Value: 0}, {Value: math.NaN()}, {Value: 1, Rating: -1}, {Value: 1, MaxParts: 5}, {Value: 1, Best: 1000}, {Value: 1, Close: 2}, {Value: 1, Element: 7}} {
		if got, err := combine.Find(context.Background(), ok, g); err == nil {
			t.Errorf("%+v: %v", g, got)
		}
	}
	for _, s := range [][]combine.Stock{nil, {{Value: 0, Count: 1}}, {{Value: math.NaN(), Count: 1}}, {{Value: 1, Tolerance: 1, Count: 1}}, {{Value: 1, Count: 0}}} {
		if got, err := combine.Find(context.Background(), s, combine.Goal{Value: 1}); err == nil {
			t.Errorf("%+v: %v", s, got)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := combine.Find(ctx, ok, combine.Goal{Value: 50, MaxParts: 2}); err == nil {
		t.Error("went on after the context ended")
	}
}

// All of E24 over seven decades, three parts.
func BenchmarkFindE24Drawer(b *testing.B) {
	var stock []combine.Stock
	for d := range 7 {
		for _, m := range eseries.E24.Values() {
			stock = append(stock, combine.Stock{Value: float64(m) * math.Pow10(d-1), Tolerance: 0.01, Rating: 0.25, Count: 10})
		}
	}
	for b.Loop() {
		if _, err := combine.Find(context.Background(), stock, combine.Goal{Value: 12345, Rating: 0.3}); err != nil {
			b.Fatal(err)
		}
	}
}
