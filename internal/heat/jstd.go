package heat

import "math"

// ClassificationTemp is the peak package body temperature T_c of J-STD-020, °C,
// for a body of the given thickness (mm) and volume (mm³, without terminals and
// heat sinks). The peak in rework must not exceed it.
//
// The lead-free cells and the SnPb range 220–235 °C were read in data sheets that
// quote revision D (mark V); the SnPb cells are from memory.
func ClassificationTemp(thickness, volume float64, leadFree bool) (float64, Mark, error) {
	if err := inRange("body thickness", thickness, 0.05, 50, "mm"); err != nil {
		return 0, "", err
	}
	if err := inRange("body volume", volume, 0.001, 1e6, "mm³"); err != nil {
		return 0, "", err
	}
	if !leadFree {
		if thickness < 2.5 && volume < 350 {
			return 235, FromMemory, nil
		}
		return 220, FromMemory, nil
	}
	row := 0
	switch {
	case thickness > 2.5:
		row = 2
	case thickness >= 1.6:
		row = 1
	}
	col := 0
	switch {
	case volume > 2000:
		col = 2
	case volume >= 350:
		col = 1
	}
	return classLeadFree[row][col], Verified, nil
}

var classLeadFree = [3][3]float64{
	{260, 260, 260}, // thinner than 1.6 mm
	{260, 250, 245}, // 1.6 to 2.5 mm
	{250, 245, 245}, // thicker
}

// A ReflowProfile holds the limits of J-STD-020 for a package in reflow. Hand
// rework is faster than any oven; the figures say by how much.
type ReflowProfile struct {
	LeadFree                   bool
	PreheatMin, PreheatMax     float64 // °C
	PreheatTimeMin, PreheatMid float64 // s; up to PreheatMid in revision D.1 (180 s in C for lead-free)
	RampUp, RampDown           float64 // K/s, largest
	Liquidus                   float64 // °C from which time is counted
	AboveMin, AboveMax         float64 // s above Liquidus
	NearPeak                   float64 // s within 5 K of T_c, largest
	ToPeak                     float64 // s from 25 °C to peak, largest
	Passes                     int
	Mark                       Mark
}

// Profile returns the reflow profile limits for leaded or lead-free assembly.
func Profile(leadFree bool) ReflowProfile {
	if leadFree {
		return ReflowProfile{true, 150, 200, 60, 120, 3, 6, 217, 60, 150, 30, 480, 3, Verified}
	}
	return ReflowProfile{false, 100, 150, 60, 120, 3, 6, 183, 60, 150, 20, 360, 3, Verified}
}

// A FloorLife is how long a package may lie in room air (30 °C, 60 %) before it
// must be baked ahead of reflow.
type FloorLife struct {
	Level string
	Hours float64 // +Inf: unlimited; 0: as on the label
	Mark  Mark
}

// FloorLives returns the moisture sensitivity levels (from memory).
func FloorLives() []FloorLife {
	return []FloorLife{
		{"1", math.Inf(1), FromMemory}, {"2", 8760, FromMemory}, {"2a", 672, FromMemory}, {"3", 168, FromMemory},
		{"4", 72, FromMemory}, {"5", 48, FromMemory}, {"5a", 24, FromMemory}, {"6", 0, FromMemory},
	}
}

// DryBody is the body temperature below which rework needs no bake although the
// floor life has passed (J-STD-033, from memory).
const DryBody = 200.0
