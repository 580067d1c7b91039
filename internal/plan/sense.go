package plan

import (
	"fmt"

	"fettler/internal/note"
)

// sense says what in a model's costs and chances makes no sense, so that no figure
// worked out from it is one that is not a number. Notes are held to this when they are read;
// models put together otherwise are not.
func sense(m *note.Model) error {
	figure := func(what, of string, v, most float64) error {
		if v >= 0 && v <= most {
			return nil
		}
		return fmt.Errorf("in the note of %s, %s of %q is %v; it must be a figure from 0 to %g", m.ID, what, of, v, most)
	}
	const money, minutes, days = 1e9, 1e7, 1e5
	all := []error{figure("the time to try the whole", m.ID, m.TryMinutes, minutes)}
	for i, a := range m.Access {
		all = append(all, figure("the time to open", a.ID, a.OpenMinutes, minutes), figure("the time to close", a.ID, a.CloseMinutes, minutes))
		if a.Behind >= i {
			all = append(all, fmt.Errorf("in the note of %s, access %q lies behind one that comes after it; put the outer one first", m.ID, a.ID))
		}
	}
	for _, c := range m.Checks {
		all = append(all, figure("the time of the check", c.ID, c.Minutes, minutes), figure("the chance of harm of the check", c.ID, c.Harm, 1))
	}
	for _, r := range m.Repairs {
		all = append(all, figure("the price", r.ID, r.Price, money), figure("the time of the repair", r.ID, r.Minutes, minutes),
			figure("the waiting for the parts", r.ID, r.Days, days), figure("the chance of harm of the repair", r.ID, r.Harm, 1))
		for _, c := range r.Clears {
			all = append(all, figure("the success", r.ID, c.Success, 1))
		}
	}
	for _, err := range all {
		if err != nil {
			return err
		}
	}
	if len(m.Access) == 0 {
		return fmt.Errorf("the note of %s has no access levels; it needs at least the closed device", m.ID)
	}
	return nil
}
