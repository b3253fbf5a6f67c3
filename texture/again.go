package texture

import (
	"math"
	"slices"
)

// A reading of nearly the same jar starts from the last one: while a line is
// dragged the old draws are weighed anew by what the new heights say of them, so
// that the answer follows the line and not the luck of fresh draws.

// draw is what is kept of a weighted draw for a reading that starts from this one.
type draw struct {
	z              unknowns
	weight, target float64 // target is the log posterior it was weighed by, colours included
}

// basis is what a later reading of nearly the same jar starts from.
type basis struct {
	pr    problem
	draws []draw
}

// leastKept is the weight from which a draw is kept.
const leastKept = 2e-4

func (pr *problem) basis(s []sample) *basis {
	b := &basis{pr: *pr}
	for i := range s {
		if s[i].weight > leastKept {
			b.draws = append(b.draws, draw{s[i].z, s[i].weight, s[i].target + s[i].colour})
		}
	}
	return b
}

// again weighs the draws of a reading of nearly the same jar: as they are, or all
// carried along by as much as the peak moves, whichever finds more of the posterior.
// Where few of them fit the new jar, or none follows one of its lines, all is done
// afresh.
func (pr *problem) again(b *basis) []sample {
	shift := pr.moved(b)
	out, found := pr.reweigh(b.draws, &unknowns{})
	if carried, more := pr.reweigh(b.draws, &shift); more > found {
		out = carried
	}
	if effective(out) < fewDraws || len(pr.surprises(out)) > 0 {
		pr.effort = thorough
		return pr.posterior()
	}
	return out
}

// reweigh weighs draws that were all moved by shift. Moving changes no volume, so a
// draw counts for what it is worth now over what it was worth then. found is the log
// of how much of the posterior they find.
func (pr *problem) reweigh(draws []draw, shift *unknowns) (out []sample, found float64) {
	out = make([]sample, len(draws))
	hi := math.Inf(-1)
	for i, d := range draws {
		z := d.z
		for k := range z {
			z[k] += shift[k]
		}
		out[i] = pr.evaluate(z)
		out[i].weight = math.Log(d.weight) + out[i].target + out[i].colour - d.target
		hi = math.Max(hi, out[i].weight)
	}
	sum := normalise(out, func(s *sample) float64 { return math.Exp(s.weight - hi) })
	return out, hi + math.Log(sum)
}

// moved is how far the peak near the middle of the old posterior moved.
func (pr *problem) moved(b *basis) unknowns {
	var mean unknowns
	for _, d := range b.draws {
		for k := range mean {
			mean[k] += d.weight * d.z[k]
		}
	}
	before, _ := b.pr.apart().climb(mean, climbSteps)
	after, _ := pr.climb(before, climbSteps)
	for k := range after {
		after[k] -= before[k]
	}
	return after
}

// apart is the same problem with a room of its own to reckon in.
func (pr *problem) apart() *problem {
	out := *pr
	out.data = slices.Clone(pr.data)
	out.heights = make([]heights, len(pr.heights))
	out.pred, out.base, out.slope = make([]predicted, len(pr.data)), nil, make([]unknowns, len(pr.data))
	return &out
}

// normalise sets weights that sum to one, and returns what they summed to.
func normalise(s []sample, weight func(*sample) float64) (sum float64) {
	for i := range s {
		s[i].weight = weight(&s[i])
		sum += s[i].weight
	}
	for i := range s {
		s[i].weight /= sum
	}
	return sum
}
