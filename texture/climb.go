package texture

import "math"

// jacobian fills pr.base with the model's values at z and pr.slope with their
// derivatives, a row for each measured number.
func (pr *problem) jacobian(z *unknowns) {
	const step = 0.05
	pr.predict(z)
	pr.base = append(pr.base[:0], pr.pred...)
	for i := range pr.slope {
		pr.slope[i] = unknowns{}
		for _, l := range pr.data[i].shared {
			pr.slope[i][l.unknown] += l.sd
		}
	}
	for _, k := range derivativeOrder {
		moved := *z
		moved[k] += step
		if ofLooking[k] {
			pr.read(&moved)
		} else {
			pr.predict(&moved)
		}
		for i := range pr.pred {
			pr.slope[i][k] = (pr.pred[i].at - pr.base[i].at) / step
		}
	}
}

// ofLooking marks the unknowns that change what is seen of a settled jar, not
// how it settles; their derivatives come first, while the jar is as settled at z.
var ofLooking = [dim]bool{uConsolidation: true, uTime: true, uClayLine: true, uClarity: true}

// plain is the first of the unknowns that settling does not hang on: errors that
// photos share, which add to the heights, and what no height tells.
const plain = uSandShift

var derivativeOrder = func() (order []int) {
	for _, first := range []bool{true, false} {
		for k := range plain {
			if ofLooking[k] == first {
				order = append(order, k)
			}
		}
	}
	return order
}()

// information returns the Gauss-Newton information of the data at z, without
// the prior's, and the gradient of the log posterior.
func (pr *problem) information(z *unknowns) (h matrix, gradient unknowns) {
	pr.jacobian(z)
	for k := range dim {
		gradient[k] = -z[k]
	}
	for i := range pr.data {
		r, w := pr.data[i].misfit(pr.base[i])
		row := &pr.slope[i]
		for a := range dim {
			if row[a] == 0 {
				continue
			}
			wa := w * row[a]
			gradient[a] += wa * r
			for b := range dim {
				h[a][b] += wa * row[b]
			}
		}
	}
	return h, gradient
}

// climb finds a peak of the posterior from z by damped Gauss-Newton steps, and
// its height.
func (pr *problem) climb(z unknowns, steps int) (unknowns, float64) {
	best, damp := pr.logPosterior(&z), 0.3
	for range steps {
		h, gradient := pr.information(&z)
		gained := 0.0
		for range 4 {
			d, step := h, gradient
			for k := range dim {
				d[k][k] = (d[k][k] + 1) * (1 + damp)
			}
			if !d.cholesky() {
				return z, best
			}
			d.solveLower(&step)
			d.solveUpper(&step)
			next := z
			for k := range dim {
				next[k] += clamp(step[k], -1.5, 1.5)
			}
			if l := pr.logPosterior(&next); l > best {
				gained, best, z = l-best, l, next
				damp *= 0.2
				break
			}
			damp = damp*6 + 0.05
		}
		if gained < 0.03 {
			break
		}
	}
	return z, best
}

// ridge is a law to draw from that follows a curved posterior: some directions
// of the unknowns the photos leave as free as they were, the others they fix.
// Free ones are drawn from the normal law at the peak; the model then says, by
// one Gauss-Newton step, about where the fixed ones lie for that (the idea of
// implicit sampling, Chorin & Tu 2009).
type ridge struct {
	top    float64       // log posterior at the peak
	axes   matrix        // columns are the directions
	turned [dim]unknowns // the same, a direction a row
	centre unknowns      // the peak, along the axes
	sd     unknowns      // of the law, along the axes
	fixed  [dim]bool
	gain   []unknowns // how the fixed directions answer to each residual
	logSD  float64
	share  float64 // of the draws
}

const (
	fixedFrom = 2.0  // information, in units of the prior's, from which a direction is fixed
	widen     = 1.15 // the law's spread over that at the peak: tails cost little, lacking them much
)

// newRidge lays a ridge through the peak z.
func (pr *problem) newRidge(z unknowns, top float64) ridge {
	h, _ := pr.information(&z)
	r := ridge{top: top, gain: make([]unknowns, len(pr.data))}
	var info unknowns
	info, r.axes = h.eigen()
	for k := range dim {
		r.sd[k] = widen / math.Sqrt(1+math.Max(info[k], 0))
		r.fixed[k] = info[k] > fixedFrom
		r.logSD += math.Log(r.sd[k])
	}
	for p := range dim {
		for k := range dim {
			r.turned[k][p] = r.axes[p][k]
		}
	}
	r.centre = r.onto(&z)
	for i := range pr.data {
		_, w := pr.data[i].misfit(pr.base[i])
		r.gain[i] = r.onto(&pr.slope[i])
		for k := range dim {
			r.gain[i][k] *= w / (1 + math.Max(info[k], 0))
		}
	}
	return r
}

// onto returns the coordinates of z along the axes.
func (r *ridge) onto(z *unknowns) (y unknowns) {
	for k := range dim {
		y[k] = dot(&r.turned[k], z)
	}
	return y
}

// along returns the unknowns at coordinates y.
func (r *ridge) along(y *unknowns) (z unknowns) {
	for p := range dim {
		z[p] = dot((*unknowns)(&r.axes[p]), y)
	}
	return z
}

// dot is the scalar product, in four sums so that none waits for the one before.
func dot(a, b *unknowns) float64 {
	var s0, s1, s2, s3 float64
	k := 0
	for ; k+4 <= dim; k += 4 {
		s0 += a[k] * b[k]
		s1 += a[k+1] * b[k+1]
		s2 += a[k+2] * b[k+2]
		s3 += a[k+3] * b[k+3]
	}
	for ; k < dim; k++ {
		s0 += a[k] * b[k]
	}
	return s0 + s1 + (s2 + s3)
}

// distance2 is the squared distance of z from the peak, in standard deviations.
func (r *ridge) distance2(z *unknowns) float64 {
	y := r.onto(z)
	sum := 0.0
	for k := range dim {
		x := (y[k] - r.centre[k]) / r.sd[k]
		sum += x * x
	}
	return sum
}

// draw turns standard normal numbers into a draw and its log density. The
// numbers are turned onto the axes first: of directions that are alike free the
// axes are arbitrary, down to rounding, and a draw must not hang on them.
func (r *ridge) draw(pr *problem, noise *unknowns) (unknowns, float64) {
	e := r.onto(noise)
	y := r.centre
	for k := range dim {
		if !r.fixed[k] {
			y[k] += r.sd[k] * e[k]
		}
	}
	z := r.along(&y)
	pr.predict(&z)
	var step unknowns
	for i := range pr.data {
		miss, _ := pr.data[i].misfit(pr.pred[i])
		for k := range dim {
			step[k] += r.gain[i][k] * miss
		}
	}
	log := -r.logSD
	for k := range dim {
		log -= e[k] * e[k] / 2
		if r.fixed[k] {
			pull := y[k] * r.sd[k] * r.sd[k] / (widen * widen)
			y[k] += clamp(step[k]-pull, -2, 2) + r.sd[k]*e[k]
		}
	}
	return r.along(&y), log
}
