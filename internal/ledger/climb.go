package ledger

import "math"

const (
	mostRounds = 2000
	settled    = 1e-5 // largest change of a log factor in a round at which it ends
)

// round is one round of expectation and maximisation: the cases are spread over
// their candidates under the present factors; each device's exposure is scaled so
// that as many faults are expected as were counted (which makes the Poisson counts
// a multinomial one: only ratios within a device matter); the tree climbs to its top.
func (f *fit) round(x *arrow) {
	f.update()
	f.expect()
	for _, leaves := range f.members {
		count, expected := 0.0, 0.0
		for _, l := range leaves {
			count += f.n[l]
			expected += f.share[l] * f.theta[l]
		}
		for _, l := range leaves {
			f.e[l] = 0
			if expected > 0 {
				f.e[l] = f.share[l] * count / expected
			}
		}
	}
	f.solve(x)
	recentre(f.u)
	recentre(f.v)
	for _, leaves := range f.members {
		sum := 0.0
		for _, l := range leaves {
			sum += math.Exp(f.w[l])
		}
		shift := math.Log(sum / float64(len(leaves)))
		for _, l := range leaves {
			f.w[l] -= shift
		}
	}
}

// recentre shifts log factors by what the free scale of the devices takes up, to
// where their prior is highest: Σ(s·x − s·eˣ) over a common shift has its top at
// mean eˣ = 1. It saves the rounds that would slowly creep there (Liu, Rubin and
// Wu 1998).
func recentre(x []float64) {
	if len(x) == 0 {
		return
	}
	sum := 0.0
	for _, v := range x {
		sum += math.Exp(v)
	}
	shift := math.Log(sum / float64(len(x)))
	for i := range x {
		x[i] -= shift
	}
}

// climb repeats the round until the factors settle, two rounds at a time and
// then a leap along what the two have in common (SQUAREM), since plain rounds
// approach slowly where it is uncertain which fault a case had. A leap that
// leads away is taken back.
//
// References: Varadhan and Roland 2008, scheme S3.
func (f *fit) climb(round func()) {
	x0, x1, x2 := f.vector(nil), []float64(nil), []float64(nil)
	before := math.Inf(1)
	for f.steps = 0; f.steps < mostRounds; {
		round()
		x1 = f.vector(x1)
		round()
		x2 = f.vector(x2)
		f.steps += 2
		rr, vv := 0.0, 0.0
		f.residual = 0
		for i := range x0 {
			r, d := x1[i]-x0[i], x2[i]-x1[i]
			rr += r * r
			vv += (d - r) * (d - r)
			f.residual = max(f.residual, math.Abs(d))
		}
		if f.residual < settled || vv == 0 {
			break
		}
		leap := max(1, min(math.Sqrt(rr/vv), 256))
		if f.residual > 2*before {
			leap = 1
		}
		before = f.residual
		for i := range x0 {
			r := x1[i] - x0[i]
			x0[i] += 2*leap*r + leap*leap*(x2[i]-x1[i]-r)
			x0[i] = max(-30, min(30, x0[i]))
		}
		f.put(x0)
		round() // a round after the leap smooths it
		x0 = f.vector(x0)
		f.steps++
	}
	f.update()
}

// vector copies the state of the tree; put puts it back.
func (f *fit) vector(into []float64) []float64 {
	into = append(into[:0], f.u...)
	into = append(into, f.v...)
	return append(into, f.w...)
}

func (f *fit) put(x []float64) {
	n := copy(f.u, x)
	n += copy(f.v, x[n:])
	copy(f.w, x[n:])
}
