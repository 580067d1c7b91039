package heat

import (
	"fmt"
	"strings"
)

// An AlloyGuess says which solder a board probably carries and why.
type AlloyGuess struct {
	Alloy    string  // name in the table of [Alloys]
	LeadFree float64 // chance that the joints are lead-free, 0…1; a judgement, not a statistic
	Why      []string
	Mark     Mark
}

// assemblyCodes are the letters printed on lead-free boards for the second-level
// interconnect (J-STD-609; from memory).
var assemblyCodes = map[string]struct {
	alloy, text string
	leadFree    float64
}{
	"e0": {"Sn63Pb37", "code e0: contains lead on purpose", 0.02},
	"e1": {"Sn96.5Ag3Cu0.5", "code e1: tin-silver-copper", 0.98},
	"e2": {"Sn99.3Cu0.7", "code e2: tin alloy without bismuth or zinc, for example tin-copper", 0.98},
	"e3": {"Sn96.5Ag3Cu0.5", "code e3: tin finish; the joint alloy itself is not named", 0.95},
	"e4": {"Sn96.5Ag3Cu0.5", "code e4: precious metal finish; the joint alloy itself is not named", 0.95},
	"e5": {"Sn96.5Ag3Cu0.5", "code e5: tin-zinc, melts near 199 °C; reckoned here as tin-silver-copper, the harder case", 0.98},
	"e6": {"Bi58Sn42", "code e6: contains bismuth: melts low, and must not meet leaded solder", 0.98},
	"e7": {"Bi58Sn42", "code e7: low-temperature, 150 °C or less, with indium", 0.98},
}

// GuessAlloy judges by the year of manufacture (0: unknown) and by what is printed
// on board or label. The European ban took effect on 1 July 2006; exempt equipment
// and repairs with leaded wire came later. With little to go on it says so and
// assumes lead-free, which asks for more heat.
func GuessAlloy(year int, marks ...string) (AlloyGuess, error) {
	if year != 0 && (year < 1930 || year > 2100) {
		return AlloyGuess{}, &FieldError{Field: "year", Problem: fmt.Sprintf("%d", year), Allowed: "1930 to 2100, or 0 if unknown"}
	}
	g := AlloyGuess{Mark: FromMemory}
	switch {
	case year == 0:
		g.LeadFree, g.Why = 0.6, []string{"year unknown: reckoned as lead-free, the harder case"}
	case year < 2000:
		g.LeadFree, g.Why = 0.03, []string{fmt.Sprintf("made %d: lead-free assembly was rare before 2000", year)}
	case year < 2006:
		g.LeadFree, g.Why = 0.25, []string{fmt.Sprintf("made %d: the years of change", year)}
	case year == 2006:
		g.LeadFree, g.Why = 0.6, []string{"made 2006: the ban took effect on 1 July"}
	default:
		g.LeadFree, g.Why = 0.92, []string{fmt.Sprintf("made %d, after the ban of July 2006; exempt equipment and later repairs may differ", year)}
	}
	coded := ""
	for _, raw := range marks {
		m := strings.ToLower(strings.NewReplacer("-", "", " ", "", "_", "").Replace(raw))
		if c, ok := assemblyCodes[m]; ok {
			g.LeadFree, coded = c.leadFree, c.alloy
			g.Why = append(g.Why, c.text)
			continue
		}
		switch {
		case strings.Contains(m, "pbfree"), strings.Contains(m, "leadfree"), strings.Contains(m, "rohs"), m == "pb":
			g.LeadFree = max(g.LeadFree, 0.95)
			g.Why = append(g.Why, fmt.Sprintf("marked %q", raw))
		case strings.Contains(m, "sn63"), strings.Contains(m, "sn60"), strings.Contains(m, "snpb"):
			g.LeadFree, coded = 0.03, "Sn63Pb37"
			g.Why = append(g.Why, fmt.Sprintf("marked %q", raw))
		}
	}
	switch {
	case coded != "":
		g.Alloy = coded
	case g.LeadFree < 0.5:
		g.Alloy = "Sn63Pb37"
	default:
		g.Alloy = DefaultAlloy
	}
	return g, nil
}
