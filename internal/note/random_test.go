package note_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/note"
)

// Notes made up at random, but right, load without a problem and give a sound model.
func TestRandomNotes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		blocks := rapid.IntRange(1, 4).Draw(t, "blocks")
		var files []string
		for b := range blocks {
			files = append(files, fmt.Sprintf("b%d.yaml", b), randomBlock(t, b))
		}
		files = append(files, "d.yaml", randomDevice(t, blocks))
		ctx := context.Background()
		lib, err := note.Load(ctx, layerOf(files...))
		if err != nil {
			t.Fatalf("%v\n%s", err, strings.Join(files, "\n"))
		}
		problems, err := lib.Check(ctx)
		if err != nil || len(problems.Errors()) > 0 {
			t.Fatalf("%v %v\n%s", err, problems.Errors(), strings.Join(files, "\n"))
		}
		m, err := lib.Model("d")
		if err != nil {
			t.Fatalf("%v", err)
		}
		sound(t, m)
	})
}

// randomBlock has a need, a chain of conditions that come from it or each
// other, parts that spoil them, and a finding of each sort.
func randomBlock(t *rapid.T, b int) string {
	var s strings.Builder
	fmt.Fprintf(&s, "block: b%d\ntitle: Block %d\nneeds: {in: {states: [good, low, absent]}}\ngives:\n", b, b)
	conds := rapid.IntRange(1, 4).Draw(t, "conditions")
	for c := range conds {
		from := "in"
		if c > 0 && rapid.Bool().Draw(t, "chained") {
			from = fmt.Sprintf("c%d", rapid.IntRange(0, c-1).Draw(t, "from"))
		}
		fmt.Fprintf(&s, "  c%d: {states: [good, low, absent], from: {%s: {%s}}, overload: [p0 m0, in]}\n", c, from,
			rapid.SampledFrom([]string{"", "low: low", "low or worse: absent", "absent: low"}).Draw(t, "map"))
	}
	s.WriteString("parts:\n")
	parts := rapid.IntRange(1, 3).Draw(t, "parts")
	for p := range parts {
		fmt.Fprintf(&s, "  p%d:\n    class: fuse\n    count: %d\n    modes:\n", p, rapid.IntRange(1, 9).Draw(t, "count"))
		for m := range rapid.IntRange(1, 3).Draw(t, "modes") {
			fmt.Fprintf(&s, "      m%d: {rate: %g, does: {c%d: %s}", m, rapid.Float64Range(0, 10).Draw(t, "rate"),
				rapid.IntRange(0, conds-1).Draw(t, "cond"), rapid.SampledFrom([]string{"low", "absent"}).Draw(t, "state"))
			if p > 0 && rapid.Bool().Draw(t, "brings") { // p0 m0 is what overloads bring; nothing brings anything earlier
				s.WriteString(", overloads: {in: often}, brings: {p0 m0: sometimes}")
			}
			s.WriteString("}\n")
		}
	}
	chance := func() string {
		return rapid.SampledFrom([]string{"always", "usually", "never", "12 %", "0.4"}).Draw(t, "chance")
	}
	fmt.Fprintf(&s, "symptoms:\n  s: {title: it shows, shows: {c0 is low or worse: often, p0 m0: %s}, leak: %s}\n", chance(), chance())
	fmt.Fprintf(&s, "checks:\n  k:\n    title: Look\n    with: [eyes]\n    takes: 1 min\n    at: open\n    finds:\n"+
		"      t: {of: p0, answers: [a, b, c], gives: {sound: {a: %s}, else: {b: %s}}}\n"+
		"      r: {of: c0, reads: {good: 5 V .. 6 V, else: under 1 V}}\n", chance(), chance())
	s.WriteString("repairs: {all: {title: Swap, clears: everything, takes: 5 min, at: open}}\n")
	return s.String()
}

// randomDevice wires each block to an earlier one and changes some.
func randomDevice(t *rapid.T, blocks int) string {
	var s strings.Builder
	s.WriteString("device: d\ntitle: D\ncategory: Misc\naccess: {open: {title: open, takes: 1 min}}\nblocks:\n")
	for u := range rapid.IntRange(1, 6).Draw(t, "units") {
		fmt.Fprintf(&s, "  u%d: {use: b%d", u, rapid.IntRange(0, blocks-1).Draw(t, "block"))
		if u > 0 && rapid.Bool().Draw(t, "wired") {
			fmt.Fprintf(&s, ", wire: {in: u%d.c0}", rapid.IntRange(0, u-1).Draw(t, "to"))
		}
		switch rapid.IntRange(0, 3).Draw(t, "change") {
		case 0:
			s.WriteString(", change: {parts: {p0: {modes: {m0: {factor: 3}}}}}")
		case 1:
			s.WriteString(", without: [checks.k.finds.r]")
		case 2:
			s.WriteString(", burden: 12 %")
		}
		s.WriteString("}\n")
	}
	s.WriteString("parts: {own: {class: fuse, modes: {gone: {rate: 1, overloads: {u0.c0: often}}}}}\nsymptoms: {x: {title: x, shows: {own gone: often}}}\n")
	return s.String()
}
