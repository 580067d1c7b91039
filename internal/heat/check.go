package heat

import (
	"fmt"
	"math"
	"runtime"
)

// withDefaults fills in defaults and checks every field. The first fault found in
// reading order is returned.
func (j Job) withDefaults() (Job, error) {
	j.Ambient = orDefault(j.Ambient, 20)
	b := &j.Board
	b.CopperThickness = orDefault(b.CopperThickness, 35)
	b.PlaneShare = orDefault(b.PlaneShare, 0.9)
	b.Tg, b.Td = orDefault(b.Tg, defaultTg), orDefault(b.Td, defaultTd)
	err := first(
		inRange("ambient temperature", j.Ambient, -20, 60, "°C"),
		inRange("board width", b.Width, 5, 600, "mm"),
		inRange("board height", b.Height, 5, 600, "mm"),
		inRange("board thickness", b.Thickness, 0.2, 6, "mm"),
		inRange("board layers", float64(b.Layers), 1, 32, ""),
		inRange("board copper share", b.CopperShare, 0.02, 1, ""),
		inRange("board copper thickness", b.CopperThickness, 9, 420, "µm"),
		inRange("board plane share", b.PlaneShare, 0.02, 1, ""),
		inRange("board glass transition", b.Tg, 60, 300, "°C"),
		inRange("board decomposition temperature", b.Td, 150, 500, "°C"),
		planeFits(*b),
		j.Part.check(*b),
		j.Tool.check(len(j.Part.Pads)),
	)
	if err != nil {
		return j, err
	}
	if _, err := AlloyByName(j.Alloy); err != nil {
		return j, err
	}
	if len(j.Neighbours) > 60 {
		return j, &FieldError{"the number of neighbours", fmt.Sprint(len(j.Neighbours)), "at most 60, the nearest ones"}
	}
	ns := make([]Neighbour, len(j.Neighbours))
	for i, n := range j.Neighbours {
		if ns[i], err = n.placed(j.Board, j.Part, i); err != nil {
			return j, err
		}
	}
	j.Neighbours = ns
	return j, nil
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func planeFits(b Board) error {
	if b.PlaneUnder && b.Layers < 2 {
		return &FieldError{"board plane under the part", "set on a board of one layer", "2 layers or more, or no plane"}
	}
	return nil
}

func (p Part) check(b Board) error {
	name := p.Name
	if name == "" {
		name = "part"
	}
	gap := orDefault(p.Gap, 0.1)
	err := first(
		inRange(name+" length", p.Length, 0.2, 200, "mm"),
		inRange(name+" width", p.Width, 0.2, 200, "mm"),
		inRange(name+" height", p.Height, 0.05, 100, "mm"),
		optional(name+" mass", p.Mass, 1e-5, 2000, "g"),
		inRange(name+" gap", gap, 0.01, 20, "mm"),
		inRange(name+" x", p.X, 0, b.Width, "mm"),
		inRange(name+" y", p.Y, 0, b.Height, "mm"),
	)
	if err != nil {
		return err
	}
	if n := len(p.Pads); n == 0 || n > 2500 {
		return &FieldError{name + " number of pads", fmt.Sprint(n), "1 to 2500"}
	}
	for i, pad := range p.Pads {
		at := fmt.Sprintf("%s pad %d", name, i)
		err := first(
			inRange(at+" width", pad.Width, 0.05, 100, "mm"),
			inRange(at+" height", pad.Height, 0.05, 100, "mm"),
			inRange(at+" x on the board", p.X+pad.X, pad.Width/2, b.Width-pad.Width/2, "mm"),
			inRange(at+" y on the board", p.Y+pad.Y, pad.Height/2, b.Height-pad.Height/2, "mm"),
			optional(at+" solder", pad.Solder, 1e-5, 1e4, "mm³"),
			optional(at+" lead conductance", pad.Lead, 1e-6, 10, "W/K"),
			inRange(at+" vias", float64(pad.Vias), 0, 1000, ""),
		)
		if err != nil {
			return err
		}
	}
	return nil
}

func (t Tool) check(pads int) error {
	if t.HotAir == nil && t.Iron == nil {
		return &FieldError{"tool", "neither hot air nor iron", "at least one of them"}
	}
	if a := t.HotAir; a != nil {
		if err := first(
			inRange("hot air set temperature", a.SetTemp, 60, 550, "°C"),
			inRange("hot air nozzle", a.Nozzle, 1, 60, "mm"),
			inRange("hot air distance", a.Distance, 1, 150, "mm"),
			inRange("hot air flow", a.Flow, 1, 500, "l/min"),
			inRange("hot air orbit", a.Orbit, 0, 100, "mm"),
		); err != nil {
			return err
		}
	}
	if r := t.Iron; r != nil {
		if err := first(
			inRange("iron tip temperature", r.TipTemp, 100, 500, "°C"),
			inRange("iron contact", r.Contact, 0.001, 10, "W/K"),
			inRange("iron power", r.Power, 5, 500, "W"),
			optional("iron heat capacity", r.Capacity, 0.1, 50, "J/K"),
		); err != nil {
			return err
		}
		seen := map[int]bool{}
		for _, i := range r.Pads {
			if i < 0 || i >= pads || seen[i] {
				return &FieldError{"iron pad index", fmt.Sprint(i), fmt.Sprintf("0 to %d, each once", pads-1)}
			}
			seen[i] = true
		}
	}
	if p := t.Preheat; p != nil {
		return first(
			inRange("preheat temperature", p.Temp, 40, 400, "°C"),
			optional("preheat coefficient", p.H, 3, 200, "W/(m²·K)"),
			inRange("preheat soak", p.Soak, 0, 1800, "s"),
			optional("preheat width", p.Width, 1, 1000, "mm"),
			optional("preheat height", p.Height, 1, 1000, "mm"),
		)
	}
	return nil
}

func (f Factors) withDefaults() (Factors, error) {
	f.H, f.Copper = orDefault(f.H, 1), orDefault(f.Copper, 1)
	f.Contact, f.Distance = orDefault(f.Contact, 1), orDefault(f.Distance, 1)
	return f, first(
		inRange("factor on the heat transfer coefficient", f.H, 0.1, 10, ""),
		inRange("factor on the copper share", f.Copper, 0.1, 10, ""),
		inRange("factor on the contact", f.Contact, 0.1, 10, ""),
		inRange("factor on the distance", f.Distance, 0.1, 10, ""),
	)
}

// soakStep is the step while only the preheater is on: nothing is fast then, iron or not.
func (s Settings) soakStep() float64 {
	if s.Step == usualStep || s.Step == ironStep {
		return 2 * usualStep
	}
	return max(s.Step, min(2*usualStep, 2*s.Step))
}

const (
	usualStep = 0.25 // s
	ironStep  = 0.05 // a tip takes heat in at once
)

// maxNodes bounds memory: 4 million nodes are about 500 MB.
const maxNodes = 4_000_000

func (s Settings) withDefaults(j Job) (Settings, error) {
	s.Cell = orDefault(s.Cell, 1)
	if s.Nodes == 0 {
		s.Nodes = 3
	}
	if s.Step == 0 {
		s.Step = usualStep
		if j.Tool.Iron != nil {
			s.Step = ironStep
		}
	}
	s.MaxTime, s.Hold, s.Cool = orDefault(s.MaxTime, 120), orDefault(s.Hold, 3), orDefault(s.Cool, 15)
	s.FrameCell = orDefault(s.FrameCell, 2)
	if s.Frames == 0 {
		s.Frames = 2
	}
	if s.Workers == 0 {
		s.Workers = min(runtime.GOMAXPROCS(0), 8)
	}
	var err error
	if s.Vary, err = s.Vary.withDefaults(); err != nil {
		return s, err
	}
	if err := first(
		inRange("grid cell", s.Cell, 0.1, 10, "mm"),
		inRange("nodes through the thickness", float64(s.Nodes), 2, 64, ""),
		inRange("time step", s.Step, 0.001, 5, "s"),
		inRange("longest time", s.MaxTime, 0.1, 3600, "s"),
		inRange("hold time", s.Hold, 0.01, 600, "s"),
		inRange("cooling time", s.Cool, 0.01, 600, "s"),
		inRange("frame cell", s.FrameCell, 0.1, 100, "mm"),
		inRange("workers", float64(s.Workers), 1, 64, ""),
	); err != nil {
		return s, err
	}
	if s.Frames > 0 || math.IsNaN(s.Frames) {
		if err := inRange("time between frames", s.Frames, 0.05, 600, "s"); err != nil {
			return s, err
		}
	}
	if n := math.Ceil(j.Board.Width/s.Cell) * math.Ceil(j.Board.Height/s.Cell) * float64(s.Nodes); n > maxNodes {
		return s, &FieldError{"grid cell", num(s.Cell) + " mm, which makes " + num(n) + " nodes", fmt.Sprintf("a cell that makes at most %d nodes on this board", maxNodes)}
	}
	return s, nil
}
