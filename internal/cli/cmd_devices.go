package cli

import (
	"context"
	"strings"

	"fettler/internal/casework"
)

// devicesCmd lists or finds devices.
type devicesCmd struct {
	Words []string `arg:"" optional:""`
}

// deviceList is the devices there are notes for.
type deviceList struct {
	Asked   string            `json:"asked,omitempty"`
	Sure    bool              `json:"sure,omitempty"` // the first is clearly meant
	None    bool              `json:"none,omitempty"` // nothing fits; these are the general ones
	Devices []casework.Device `json:"devices"`
}

func (c *devicesCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	if len(c.Words) == 0 {
		return &deviceList{Devices: b.Devices(ctx)}, nil
	}
	words := strings.Join(c.Words, " ")
	f, err := b.FindDevice(ctx, words)
	if err != nil {
		return nil, err
	}
	return &deviceList{Asked: words, Sure: f.Sure, None: f.None, Devices: f.Devices}, nil
}

func (a *deviceList) no() bool { return a.None }

func (a *deviceList) text(p *page) {
	if a.None {
		p.para("", "there is no note for “"+a.Asked+"”; one of its own takes two minutes")
		p.line("try: " + line([]string{"note", "assemble", a.Asked, "--save"}))
		p.para("", "the general notes are")
	}
	for _, d := range a.Devices {
		own := ""
		if d.Own {
			own = " (your own)"
		}
		p.head("%s%s", d.ID, own)
		p.para("    ", d.Title+parens(strings.Join(d.Names, ", ")))
	}
}
