package casework

import "fettler/internal/note"

// names finds the items of a model by their IDs.
type names struct {
	findings, checks, repairs, modes, access map[string]int
}

func namesOf(m *note.Model) *names {
	n := &names{}
	if m == nil {
		return n
	}
	n.findings = indexOf(len(m.Findings), func(i int) string { return m.Findings[i].ID })
	n.checks = indexOf(len(m.Checks), func(i int) string { return m.Checks[i].ID })
	n.repairs = indexOf(len(m.Repairs), func(i int) string { return m.Repairs[i].ID })
	n.modes = indexOf(len(m.Modes), func(i int) string { return m.Modes[i].ID })
	n.access = indexOf(len(m.Access), func(i int) string { return m.Access[i].ID })
	return n
}

func indexOf(n int, id func(int) string) map[string]int {
	out := make(map[string]int, n)
	for i := range n {
		out[id(i)] = i
	}
	return out
}

// pathTo returns the access levels to open, in order, to get from level at to
// level want; none if want has been passed already.
func pathTo(m *note.Model, at, want int) []int {
	open := map[int]bool{}
	for l := at; l >= 0; l = m.Access[l].Behind {
		open[l] = true
	}
	var path []int
	for l := want; l >= 0 && !open[l]; l = m.Access[l].Behind {
		path = append([]int{l}, path...)
	}
	return path
}

// pathBack returns the levels to close, in order, to get from level at back to
// level want, which lies before it.
func pathBack(m *note.Model, at, want int) []int {
	keep := map[int]bool{}
	for l := want; l >= 0; l = m.Access[l].Behind {
		keep[l] = true
	}
	var path []int
	for l := at; l >= 0 && !keep[l]; l = m.Access[l].Behind {
		path = append(path, l)
	}
	return path
}

// travel is the minutes of opening and closing between two levels.
func travel(m *note.Model, from, to int) float64 {
	sum := 0.0
	for _, l := range pathBack(m, from, to) {
		sum += m.Access[l].CloseMinutes
	}
	for _, l := range pathTo(m, from, to) {
		sum += m.Access[l].OpenMinutes
	}
	return sum
}

// reach is the level one is at after a step at level want, and the minutes of
// opening and closing to get there. What is done with the power off can be done
// further open than it needs; what is done live wants the device as the note says.
func reach(m *note.Model, at, want int, live bool) (int, float64) {
	if !live && len(pathTo(m, at, want)) == 0 {
		return at, 0
	}
	return want, travel(m, at, want)
}

// trialLevel is the nearest level, going outwards, at which the whole can be tried.
func trialLevel(m *note.Model, at int, noLive bool) int {
	for l := at; l > 0; l = m.Access[l].Behind {
		if m.Access[l].Tries && !noLive {
			return l
		}
	}
	return 0
}
