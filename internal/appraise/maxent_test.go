package appraise

// A sample is one record as the fit sees it: the features that are present,
// the classes found, and what is known before any feature is looked at.
type sample struct {
	features []int
	found    []float64 // share of each class, adding up to 1; one class has it all if the cause is known
	offset   []float64 // log weight of each class
	weight   float64
}

// maxent fits the weights w of a multinomial logistic model,
//
//	P(k | r) ∝ exp(offset_rk + Σ_{f∈r} w_fk),
//
// by minimising  -Σ_rk weight_r found_rk ln P(k | r) + ½ Σ_fk ridge_f (w_fk - mean_fk)².
// It goes through the features in turn and moves all classes of one at once
// by the gradient over a bound of the curvature, ½ Σ_r weight_r + ridge: every
// step lowers the objective, which is convex, so the order does not matter in
// the end. Cost is linear in the features present, per sweep.
//
// Reference: D. Böhning, Multinomial logistic regression algorithm, Annals of
// the Institute of Statistical Mathematics 44 (1992) 197–200, for the bound.
func maxent(samples []sample, mean [][]float64, ridge []float64, sweeps int) [][]float64 {
	if len(mean) == 0 {
		return nil
	}
	classes := len(mean[0])
	w := make([][]float64, len(mean))
	has := make([][]int, len(mean))
	score := make([][]float64, len(samples))
	p := make([][]float64, len(samples))
	for f := range mean {
		w[f] = append([]float64(nil), mean[f]...)
	}
	for r, s := range samples {
		score[r] = append([]float64(nil), s.offset...)
		p[r] = make([]float64, classes)
		for _, f := range s.features {
			has[f] = append(has[f], r)
			for k := range w[f] {
				score[r][k] += w[f][k]
			}
		}
		softmaxInto(p[r], score[r])
	}
	step := make([]float64, classes)
	for range sweeps {
		for f := range w {
			if len(has[f]) == 0 {
				continue
			}
			curve := ridge[f]
			for k := range step {
				step[k] = ridge[f] * (w[f][k] - mean[f][k])
			}
			for _, r := range has[f] {
				curve += samples[r].weight / 2
				for k, x := range p[r] {
					step[k] += samples[r].weight * (x - samples[r].found[k])
				}
			}
			for k := range step {
				step[k] /= -curve
				w[f][k] += step[k]
			}
			for _, r := range has[f] {
				for k := range step {
					score[r][k] += step[k]
				}
				softmaxInto(p[r], score[r])
			}
		}
	}
	return w
}

// only is a sample's found when the cause is known.
func only(class int) []float64 {
	found := make([]float64, len(classes))
	found[class] = 1
	return found
}
