package casework

import (
	"context"
	"slices"
	"strings"

	"fettler/internal/plan"
)

// Tools are what a step needs beside eyes, nose, ears and hands.
func (s Step) Tools() []string {
	return slices.DeleteFunc(slices.Clone(s.With), plan.Sense)
}

// Lack writes down that a tool is not at hand for a case, beside those that already are not.
func (b *Bench) Lack(ctx context.Context, caseID, tool string, by By) (Receipt, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return Receipt{}, err
	}
	lacks := c.Settings.Without(tool)
	return b.Settle(ctx, caseID, Settling{By: by, Settled: Settled{Lacks: &lacks}})
}

// Without is what is lacking if that tool is lacking too.
func (s Settings) Without(tool string) []string {
	lacks := slices.Clone(s.Lacks)
	if !slices.ContainsFunc(lacks, func(l string) bool { return strings.EqualFold(l, tool) }) {
		lacks = append(lacks, tool)
	}
	return lacks
}
