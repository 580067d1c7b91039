package records_test

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/library/records"
)

var update = flag.Bool("update", false, "rewrite class-shares.csv")

func TestCommittedSharesAreTheFit(t *testing.T) {
	got, err := records.Refit()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("class-shares.csv", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("class-shares.csv")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("class-shares.csv is not what Fit makes; run go test -update (-committed +fit):\n%s", diff)
	}
}

func TestEveryCategoryHasSharesAndOutcome(t *testing.T) {
	categories := records.Categories()
	// 40 is the number of product categories in ORDS 0.3 as used by the source files.
	if len(categories) != 40 {
		t.Errorf("%d categories, want 40", len(categories))
	}
	for _, c := range categories {
		shares, ok := records.Shares(c)
		if !ok {
			t.Errorf("%s: no shares", c)
			continue
		}
		var names []string
		sum := 0.0
		for i, s := range shares {
			names = append(names, s.Class)
			sum += s.Share
			if s.Share <= 0 || s.N < 0 || i > 0 && s.Share > shares[i-1].Share {
				t.Errorf("%s: share %d is %+v after a smaller one, or not positive", c, i, s)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: shares sum to %v", c, sum)
		}
		want := records.Classes()
		slices.Sort(want)
		slices.Sort(names)
		if diff := cmp.Diff(want, names); diff != "" {
			t.Errorf("%s: classes (-want +got):\n%s", c, diff)
		}
		if o, ok := records.Outcome(c); !ok || o.N < 200 || math.Abs(o.Fixed+o.Repairable+o.EndOfLife-1) > 1e-9 {
			t.Errorf("%s: outcome %+v, %v", c, o, ok)
		}
	}
}

func TestOutcomeIsTheSourceRow(t *testing.T) {
	// Source: row "Kettle" of outcomes.csv, counted from Open Repair Data.
	want := records.Ending{N: 1913, Fixed: 925.0 / 1913, Repairable: 172.0 / 1913, EndOfLife: 816.0 / 1913,
		MedianAgeYears: 5, AgeKnown: 261, TopBarrier: "Item too worn out", TopBarrierN: 188}
	got, ok := records.Outcome("Kettle")
	if diff := cmp.Diff(want, got); !ok || diff != "" {
		t.Errorf("Outcome(Kettle), ok %v (-want +got):\n%s", ok, diff)
	}
}

func TestUnknownCategory(t *testing.T) {
	if s, ok := records.Shares("kettle"); ok || s != nil {
		t.Errorf("Shares(kettle) = %v, %v; names are exact", s, ok)
	}
	if o, ok := records.Outcome(""); ok || o != (records.Ending{}) {
		t.Errorf("Outcome(\"\") = %v, %v", o, ok)
	}
}

func TestCallersCannotSpoilTheTables(t *testing.T) {
	s, _ := records.Shares("Kettle")
	s[0] = records.Share{}
	records.Classes()[0] = ""
	records.Categories()[0] = ""
	if again, _ := records.Shares("Kettle"); again[0] == s[0] || records.Classes()[0] == "" || records.Categories()[0] == "" {
		t.Error("a returned slice is shared with the table")
	}
}

// TestCasesAreHeldOut keeps the cases on which appraisals are measured out of
// the labels from which their base rates are made.
func TestCasesAreHeldOut(t *testing.T) {
	labels, err := os.ReadFile("hand-labels.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range []string{"development", "heldback"} {
		text, err := os.ReadFile("../../internal/appraise/testdata/" + set + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var cases []struct{ ID, Category, Truth string }
		if err := json.Unmarshal(text, &cases); err != nil {
			t.Fatal(err)
		}
		if len(cases) < 100 {
			t.Errorf("only %d cases in %s", len(cases), set)
		}
		for _, c := range cases {
			if strings.Contains(string(labels), "\n"+c.ID+",") {
				t.Errorf("%s is a hand label and a case of %s", c.ID, set)
			}
			if !slices.Contains(records.Categories(), c.Category) || !slices.Contains(records.Classes(), c.Truth) {
				t.Errorf("%s: category %q or class %q is unknown", c.ID, c.Category, c.Truth)
			}
		}
	}
}

func TestFitByHand(t *testing.T) {
	// Worked by hand from the equations in Fit's comment; no outside source.
	for _, tc := range []struct {
		name   string
		labels []records.Label
		counts []records.Count
		want   float64 // share of "fuse" in "A"
	}{
		// o = 4.5/13.5, g = (4 + 30·o)/34, s = (4 + 12·g)/16
		{"labels only", repeat(4, records.Label{Category: "A", Class: "fuse", SymptomStated: true}), nil, (4 + 12*14.0/34) / 16},
		// the same four records' worth from eight labels without a symptom
		{"half weight", repeat(8, records.Label{Category: "A", Class: "fuse"}), nil, (4 + 12*14.0/34) / 16},
		// e = 0.2·10 = 2, o = 2.5/11.5, g = (2 + 30·o)/32, s = (2 + 12·g)/14
		{"counts only", nil, []records.Count{{Category: "A", Class: "fuse", N: 10}}, (2 + 12*(2+30*2.5/11.5)/32) / 14},
		// capped: e = 0.2·200 = 40, o = 40.5/49.5, g = (40 + 30·o)/70, s = (40 + 12·g)/52
		{"cap", nil, []records.Count{{Category: "A", Class: "fuse", N: 5000}}, (40 + 12*(40+30*40.5/49.5)/70) / 52},
		// nothing known: every class alike
		{"nothing", nil, nil, 1.0 / 19},
	} {
		t.Run(tc.name, func(t *testing.T) {
			rows, err := records.Fit(tc.labels, tc.counts, [][]string{{"A"}})
			if err != nil {
				t.Fatal(err)
			}
			if got := share(rows, "A", "fuse"); math.Abs(got-tc.want) > 1.01e-6 {
				t.Errorf("share %v, want %v", got, tc.want)
			}
		})
	}
}

func TestFitLeansOnLikeDevices(t *testing.T) {
	labels := repeat(30, records.Label{Category: "A", Class: "heating element", SymptomStated: true})
	labels = append(labels, repeat(30, records.Label{Category: "C", Class: "sensor", SymptomStated: true})...)
	rows, err := records.Fit(labels, nil, [][]string{{"A", "B"}, {"C", "D"}})
	if err != nil {
		t.Fatal(err)
	}
	if b, d := share(rows, "B", "heating element"), share(rows, "D", "heating element"); b < 2*d {
		t.Errorf("empty B has %v of its neighbour's class, D of the other group %v", b, d)
	}
}

func TestFitRefusesBadEvidence(t *testing.T) {
	one := [][]string{{"A"}}
	for name, tc := range map[string]struct {
		labels []records.Label
		counts []records.Count
		groups [][]string
		say    string
	}{
		"category": {labels: []records.Label{{Category: "B", Class: "fuse"}}, groups: one, say: `"B" is in no group`},
		"class":    {labels: []records.Label{{Category: "A", Class: "gremlin"}}, groups: one, say: `"gremlin" is not one of`},
		"negative": {counts: []records.Count{{Category: "A", Class: "fuse", N: -1}}, groups: one, say: "-1 is not between"},
		"NaN":      {counts: []records.Count{{Category: "A", Class: "fuse", N: math.NaN()}}, groups: one, say: "NaN is not between"},
		"twice":    {groups: [][]string{{"A"}, {"A"}}, say: "in two groups"},
	} {
		t.Run(name, func(t *testing.T) {
			rows, err := records.Fit(tc.labels, tc.counts, tc.groups)
			if err == nil || rows != nil || !strings.Contains(err.Error(), tc.say) {
				t.Errorf("rows %v, error %v; want an error with %q", rows, err, tc.say)
			}
		})
	}
}

func TestFitAlwaysSumsToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		category := rapid.SampledFrom([]string{"A", "B", "C"})
		class := rapid.SampledFrom(records.Classes())
		labels := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) records.Label {
			return records.Label{Category: category.Draw(t, "category"), Class: class.Draw(t, "class"), SymptomStated: rapid.Bool().Draw(t, "stated")}
		}), 0, 40).Draw(t, "labels")
		counts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) records.Count {
			return records.Count{Category: category.Draw(t, "category"), Class: class.Draw(t, "class"), N: rapid.Float64Range(0, 1e9).Draw(t, "n")}
		}), 0, 40).Draw(t, "counts")
		rows, err := records.Fit(labels, counts, [][]string{{"A", "B"}, {"C"}})
		if err != nil {
			t.Fatal(err)
		}
		sums := map[string]int{}
		for _, r := range rows {
			if r.Millionths < 1 || math.IsNaN(r.N) {
				t.Fatalf("row %+v", r)
			}
			sums[r.Category] += r.Millionths
		}
		if diff := cmp.Diff(map[string]int{"A": 1_000_000, "B": 1_000_000, "C": 1_000_000}, sums); diff != "" {
			t.Fatalf("sums (-want +got):\n%s", diff)
		}
	})
}

func share(rows []records.FitRow, category, class string) float64 {
	for _, r := range rows {
		if r.Category == category && r.Class == class {
			return float64(r.Millionths) / 1e6
		}
	}
	return math.NaN()
}

func repeat(n int, l records.Label) []records.Label { return slices.Repeat([]records.Label{l}, n) }
