package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/note"
)

// TestMinutes is what powering up and trying the whole takes once it is
// together, for a device whose note does not say.
const TestMinutes = 3

// A tariff prices moves for one bench and one device.
type tariff struct {
	m       *note.Model
	s       Settings
	atHand  map[int]bool
	trial   []int       // per access: where the whole is tried when one stands there
	between [][]float64 // minutes to get from one access to another
	down    [][]bool    // down[a][b]: b lies at or behind a, so that being at b one can reach a's things

	checks, repairs [][]leg // per check or repair, per access one starts from
	tests           []leg
}

// A leg is what a move costs from some access, and where one is after it.
type leg struct {
	cost Cost
	to   int
}

func newTariff(m *note.Model, s Settings, atHand map[int]bool) *tariff {
	t := &tariff{m: m, s: s, atHand: atHand}
	n := len(m.Access)
	t.between = make([][]float64, n)
	t.down = make([][]bool, n)
	t.trial = make([]int, n)
	for a := range n {
		t.trial[a] = t.trialFrom(a)
		t.between[a] = make([]float64, n)
		t.down[a] = make([]bool, n)
		for b := range n {
			t.between[a][b] = t.path(a, b)
			t.down[a][b] = slices.Contains(t.chain(b), a)
		}
	}
	t.checks = table(len(m.Checks), n, t.priceCheck)
	t.repairs = table(len(m.Repairs), n, t.priceRepair)
	t.tests = table(1, n, func(_, from int) leg { return t.priceTest(from) })[0]
	return t
}

// table works out all legs beforehand; the base policy asks for them by the million.
func table(moves, accesses int, price func(i, from int) leg) [][]leg {
	out := make([][]leg, moves)
	for i := range out {
		out[i] = make([]leg, accesses)
		for from := range out[i] {
			out[i][from] = price(i, from)
		}
	}
	return out
}

func (t *tariff) check(c, from int) *leg  { return &t.checks[c][from] }
func (t *tariff) repair(r, from int) *leg { return &t.repairs[r][from] }
func (t *tariff) test(from int) *leg      { return &t.tests[from] }

// chain lists the access levels from a outwards to the closed device.
func (t *tariff) chain(a int) []int {
	var c []int
	for a >= 0 {
		c = append(c, a)
		a = t.m.Access[a].Behind
	}
	return c
}

// trialFrom is the nearest access, going outwards, at which the device can be
// powered and tried; the closed device always can.
func (t *tariff) trialFrom(a int) int {
	for _, x := range t.chain(a) {
		if t.m.Access[x].Tries && !t.s.NoLive {
			return x
		}
	}
	return 0
}

// path is the minutes of closing up from a to where the ways part, and opening to b.
func (t *tariff) path(a, b int) float64 {
	up, down := t.chain(a), t.chain(b)
	minutes := 0.0
	for _, x := range up {
		if !slices.Contains(down, x) {
			minutes += t.m.Access[x].CloseMinutes
		}
	}
	for _, x := range down {
		if !slices.Contains(up, x) {
			minutes += t.m.Access[x].OpenMinutes
		}
	}
	return minutes
}

// reach returns where one is after going to do something at access to, and the
// minutes that takes. What is done with the power off can be done with the device
// further open than it needs; what is done live wants it as the note says.
func (t *tariff) reach(from, to int, live bool) (at int, minutes float64) {
	if !live && t.down[to][from] {
		return from, 0
	}
	return to, t.between[from][to]
}

// leastRate is the rate at which time is counted when the bench counts none, so
// that of two ways that cost the same the quicker one wins: a millionth an hour.
const leastRate = 1e-6

func (t *tariff) time(minutes float64) float64 { return minutes / 60 * math.Max(t.s.Rate, leastRate) }

// loss is what it costs to end without a working device.
func (t *tariff) loss() float64 { return math.Max(0, t.s.Worth-t.s.Scrap) }

func (t *tariff) priceCheck(c, from int) leg {
	x := &t.m.Checks[c]
	at, open := t.reach(from, x.Access, x.Live)
	k := Cost{Minutes: x.Minutes, Access: open, Harm: x.Harm * t.s.Worth, Hazard: t.premium(x.Hazards, x.Live)}
	return leg{t.sum(k), at}
}

func (t *tariff) priceRepair(r, from int) leg {
	x := &t.m.Repairs[r]
	at, open := t.reach(from, x.Access, x.Live)
	k := Cost{Money: x.Price, Minutes: x.Minutes, Access: open, Days: x.Days, Hazard: t.premium(x.Hazards, x.Live)}
	if x.Harms < 0 {
		k.Harm = x.Harm * t.s.Worth
	}
	if t.atHand[r] || x.Price == 0 && len(x.Buys) > 0 { // with nothing to buy they are for drying
		k.Days = 0
	}
	if t.atHand[r] {
		k.Money = 0
	}
	return leg{t.sum(k), at}
}

// priceTest is the test of the whole: closing up as far as the device has to be to be tried.
func (t *tariff) priceTest(from int) leg {
	at := t.trial[from]
	return leg{t.sum(Cost{Minutes: t.trying(), Access: t.between[from][at]}), at}
}

func (t *tariff) trying() float64 {
	if t.m.TryMinutes > 0 {
		return t.m.TryMinutes
	}
	return TestMinutes
}

func (c *Cost) add(x Cost) {
	c.Money += x.Money
	c.Minutes += x.Minutes
	c.Access += x.Access
	c.Days += x.Days
	c.Hazard += x.Hazard
	c.Harm += x.Harm
	c.Total += x.Total
}

// closing is the minutes it takes to close a device that has passed its test.
func (t *tariff) closing(from int) float64 { return t.between[from][0] }

func (t *tariff) sum(k Cost) Cost {
	k.Total = k.Money + t.time(k.Minutes+k.Access) + k.Days*t.s.DayRate + k.Harm + k.Hazard
	return k
}

func (t *tariff) premium(hs []note.Hazard, live bool) float64 {
	if len(hs) == 0 && !live {
		return 0
	}
	return t.s.Premium
}

// blocked says why a check or repair cannot be done on this bench.
func (t *tariff) blocked(with []string, hs []note.Hazard, live bool, access int) string {
	if live && access > 0 && t.s.NoLive {
		return "it is done with power on, which you have ruled out"
	}
	for _, h := range hs {
		if slices.Contains(t.s.Refuse, h.Kind) {
			return fmt.Sprintf("it means going near %s, which you have ruled out", h.Kind)
		}
	}
	for _, w := range with {
		if slices.ContainsFunc(t.s.Lacks, func(l string) bool { return strings.EqualFold(l, w) }) {
			return fmt.Sprintf("you have no %s", w)
		}
	}
	return ""
}
