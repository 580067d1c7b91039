package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/quantity"
)

// UsualRate is what an hour of own time counts in a bench that has not said
// otherwise, in its currency. At 0, which may be set, every repair that needs no
// parts is worth trying first, and a plan runs to hours; both faces show the rate in force.
const UsualRate = 6

// settle overlays the defaults, the note, the bench's settings, what the
// opening says and the case's settings.
func (c *Case) settle(bench, events []Event, eff []effect) error {
	s := Settings{Currency: "EUR", Rate: UsualRate, Learn: true}
	if c.Model != nil {
		s.Worth, s.Scrap = c.Model.Worth, c.Model.Scrap
		if c.Model.Currency != "" {
			s.Currency = c.Model.Currency
		}
	}
	if err := s.overlay(bench, effects(bench)); err != nil {
		return err
	}
	if len(events) > 0 && events[0].Kind == KindOpened {
		p, err := decode[Opened](events[0], eff[0].data)
		if err != nil {
			return err
		}
		put(&s.Worth, p.Worth)
	}
	if err := s.overlay(events, eff); err != nil {
		return err
	}
	c.Settings = s
	return nil
}

func (s *Settings) overlay(events []Event, eff []effect) error {
	for i, e := range events {
		if e.Kind != KindSettled || eff[i].void {
			continue
		}
		if err := with(e, eff[i].data, s.change); err != nil {
			return err
		}
	}
	return nil
}

func (s *Settings) change(p Settled) {
	put(&s.Currency, p.Currency)
	put(&s.Rate, p.Rate)
	put(&s.DayRate, p.DayRate)
	put(&s.Worth, p.Worth)
	put(&s.Scrap, p.Scrap)
	put(&s.Budget, p.Budget)
	put(&s.Premium, p.Premium)
	put(&s.Lacks, p.Lacks)
	put(&s.Refuse, p.Refuse)
	put(&s.NoLive, p.NoLive)
	s.LiveSaid = s.LiveSaid || p.NoLive != nil
	put(&s.Trained, p.Trained)
	put(&s.Learn, p.Learn)
	put(&s.Carbon, p.Carbon)
	put(&s.CarbonSource, p.CarbonSource)
}

func put[T any](to *T, from *T) {
	if from != nil {
		*to = *from
	}
}

// plan is the settings as the planner takes them.
func (s Settings) plan() plan.Settings {
	refuse := s.Refuse
	if !s.Trained {
		refuse = append(slices.Clone(refuse), trainedHands)
	}
	return plan.Settings{Rate: s.Rate, DayRate: s.DayRate, Worth: s.Worth, Scrap: s.Scrap, Budget: s.Budget, Lacks: s.Lacks,
		NoLive: s.shut(), Refuse: refuse, Premium: s.Premium}
}

// shut says that nothing is done inside a device with its power on: that was said, or
// nobody has said yet that this bench is trained and equipped for it.
func (s Settings) shut() bool { return s.NoLive || !s.LiveSaid }

func (d Settling) draft(_ context.Context, s scene) (Kind, any, error) {
	p := d.Settled
	if p == (Settled{}) {
		return "", nil, fail(BadInput, "name a setting and its value", "no setting was given")
	}
	after := s.c.Settings
	after.change(p)
	if err := after.plan().Validate(); err != nil {
		return "", nil, &Error{Code: BadInput, Text: err.Error(), Next: "give another figure", Err: err}
	}
	if !quantity.IsCurrency(after.Currency) {
		return "", nil, fail(BadInput, "take one of "+strings.Join(quantity.Currencies(), ", "), "%q is no currency known here", clip(after.Currency))
	}
	if s.c.ID != BenchCase && (p.Learn != nil || p.Carbon != nil || p.CarbonSource != nil) {
		return "", nil, fail(BadInput, "set it for the bench", "what is learnt, and the factor for CO₂, hold for the whole bench")
	}
	if p.CarbonSource != nil {
		source, err := text(*p.CarbonSource, maxText, "the source of the factor")
		if err != nil {
			return "", nil, err
		}
		p.CarbonSource, after.CarbonSource = &source, source
	}
	if c := after.Carbon; !(c >= 0 && c <= 10_000) || c > 0 != (after.CarbonSource != "") {
		return "", nil, fail(BadInput, "give a factor in kg per kg together with the publication it is from, or neither", "a factor for CO₂ needs its source, and a source its factor")
	}
	if p.Refuse != nil {
		for _, k := range *p.Refuse {
			if err := hazardKnown(k); err != nil {
				return "", nil, err
			}
		}
	}
	if p.Lacks != nil {
		for _, k := range *p.Lacks {
			if strings.TrimSpace(k) == "" || len(k) > maxLabel {
				return "", nil, fail(BadInput, "write it as the steps call it, such as ESR meter", "%q is no instrument", clip(k))
			}
		}
	}
	return KindSettled, p, nil
}

func hazardKnown(kind string) error {
	kinds := note.HazardKinds()
	if slices.ContainsFunc(kinds, func(k note.HazardKind) bool { return k.Name == kind }) {
		return nil
	}
	all := make([]string, len(kinds))
	for i, k := range kinds {
		all[i] = k.Name
	}
	return fail(BadInput, "take one of "+strings.Join(all, ", "), "%q is no kind of hazard", clip(kind))
}

// Settle changes the settings of a case, or of the whole bench if caseID is BenchCase.
func (b *Bench) Settle(ctx context.Context, caseID string, in Settling) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// BenchSettings returns the settings of the whole bench.
func (b *Bench) BenchSettings(ctx context.Context) (Settings, error) {
	c, err := b.load(ctx, BenchCase)
	if err != nil {
		return Settings{}, err
	}
	return c.Settings, nil
}

// words is a change of settings as one says it.
func (p Settled) words(currency string) string {
	var out []string
	money := func(name string, v *float64) {
		if v != nil {
			out = append(out, name+" "+quantity.Format(*v, currency, 6))
		}
	}
	list := func(name, none string, v *[]string) {
		switch {
		case v == nil:
		case len(*v) == 0:
			out = append(out, none)
		default:
			out = append(out, name+" "+strings.Join(*v, ", "))
		}
	}
	flag := func(on, off string, v *bool) {
		switch {
		case v == nil:
		case *v:
			out = append(out, on)
		default:
			out = append(out, off)
		}
	}
	if p.Currency != nil {
		out = append(out, "currency "+*p.Currency)
	}
	money("own time per hour", p.Rate)
	money("a day of waiting", p.DayRate)
	money("worth when it works", p.Worth)
	money("worth as scrap", p.Scrap)
	money("budget", p.Budget)
	money("avoiding a hazard is worth", p.Premium)
	list("no", "every instrument is there", p.Lacks)
	list("nothing to do with", "no hazard refused", p.Refuse)
	flag("nothing live", "live work allowed", p.NoLive)
	flag("trained on devices only trained hands may open", "such devices stay shut", p.Trained)
	flag("closed cases teach", "closed cases do not teach", p.Learn)
	if p.Carbon != nil {
		out = append(out, fmt.Sprintf("%g kg of CO₂ per kg kept in use", *p.Carbon))
	}
	if p.CarbonSource != nil && *p.CarbonSource != "" {
		out = append(out, "by "+*p.CarbonSource)
	}
	return fmt.Sprintf("settings: %s", strings.Join(out, "; "))
}
