package casework

import (
	"context"
	"errors"
	"regexp"
	"slices"

	"fettler/internal/journal"
	"fettler/internal/note"
)

var caseName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,39}$`)

func (d Opening) draft(ctx context.Context, s scene) (Kind, any, error) {
	p := Opened{Device: d.Device, Category: d.Category, Age: d.Age, Worth: d.Worth, Demo: d.Demo}
	if err := s.b.chooseNote(&p); err != nil {
		return "", nil, err
	}
	var err error
	if p.Label, err = oneLine(d.Label, "the label"); err != nil {
		return "", nil, err
	}
	if _, err = figure(&p.Age, 0, "the age", maxAge); err != nil {
		return "", nil, err
	}
	if p.Worth != nil {
		if _, err = figure(p.Worth, 0, "the worth", maxMoney); err != nil {
			return "", nil, err
		}
	}
	if d.Owner != (Owner{}) {
		o := Owner{}
		if o.Name, err = oneLine(d.Owner.Name, "the owner's name"); err != nil {
			return "", nil, err
		}
		if o.Contact, err = oneLine(d.Owner.Contact, "how to reach the owner"); err != nil {
			return "", nil, err
		}
		p.Private = &o
	}
	return KindOpened, p, nil
}

// chooseNote checks the device, or takes the generic note of the category.
func (b *Bench) chooseNote(p *Opened) error {
	infos := b.notes.Devices()
	if p.Device != "" {
		i := slices.IndexFunc(infos, func(d note.DeviceInfo) bool { return d.ID == p.Device })
		if i < 0 {
			return fail(NotFound, "search for it by what it is, or open the case with a category", "there is no bench note %q", clip(p.Device))
		}
		p.Category = infos[i].Category
		return nil
	}
	if p.Category == "" {
		return fail(BadInput, "give a device, or at least its category", "nothing says what sort of device it is")
	}
	if !slices.Contains(note.Categories(), p.Category) {
		return fail(BadInput, "take a product category of the open repair data standard, such as Small kitchen item", "%q is no category", clip(p.Category))
	}
	for _, d := range infos {
		if d.Generic && d.Category == p.Category {
			p.Device = d.ID
			return nil
		}
	}
	return nil
}

// Open begins a case and records what else is known at once, all or nothing.
func (b *Bench) Open(ctx context.Context, in Opening, then ...Deed) (Receipt, error) {
	id := in.ID
	if id == "" {
		id = b.newID()
	}
	if !caseName.MatchString(id) {
		return Receipt{}, fail(BadInput, "use up to 40 small letters, digits and hyphens", "%q cannot name a case", clip(id))
	}
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return Receipt{}, err
	}
	var events []Event
	for _, d := range append([]Deed{in}, then...) {
		c, err := b.project(bench, events)
		if err != nil {
			return Receipt{}, err
		}
		kind, p, err := d.draft(ctx, scene{b, c})
		if err != nil {
			return Receipt{}, err
		}
		e, err := b.event(id, len(events)+1, d.by().Who, kind, p)
		if err != nil {
			return Receipt{}, err
		}
		events = append(events, e)
	}
	err = b.journal.Append(ctx, id, 0, events...)
	var late *journal.Conflict
	if errors.As(err, &late) {
		return Receipt{}, &Error{Code: Changed, Text: "there is a case of that name already", Next: "open it under another name", Err: err}
	}
	if err != nil {
		return Receipt{}, storeError(err)
	}
	return Receipt{Case: id, Seq: 1}, nil
}
