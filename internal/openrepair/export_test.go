package openrepair

import "slices"

// Fields returns the names of the fields, in order.
func Fields() []string { return append([]string(nil), fields...) }

// Statuses returns all statuses.
func Statuses() []Status { return slices.Clone(statuses) }
