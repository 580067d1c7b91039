package ledger

import (
	"fmt"
	"math"
)

// Settings are the strengths of what the notes say; zero stands for the default.
// A strength is worth so many cases that confirm the note.
type Settings struct {
	Kind   float64 // how firmly a kind's factor is held at 1; 2 (judged: the notes' base rates are good to a factor of three)
	Block  float64 // how firmly a block's factor is held at its kind's; 4 (judged)
	Device float64 // how firmly a device's factor is held at its block's; 8 (judged)

	Chance       float64 // of a note's trigger chances and repair successes; 10 looks (judged)
	ChanceSpread float64 // between kinds, blocks and devices; 20 looks (judged)
}

func (s Settings) filled() (Settings, error) {
	c := &checker{}
	for _, f := range []struct {
		name string
		v    *float64
		def  float64
	}{
		{"the strength of kinds", &s.Kind, 2}, {"the strength of blocks", &s.Block, 4}, {"the strength of devices", &s.Device, 8},
		{"the strength of chances", &s.Chance, 10}, {"the spread of chances", &s.ChanceSpread, 20},
	} {
		if *f.v == 0 {
			*f.v = f.def
		}
		c.in(f.name, *f.v, 0.01, 1e6)
	}
	return s, c.err
}

// fit is the working state of a refresh.
type fit struct {
	tree
	leaves, blocks, kinds index
	leafOf                map[string][]int // sheet key → mode → leaf
	theta                 []float64        // per leaf, e^η
	share                 []float64        // per leaf, how often the note expects it
	flat                  flat
	group                 []int // per leaf, its device
	groups                index
	members               [][]int    // per device, its leaves
	place                 []int      // per leaf, where it is in its device
	tally                 [3][]Count // per kind, block, leaf
	steps                 int
	residual              float64
}

// index numbers names in the order in which they come.
type index map[string]int

func (x index) of(name string) int {
	i, ok := x[name]
	if !ok {
		i = len(x)
		x[name] = i
	}
	return i
}

// Refresh computes what the records that count teach. It does not change the
// book's content, and the same set of records gives the same lessons to the last
// bit, however it came together. The cost is proportional to the number of
// shares times the number of rounds (some tens).
func (b *Book) Refresh(s Settings) (*Lessons, error) {
	s, err := s.filled()
	if err != nil {
		return nil, err
	}
	cases := b.counting()
	f := b.newFit(s, cases)
	x := f.arrow()
	f.climb(func() { f.round(x) })
	if !(f.residual < 1e-2) {
		return nil, fmt.Errorf("ledger: the rates do not settle (still moving by %.2g): check the cases for chances that contradict each other", f.residual)
	}
	return b.lessons(s, f, f.spreads(x, f.count(b, cases)), cases), nil
}

// newFit lays out the hierarchy of all sheets in use and the exposures.
func (b *Book) newFit(s Settings, cases []*entry) *fit {
	f := &fit{leaves: index{}, blocks: index{}, kinds: index{}, groups: index{}, leafOf: map[string][]int{}}
	f.s = [3]float64{s.Kind, s.Block, s.Device}
	for _, c := range cases {
		sheet := b.sheets[c.Sheet]
		if sheet == nil {
			continue
		}
		leaves := f.leafOf[c.Sheet]
		if leaves == nil {
			leaves = f.addSheet(&sheet.Sheet)
			f.leafOf[c.Sheet] = leaves
		}
	}
	f.u, f.v, f.w = make([]float64, len(f.kinds)), make([]float64, len(f.blocks)), make([]float64, len(f.leaves))
	f.n, f.e = make([]float64, len(f.leaves)), make([]float64, len(f.leaves))
	f.share, f.theta = make([]float64, len(f.leaves)), make([]float64, len(f.leaves))
	f.tally = [3][]Count{make([]Count, len(f.kinds)), make([]Count, len(f.blocks)), make([]Count, len(f.leaves))}
	f.update()
	informed := map[string]float64{}
	for _, c := range cases {
		if c.tells() {
			informed[c.Sheet] += 1 - c.Unknown
		}
	}
	for _, c := range cases { // in their order, so that the sums are the same each time
		n, ok := informed[c.Sheet]
		sheet := b.sheets[c.Sheet]
		if !ok || sheet == nil {
			continue
		}
		delete(informed, c.Sheet)
		broken := sheet.broken()
		for i, m := range sheet.Modes {
			f.share[f.leafOf[c.Sheet][i]] += n * m.prior() / broken
		}
	}
	f.flat = f.flatten(b, cases)
	return f
}

func (f *fit) addSheet(s *Sheet) []int {
	leaves := make([]int, len(s.Modes))
	for i := range s.Modes {
		keys := s.modeKeys(i)
		leaf := f.leaves.of(keys[0])
		leaves[i] = leaf
		if leaf < len(f.block) {
			continue // from an earlier sheet of the same device
		}
		block := f.blocks.of(keys[1])
		f.block = append(f.block, block)
		group := f.groups.of(s.Device)
		if group == len(f.members) {
			f.members = append(f.members, nil)
		}
		f.group = append(f.group, group)
		f.place = append(f.place, len(f.members[group]))
		f.members[group] = append(f.members[group], leaf)
		if block == len(f.kind) {
			f.kind = append(f.kind, f.kinds.of(keys[2]))
		}
	}
	return leaves
}

// update takes the factors over from the tree.
func (f *fit) update() {
	for i := range f.theta {
		f.theta[i] = math.Exp(f.eta(i))
	}
}
