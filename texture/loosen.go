package texture

import "math"

// Lines that contradict each other, as those of photos of two jars do, fit no soil.
// What fits them least badly is found by very few draws, which lie close together: such
// ranges would be narrow because nothing fits.

// reconciled are the draws, and what of the lines the physics could not follow, worst
// first. Where there is any such line, all lines are taken to be as unsure as they prove
// to be, and all is drawn again; where few draws carry the weight, it is spread. misfit
// is by how much the lines scatter more than their errors allow, 1 where they do not.
func (pr *problem) reconciled(draws []sample) (out []sample, odd []Surprise, misfit float64) {
	odd = pr.surprises(draws)
	misfit = math.Max(pr.birge(odd), 1)
	if pr.effort == quick {
		return draws, odd, misfit // a glance, which a whole reading follows
	}
	for range loosenings {
		ratio := pr.birge(pr.surprises(draws))
		if ratio <= 1 {
			break
		}
		pr.loosen(ratio)
		draws = pr.posterior()
	}
	evenOut(draws)
	return draws, odd, misfit
}

// loosenings is how often errors are widened at most: the first draws of lines that
// contradict each other tell only roughly by how much.
const loosenings = 2

// birge is by how much the heights scatter more than their errors allow: the root of
// the sum of squares of what is odd over one less than the heights (R. T. Birge, The
// calculation of errors by the method of least squares, Physical Review 40, 1932; from
// memory). Heights that fit are counted as if they fitted exactly.
func (pr *problem) birge(odd []Surprise) float64 {
	heights, squares := 0, 0.0
	for _, m := range pr.data {
		if m.line <= siltTop && m.choices == nil {
			heights++
		}
	}
	for _, s := range odd {
		squares += s.Sigmas * s.Sigmas
	}
	return math.Sqrt(squares / math.Max(float64(heights-1), 1))
}

// loosen widens the errors of all lines by the ratio.
func (pr *problem) loosen(ratio float64) {
	for i := range pr.data {
		m := &pr.data[i]
		if m.line > siltTop {
			continue
		}
		m.scale *= ratio
		for k := range m.shared {
			m.shared[k].sd *= ratio
		}
		for k := range m.choices {
			m.choices[k].sd *= ratio
		}
	}
}

// leastDraws is the effective number of draws below which their spread says nothing.
const leastDraws = 10

// evenOut evens out the weights where fewer than leastDraws carry them, by the highest
// power below one that brings them to as many.
func evenOut(s []sample) {
	if effective(s) >= leastDraws {
		return
	}
	given := make(map[*sample]float64, len(s))
	for i := range s {
		given[&s[i]] = s[i].weight
	}
	raise := func(power float64) {
		normalise(s, func(d *sample) float64 { return math.Pow(given[d], power) })
	}
	low, high := 0.0, 1.0
	for range 20 {
		middle := (low + high) / 2
		if raise(middle); effective(s) < leastDraws {
			high = middle
		} else {
			low = middle
		}
	}
	raise(low)
}
