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

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/library"
)

// A bill is what every habit came to on one device, and how far the advice is from each, with its standard error.
type bill struct {
	device string
	scores []score
	gap    []paired // advice less habit, per habit
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

// best is the habit that came out cheapest, the advice left out.
func (b bill) best() int {
	best := 1
	for h := range b.scores {
		if h > 0 && b.scores[h].total < b.scores[best].total {
			best = h
		}
	}
	return best
}

// saving is by how much the advice is cheaper than habit h, as a share.
func (b bill) saving(h int) float64 { return 1 - b.scores[0].total/b.scores[h].total }

// measureDevice plays one device: complaints are drawn, then what is really wrong.
func measureDevice(t testing.TB, lib *note.Library, id string, complaints, draws int) bill {
	t.Helper()
	m, err := lib.Model(id)
	if err != nil {
		t.Fatal(err)
	}
	e, err := belief.New(m, belief.Options{})
	if err != nil {
		t.Fatal(err)
	}
	seed := uint64(9)
	for _, c := range id {
		seed = mix(seed + uint64(c))
	}
	rng := rand.New(rand.NewPCG(9, seed))
	hs := habits()
	out := bill{device: id, scores: make([]score, len(hs)), gap: make([]paired, len(hs))}
	for range complaints {
		q := quarrelOver(t, e, rng)
		sums := make([]float64, len(hs))
		for range draws {
			truth, seed := q.truth(rng), rng.Uint64()
			for h, x := range hs {
				sums[h] += out.scores[h].add(play(q.p, q.root, truth, seed, x), q.p.tariff.loss()) / float64(draws)
			}
		}
		for h := range hs {
			out.gap[h].perComplaint = append(out.gap[h].perComplaint, sums[0]-sums[h])
		}
	}
	return out
}

// A few devices in every run, all of them with FETTLER_BOUTS complaints each, which also writes docs/decision-bouts.csv.
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
		h := b.best()
		t.Logf("%-28s advice %v; best habit %s %v; cheaper by %.1f %% (difference %.2f ± %.2f)",
			id, b.scores[0], habits()[h].name, b.scores[h], 100*b.saving(h), b.gap[h].mean(), b.gap[h].se())
	}
	mean := 0.0
	for _, b := range bills {
		mean += b.saving(b.best()) / float64(len(bills))
	}
	total := make([]float64, len(habits()))
	for _, b := range bills {
		for h, s := range b.scores {
			total[h] += s.total
		}
	}
	t.Logf("%d devices: cheaper than the best habit of each by %.1f %% on average", len(bills), 100*mean)
	for h := range total {
		t.Logf("over all: %s %.2f", habits()[h].name, total[h]/float64(bills[0].scores[0].n*len(bills)))
	}
	if mean < 0 {
		t.Errorf("habits do better than the advice, by %.1f %%", -100*mean)
	}
	if all {
		writeBills(t, bills)
	}
}

// writeBills keeps the table beside the documentation.
func writeBills(t testing.TB, bills []bill) {
	t.Helper()
	var w strings.Builder
	w.WriteString("device,bouts")
	for _, h := range habits() {
		fmt.Fprintf(&w, ",%[1]s: fixed,%[1]s: money,%[1]s: minutes,%[1]s: total", h.name)
	}
	w.WriteString(",best habit,advice cheaper by %,difference,its standard error\n")
	for _, b := range bills {
		fmt.Fprintf(&w, "%s,%d", b.device, b.scores[0].n)
		for _, s := range b.scores {
			n := float64(s.n)
			fmt.Fprintf(&w, ",%.3f,%.2f,%.1f,%.2f", s.fixed/n, s.money/n, s.minutes/n, s.total/n)
		}
		h := b.best()
		fmt.Fprintf(&w, ",%s,%.1f,%.2f,%.2f\n", habits()[h].name, 100*b.saving(h), b.gap[h].mean(), b.gap[h].se())
	}
	if err := os.WriteFile(filepath.Join("..", "..", "docs", "decision-bouts.csv"), []byte(w.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
