package plan

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fettler/internal/note"
	"fettler/library"
)

// A bill is what every habit came to on one device, and how far the advice is from each, with its standard error.
type bill struct {
	device string
	scores []score
	gap    []paired // advice less habit, per habit
	floor  float64  // what it would cost if it were known from the start what is wrong: no policy can do better
}

// A paired figure is a mean of differences under common luck. Bouts over one
// complaint are alike, so the standard error is that between complaints.
type paired struct{ perComplaint []float64 }

func (d paired) mean() float64 {
	sum := 0.0
	for _, x := range d.perComplaint {
		sum += x / float64(len(d.perComplaint))
	}
	return sum
}

func (d paired) se() float64 {
	n := float64(len(d.perComplaint))
	if n < 2 {
		return math.Inf(1)
	}
	m, sum := d.mean(), 0.0
	for _, x := range d.perComplaint {
		sum += (x - m) * (x - m)
	}
	return math.Sqrt(sum / (n - 1) / n)
}

// fourHabits is how many of the habits, after the advice, count for the comparison; the rest are shown beside it.
const fourHabits = 4

// best is the habit from first to last that came out cheapest.
func (b bill) best(first, last int) int {
	best := first
	for h := first; h <= last; h++ {
		if b.scores[h].total < b.scores[best].total {
			best = h
		}
	}
	return best
}

// plain is the cheapest of the four habits, sharp that of the sharper ones.
func (b bill) plain() int { return b.best(1, fourHabits) }
func (b bill) sharp() int { return b.best(fourHabits+1, len(b.scores)-2) }

// saving is by how much the advice is cheaper than habit h, as a share.
func (b bill) saving(h int) float64 { return 1 - b.scores[0].total/b.scores[h].total }

// measureDevice plays one device: complaints are drawn, then what is really wrong.
func measureDevice(t testing.TB, lib *note.Library, id string, complaints, draws int) bill {
	t.Helper()
	m, err := lib.Model(id)
	if err != nil {
		t.Fatal(err)
	}
	e, prior := brought(t, m)
	seed := uint64(9)
	for _, c := range id {
		seed = mix(seed + uint64(c))
	}
	rng := rand.New(rand.NewPCG(9, seed))
	hs := habits()
	out := bill{device: id, scores: make([]score, len(hs)), gap: make([]paired, len(hs))}
	for range complaints {
		q := quarrelOver(t, e, prior, rng)
		out.floor += q.p.floor(q.root.b, q.root.at) / float64(complaints)
		sums := make([]float64, len(hs))
		for range draws {
			truth, seed := q.truth(rng), rng.Uint64()
			for h, x := range hs {
				sums[h] += out.scores[h].add(play(t, q.p, q.root, truth, seed, x), q.p.tariff.loss()) / float64(draws)
			}
		}
		for h := range hs {
			out.gap[h].perComplaint = append(out.gap[h].perComplaint, sums[0]-sums[h])
		}
	}
	return out
}

// The advice is cheaper than habits, and follows them to an end. A few devices in every run; all of them with FETTLER_BOUTS complaints
// each, which also writes docs/decision-bouts.csv. FETTLER_DEVICES names some instead.
func TestAdviceAgainstHabits(t *testing.T) {
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	complaints, devices, all := 3, []string{"bread-maker", "blender", "desk-lamp-led", "fan-heater"}, false
	if s := os.Getenv("FETTLER_BOUTS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 2 {
			t.Fatalf("FETTLER_BOUTS is %q; it must be a number from 2", s)
		}
		complaints, devices, all = n, nil, true
		for _, d := range lib.Devices() {
			devices = append(devices, d.ID)
		}
	}
	if s := os.Getenv("FETTLER_DEVICES"); s != "" {
		devices, all = strings.Fields(s), false
	}
	var bills []bill
	for _, id := range devices {
		b := measureDevice(t, lib, id, complaints, 10)
		bills = append(bills, b)
		h, g := b.plain(), b.sharp()
		t.Logf("%-28s advice %v; best habit %s %v: saves %.1f %% (%.2f ± %.2f); best sharper one %s: %.1f %% (%.2f ± %.2f); known %.2f", id, b.scores[0],
			habits()[h].name, b.scores[h], 100*b.saving(h), -b.gap[h].mean(), b.gap[h].se(), habits()[g].name, 100*b.saving(g), -b.gap[g].mean(), b.gap[g].se(), b.floor)
		if all && b.saving(h) < -0.02 {
			t.Errorf("%s: the habit %q does better than the advice", id, habits()[h].name)
		}
	}
	if mean := summary(t, bills); mean < 0.05 {
		t.Errorf("the advice saves %.1f %% against the best habit of each device; at least 5 are asked for", 100*mean)
	}
	if all {
		writeBills(t, bills)
	}
}

// summary logs the means over all devices, each weighing the same, and returns the saving against the best habit of each.
func summary(t testing.TB, bills []bill) float64 {
	t.Helper()
	n := float64(len(bills))
	var plain, sharp, known, dearer float64
	var careful paired // what is shown less what is cheapest, per device
	total, saved := make([]score, len(habits())), make([]float64, len(habits()))
	for _, b := range bills {
		plain += b.saving(b.plain()) / n
		sharp += b.saving(b.sharp()) / n
		known += (1 - b.floor/(b.scores[b.plain()].total/float64(b.scores[0].n))) / n
		if b.saving(b.plain()) < -0.02 {
			dearer++
		}
		careful.perComplaint = append(careful.perComplaint, b.gap[len(b.gap)-1].mean())
		for h, s := range b.scores {
			total[h].n += s.n
			total[h].fixed += s.fixed
			total[h].money += s.money
			total[h].minutes += s.minutes
			total[h].total += s.total
			saved[h] += b.saving(h) / n
		}
	}
	for h, s := range total {
		t.Logf("| %s | %v | %.1f %% |", habits()[h].name, s, 100*saved[h])
	}
	t.Logf("%d devices: against the best of the four habits of each device the advice saves %.1f %%, against the best of the sharper ones %.1f %%; knowing what is wrong would save %.1f %%; on %.0f devices it is more than 2 %% dearer",
		len(bills), 100*plain, 100*sharp, 100*known, dearer)
	t.Logf("what is shown comes to %+.3f ± %.3f more than the cheapest move", careful.mean(), careful.se())
	return plain
}

// writeBills keeps the table beside the documentation.
func writeBills(t testing.TB, bills []bill) {
	t.Helper()
	var w strings.Builder
	w.WriteString("device,bouts")
	for _, h := range habits() {
		fmt.Fprintf(&w, ",%[1]s: fixed,%[1]s: money,%[1]s: minutes,%[1]s: total", h.name)
	}
	w.WriteString(",known from the start,best habit,saved %,saved,standard error,best sharper habit,saved %,saved,standard error\n")
	for _, b := range bills {
		fmt.Fprintf(&w, "%s,%d", b.device, b.scores[0].n)
		for _, s := range b.scores {
			n := float64(s.n)
			fmt.Fprintf(&w, ",%.3f,%.2f,%.1f,%.2f", s.fixed/n, s.money/n, s.minutes/n, s.total/n)
		}
		fmt.Fprintf(&w, ",%.2f", b.floor)
		for _, h := range []int{b.plain(), b.sharp()} {
			fmt.Fprintf(&w, ",%s,%.1f,%.2f,%.2f", habits()[h].name, 100*b.saving(h), -b.gap[h].mean(), b.gap[h].se())
		}
		w.WriteByte('\n')
	}
	if err := os.WriteFile(filepath.Join("..", "..", "docs", "decision-bouts.csv"), []byte(w.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
