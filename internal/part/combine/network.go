package combine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/part/unit"
)

// Element is what is being combined.
type Element int

// The elements; a rating is W for resistors, V for capacitors, A for inductors.
const (
	Resistors Element = iota
	Capacitors
	Inductors
)

func (e Element) unit() string { return [...]string{"Ω", "F", "H"}[e] }

// RatingUnit is the unit of the element's rating.
func (e Element) RatingUnit() string { return [...]string{"W", "V", "A"}[e] }

// Stock is one value at hand.
type Stock struct {
	Name      string
	Value     float64 // SI
	Tolerance float64 // ± fraction, below 1; 0 = exact
	Rating    float64 // see Element; 0 = not known
	Count     int     // pieces at hand
}

// node is a network while searching: a leaf (left = −1, item in right) or a
// join of two nodes.
type node struct {
	value float64
	left  *node
	right *node
	item  int
	size  int
	sum   bool // values add; otherwise inverses do
}

func leaf(i int, v float64) *node { return &node{value: v, item: i, size: 1} }

func join(sum bool, a, b *node) *node {
	return &node{value: joined(sum, a.value, b.value), left: a, right: b, size: a.size + b.size, sum: sum}
}

func joined(sum bool, a, b float64) float64 {
	if sum {
		return a + b
	}
	return 1 / (1/a + 1/b)
}

// leaves lists the stock indices of a network, left to right.
func (n *node) leaves(into []int) []int {
	if n.left == nil {
		return append(into, n.item)
	}
	return n.right.leaves(n.left.leaves(into))
}

// eval is the value with the given values of the leaves, left to right, and
// each leaf's share of energy.
func (n *node) eval(values []float64, share float64, shares []float64) float64 {
	v, _ := n.walk(values, 0)
	if shares != nil {
		n.spread(values, 0, share, shares)
	}
	return v
}

func (n *node) walk(values []float64, at int) (float64, int) {
	if n.left == nil {
		return values[at], at + 1
	}
	a, at := n.left.walk(values, at)
	b, at := n.right.walk(values, at)
	return joined(n.sum, a, b), at
}

// spread hands the share down: in proportion to the value where values add, to
// the inverse where inverses do.
func (n *node) spread(values []float64, at int, share float64, shares []float64) int {
	if n.left == nil {
		shares[at] = share
		return at + 1
	}
	a, mid := n.left.walk(values, at)
	b, _ := n.right.walk(values, mid)
	part := a / (a + b)
	if !n.sum {
		part = b / (a + b)
	}
	n.left.spread(values, at, share*part, shares)
	return n.right.spread(values, mid, share*(1-part), shares)
}

// stress is each leaf's share of what its rating limits: power, voltage or current.
func (n *node) stress(e Element, values []float64, at int, share float64, out []float64) int {
	if n.left == nil {
		out[at] = share
		return at + 1
	}
	a, mid := n.left.walk(values, at)
	b, _ := n.right.walk(values, mid)
	l, r := share, share // capacitors in parallel share the voltage, inductors in series the current
	part := a / (a + b)
	switch {
	case e == Resistors && n.sum:
		l, r = share*part, share*(1-part)
	case !n.sum:
		l, r = share*(1-part), share*part
	}
	n.left.stress(e, values, at, l, out)
	return n.right.stress(e, values, mid, r, out)
}

// text writes the network with + for series and ∥ for parallel, its parts in a
// fixed order, so that equal networks have equal texts.
func (n *node) text(e Element, name func(int) string) string {
	if n.left == nil {
		return name(n.item)
	}
	parts := n.chain(n.sum, nil)
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = p.text(e, name)
		if p.left != nil {
			words[i] = "(" + words[i] + ")"
		}
	}
	slices.Sort(words)
	sign := " + "
	if n.sum == (e == Capacitors) {
		sign = " ∥ "
	}
	return strings.Join(words, sign)
}

// chain flattens joins of the same sort.
func (n *node) chain(sum bool, into []*node) []*node {
	if n.left == nil || n.sum != sum {
		return append(into, n)
	}
	return n.right.chain(sum, n.left.chain(sum, into))
}

// Network is one way to make the value.
type Network struct {
	Text    string // such as "(22 kΩ ∥ 22 kΩ) + 1 kΩ"
	Parts   []Use
	Value   float64
	Error   float64 // (value − wanted)/wanted
	Low     float64 // all parts at their low limit
	High    float64 // all parts at their high limit
	RMS     float64 // ± fraction, root mean square
	Rating  float64 // what the whole may carry at the worst corner; 0 = not known
	Notes   []string
	element Element
}

// Use is one piece in a network.
type Use struct {
	Stock  int     // index into the stock given
	Share  float64 // nominal share of the power, voltage or current
	Worst  float64 // the same at the worst corner of tolerances
	Energy float64 // share of the stored or lost energy, the weight of its tolerance
}

// String gives the network and what it makes.
func (n Network) String() string {
	return fmt.Sprintf("%s = %s (%+.2g %%)", n.Text, unit.Format(n.Value, n.element.unit()), n.Error*100)
}

// describe works out everything about a network that was found.
func describe(n *node, e Element, stock []Stock, wanted float64) Network {
	idx := n.leaves(nil)
	nominal, lo, hi := make([]float64, len(idx)), make([]float64, len(idx)), make([]float64, len(idx))
	for i, s := range idx {
		nominal[i] = stock[s].Value
		lo[i] = stock[s].Value * (1 - stock[s].Tolerance)
		hi[i] = stock[s].Value * (1 + stock[s].Tolerance)
	}
	energy, stress := make([]float64, len(idx)), make([]float64, len(idx))
	out := Network{element: e, Value: n.eval(nominal, 1, energy)}
	out.Low, out.High = n.eval(lo, 1, nil), n.eval(hi, 1, nil)
	out.Error = out.Value/wanted - 1
	n.stress(e, nominal, 0, 1, stress)
	worst := worstStress(n, e, lo, hi)
	out.Rating = rating(idx, worst, stock)
	sum := 0.0
	for i, s := range idx {
		out.Parts = append(out.Parts, Use{Stock: s, Share: stress[i], Worst: worst[i], Energy: energy[i]})
		sum += math.Pow(energy[i]*stock[s].Tolerance, 2)
	}
	out.RMS = math.Sqrt(sum)
	out.Text = n.text(e, func(i int) string {
		if stock[i].Name != "" {
			return stock[i].Name
		}
		return unit.Format(stock[i].Value, e.unit())
	})
	out.Notes = notes(n, e, out)
	return out
}

// worstStress is each leaf's greatest share over all corners of the tolerances.
func worstStress(n *node, e Element, lo, hi []float64) []float64 {
	k := len(lo)
	worst, out, values := make([]float64, k), make([]float64, k), make([]float64, k)
	for c := range 1 << k {
		for i := range k {
			values[i] = lo[i]
			if c>>i&1 == 1 {
				values[i] = hi[i]
			}
		}
		n.stress(e, values, 0, 1, out)
		for i := range k {
			worst[i] = math.Max(worst[i], out[i])
		}
	}
	return worst
}

func rating(idx []int, share []float64, stock []Stock) float64 {
	r := math.Inf(1)
	for i, s := range idx {
		if stock[s].Rating == 0 {
			return 0
		}
		r = math.Min(r, stock[s].Rating/share[i])
	}
	return r
}

func notes(n *node, e Element, net Network) []string {
	var out []string
	if n.size > 1 && e == Capacitors {
		out = append(out, "never in place of a mains suppression capacitor (X or Y)")
		if hasSeries(n) {
			out = append(out, "in series the DC voltage divides by leakage, not by capacitance: put equal resistors across electrolytics, and mind their polarity and charge")
		}
	}
	if n.size > 1 && e == Resistors {
		out = append(out, "never in place of a fusible resistor")
	}
	if n.size > 1 && e == Inductors {
		out = append(out, "keep them apart and at right angles; steady current divides by copper resistance, not inductance")
	}
	for _, p := range net.Parts {
		if p.Worst > 0.999 && n.size > 1 && e == Resistors {
			out = append(out, "one part takes nearly all the power")
		}
	}
	return out
}

func hasSeries(n *node) bool {
	return n.left != nil && (!n.sum || hasSeries(n.left) || hasSeries(n.right))
}
