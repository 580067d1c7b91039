package cli

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// settingsCmd shows or changes the settings of the bench or of a case.
type settingsCmd struct {
	Args []string `arg:"" optional:""`
}

// settingsShown is the settings in force.
type settingsShown struct {
	Case     string            `json:"case,omitempty"` // "" for the whole bench
	Title    string            `json:"title,omitempty"`
	Settings casework.Settings `json:"settings"`
}

const settingsHow = "settings [CASE] name=value …"

func (c *settingsCmd) run(ctx context.Context, s *session) (answer, error) {
	if _, err := s.bench(ctx); err != nil {
		return nil, err
	}
	name, err := c.aim()
	if err != nil {
		return nil, err
	}
	id := casework.BenchCase
	if name == "" {
		name = s.flags.Case
	}
	if name != "" {
		if id, err = s.find(ctx, name, false); err != nil {
			return nil, err
		}
	}
	if _, changes := split(c.Args); len(changes) > 0 {
		d, err := c.deed(ctx, s, nil)
		if err != nil {
			return nil, err
		}
		if _, err := s.record(ctx, id, d); err != nil {
			return nil, err
		}
	}
	if id == casework.BenchCase {
		now, err := s.opened.BenchSettings(ctx)
		return &settingsShown{Settings: now}, err
	}
	v, err := s.opened.View(ctx, id)
	if err != nil {
		return nil, err
	}
	return &settingsShown{Case: id, Title: v.Header.Title, Settings: v.Settings}, nil
}

func (c *settingsCmd) aim() (string, error) {
	plain, _ := split(c.Args)
	return onlyCase(plain, settingsHow)
}

func (c *settingsCmd) deed(_ context.Context, s *session, _ lookup) (casework.Deed, error) {
	var d casework.Settled
	_, changes := split(c.Args)
	for _, x := range changes {
		if err := s.set(&d, x.Finding, strings.TrimSpace(x.Text)); err != nil {
			return nil, err
		}
	}
	return casework.Settling{By: s.by(), Settled: d}, nil
}

// settingNames are what can be set, in the order in which it is shown.
var settingNames = []string{"currency", "rate", "day-rate", "worth", "scrap", "budget", "premium", "lacks", "refuse", "no-live", "trained", "learn", "carbon", "carbon-source"}

// set puts one setting into d.
func (s *session) set(d *casework.Settled, name, value string) error {
	amounts := map[string]**float64{"rate": &d.Rate, "day-rate": &d.DayRate, "worth": &d.Worth, "scrap": &d.Scrap, "budget": &d.Budget, "premium": &d.Premium, "carbon": &d.Carbon}
	lists := map[string]**[]string{"lacks": &d.Lacks, "refuse": &d.Refuse}
	flags := map[string]**bool{"no-live": &d.NoLive, "trained": &d.Trained, "learn": &d.Learn}
	switch {
	case amounts[name] != nil:
		v, err := strconv.ParseFloat(decimalComma.ReplaceAllString(value, "$1.$2"), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return &usageError{text: fmt.Sprintf("%q is no amount for %s", value, name), next: "give a plain number, as in " + name + "=12.50"}
		}
		*amounts[name] = &v
	case lists[name] != nil:
		items := []string{}
		for _, i := range strings.Split(value, ",") {
			if i = strings.TrimSpace(i); i != "" && i != "none" {
				items = append(items, i)
			}
		}
		*lists[name] = &items
	case name == "currency":
		d.Currency = &value
	case name == "carbon-source":
		d.CarbonSource = &value
	case flags[name] != nil:
		on := value == "yes"
		if !on && value != "no" {
			return &usageError{text: fmt.Sprintf("%s cannot be %q", name, value), next: fmt.Sprintf("say %s=yes or %s=no", name, name)}
		}
		*flags[name] = &on
	default:
		e := &usageError{text: fmt.Sprintf("there is no setting %q", name), next: "the settings are: " + strings.Join(settingNames, ", ")}
		if n := nearest(name, settingNames); n != "" {
			e.try = s.instead(name, n)
		}
		return e
	}
	return nil
}

func (a *settingsShown) text(p *page) {
	x := a.Settings
	if a.Case == "" {
		p.head("Settings of the bench")
	} else {
		p.head("Settings in force for %s (%s)", a.Title, a.Case)
	}
	amount := func(v float64, none string) string {
		if v == 0 && none != "" {
			return none
		}
		return money(v, x.Currency)
	}
	list := func(l []string) string {
		if len(l) == 0 {
			return "none"
		}
		return strings.Join(l, ", ")
	}
	live := yesNo(x.NoLive)
	if !x.LiveSaid {
		live = "not said"
	}
	for _, r := range [][3]string{
		{"currency", x.Currency, ""},
		{"rate", amount(x.Rate, ""), "an hour of your own time"},
		{"day-rate", amount(x.DayRate, ""), "a day of waiting"},
		{"worth", amount(x.Worth, ""), "the working device, to its user; 0 for what its note says"},
		{"scrap", amount(x.Scrap, ""), "the broken one"},
		{"budget", amount(x.Budget, "no limit"), "the most to spend on a case"},
		{"premium", amount(x.Premium, ""), "avoiding one hazardous step"},
		{"lacks", list(x.Lacks), "instruments this bench has not got"},
		{"refuse", list(x.Refuse), "kinds of hazard not to go near"},
		{"no-live", live, "never work live with the device open"},
		{"trained", yesNo(x.Trained), "trained on devices that only trained hands may open, such as a microwave oven"},
		{"learn", yesNo(x.Learn), "reckon with what closed cases teach (of the bench)"},
		{"carbon", fmt.Sprintf("%g", x.Carbon), "kg of CO₂ equivalent per kg kept in use, 0 for none (of the bench)"},
		{"carbon-source", x.CarbonSource, "the publication that factor is from"},
	} {
		value := r[1]
		if r[2] != "" {
			value += "  (" + r[2] + ")"
		}
		p.para(fmt.Sprintf("  %-10s", r[0]), value)
	}
}
