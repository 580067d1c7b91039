package notecraft

import (
	"slices"

	"fettler/internal/note"
)

// A house knows the ways between the levels of access of one device.
type house struct{ access []note.Access }

func newHouse(m *note.Model) house { return house{m.Access} }

// chain lists the levels from a outwards to the closed device.
func (h house) chain(a int) []int {
	var out []int
	for ; a >= 0; a = h.access[a].Behind {
		out = append(out, a)
	}
	return out
}

// reach is where one stands after doing something at access to. What is done
// with the power off can be done with the device further open than it needs.
func (h house) reach(from, to int, live bool) int {
	if !live && slices.Contains(h.chain(from), to) {
		return from
	}
	return to
}

// trial is where the whole is tried when one stands at a.
func (h house) trial(a int, noLive bool) int {
	for _, x := range h.chain(a) {
		if h.access[x].Tries && !noLive {
			return x
		}
	}
	return 0
}

// way is the minutes of closing up from a to where the ways part, and opening to b.
func (h house) way(a, b int) float64 {
	up, down := h.chain(a), h.chain(b)
	minutes := 0.0
	for _, x := range up {
		if !slices.Contains(down, x) {
			minutes += h.access[x].CloseMinutes
		}
	}
	for _, x := range down {
		if !slices.Contains(up, x) {
			minutes += h.access[x].OpenMinutes
		}
	}
	return minutes
}
