package eseries

import "slices"

// All lists the series, smallest first.
func All() []Series { return slices.Clone(all) }
