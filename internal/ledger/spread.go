package ledger

import (
	"gonum.org/v1/gonum/mat"
)

// spreads are the uncertainties of the log factors at the top.
type spreads struct {
	ofU, ofUV  []float64    // of a kind; of a block
	covariance []*mat.Dense // per device, of its leaves
}

// spreads combines the information of the cases with the hierarchy. What one
// device's cases tell of its factors goes in full, correlations and all; what it
// takes from other devices by way of blocks and kinds enters as an independent
// prior for each factor, computed without the device's own cases.
func (f *fit) spreads(x *arrow, info [][]float64) spreads {
	alone := 1/f.s[0] + 1/f.s[1] + 1/f.s[2]
	prior := make([]float64, len(f.w)) // precision
	for i := range prior {
		prior[i] = 1 / alone
	}
	told := make([]float64, len(f.w)) // what the cases tell of each factor by itself
	for g, leaves := range f.members {
		c := invert(info[g], leaves, prior)
		for i, l := range leaves {
			told[l] = max(0, 1/c.At(i, i)-prior[l])
		}
	}
	out := spreads{covariance: make([]*mat.Dense, len(f.members))}
	var without []float64
	out.ofU, out.ofUV, without = f.variances(x, told)
	for l := range prior {
		prior[l] = 1 / (without[l] + 1/f.s[2])
	}
	for g, leaves := range f.members {
		out.covariance[g] = invert(info[g], leaves, prior)
	}
	return out
}

// invert returns (J + diag(prior))⁻¹. Rounding, and evidence that is not quite at
// its top, can leave J a little short of positive; the prior is then raised until
// it holds.
func invert(info []float64, leaves []int, prior []float64) *mat.Dense {
	n := len(leaves)
	m := mat.NewSymDense(n, nil)
	extra := 0.0
	for range 60 {
		for i := range n {
			for j := i; j < n; j++ {
				m.SetSym(i, j, info[i*n+j])
			}
			m.SetSym(i, i, info[i*n+i]+prior[leaves[i]]*(1+extra))
		}
		var c mat.Cholesky
		if c.Factorize(m) {
			var inverse mat.SymDense
			if c.InverseTo(&inverse) == nil {
				return mat.DenseCopyOf(&inverse)
			}
		}
		extra = 2*extra + 0.01
	}
	out := mat.NewDense(n, n, nil)
	for i, l := range leaves {
		out.Set(i, i, 1/prior[l])
	}
	return out
}
