package layers

import "math"

// sandOdds fills in the odds of all marks: exactly one of them is the sand's
// top, or none, and the log odds of each is a weighed sum of its traits (a
// conditional logit). It returns the probability that none is.
func sandOdds(marks []mark, w *[sandTraits]float64, none float64) float64 {
	top := none
	for i := range marks {
		marks[i].odds = dot(marks[i].traits[:], w[:])
		top = max(top, marks[i].odds)
	}
	all := math.Exp(none - top)
	for i := range marks {
		marks[i].odds = math.Exp(marks[i].odds - top)
		all += marks[i].odds
	}
	for i := range marks {
		marks[i].odds /= all
	}
	return math.Exp(none-top) / all
}

// siltOdds is the probability of every step of a slope to be where silt ends,
// by the same kind of model, and that of ending nowhere.
func siltOdds(s *slope, w *[siltTraits]float64, none float64) (p []float64, nowhere float64) {
	p = make([]float64, len(s.traits))
	top := none
	for i := range p {
		p[i] = dot(s.traits[i][:], w[:]) + math.Log((s.below[i]+1e-3)/float64(len(p)))
		top = max(top, p[i])
	}
	nowhere = math.Exp(none - top)
	all := nowhere
	for i := range p {
		p[i] = math.Exp(p[i] - top)
		all += p[i]
	}
	for i := range p {
		p[i] /= all
	}
	return p, nowhere / all
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
