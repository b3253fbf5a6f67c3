package layers

import (
	"math"

	"mudline/internal/equations"
)

// refine follows a line across the jar, part by part from the middle outwards,
// and fits a smooth curve. That gives its height at the very front, what tilt
// and bow the frame left over, and how uncertain it is.
func (k *columns) refine(l *line) {
	const parts = 8
	if k.n < parts {
		l.rough = math.Inf(1)
		return
	}
	r0 := k.row(l.z)
	var us, os [parts]float64
	n := 0
	follow := func(from, to, by int) {
		at := 0
		for p := from; p != to; p += by {
			lo, hi := p*k.n/parts, (p+1)*k.n/parts
			u := (k.u[lo] + k.u[hi-1]) / 2
			bend := int(math.Round(l.curve * lift(u) / k.mmPerRow))
			o, ok := k.followPart(l, lo, hi, r0+at+bend)
			if !ok {
				continue
			}
			at += o
			us[n], os[n] = u, -float64(at+bend)*k.mmPerRow
			n++
		}
	}
	follow(parts/2-1, -1, -1)
	follow(parts/2, parts, 1)
	prior := 0.02 * k.waterMM
	if l.size < 2.5 {
		prior = 0.008 * k.waterMM // a faint line says little about its bow
	}
	if l.curve > 0 {
		prior = 0.05 * k.waterMM
	}
	l.fit(us[:n], os[:n], k.mmPerRow, prior)
}

// followPart finds line l near row r in the columns lo..hi-1: by how many rows
// it is off, and whether it is there at all.
func (k *columns) followPart(l *line, lo, hi, r int) (offset int, ok bool) {
	win, reach := k.rows(fineWindow*k.waterMM), max(k.rows(0.007*k.waterMM), 4)
	best := 0.0
	for o := -reach; o <= reach; o++ {
		sum := 0.0
		for c := lo; c < hi; c++ {
			d, _ := k.diff(c, r+o-win, r+o, r+o, r+o+win)
			sum += d[0]*l.d[0] + d[1]*l.d[1] + d[2]*l.d[2]
		}
		if sum > best {
			best, offset = sum, o
		}
	}
	found := best > 0.5*l.size*l.size*float64(hi-lo)
	return offset, found && offset > -reach && offset < reach
}

// fit moves the line to the smooth curve through the heights os (relative to
// it) found at us; prior is how large a curvature the frame can leave.
func (l *line) fit(us, os []float64, mmPerRow, prior float64) {
	if len(us) < 4 {
		l.rough = math.Inf(1)
		return
	}
	x := fitCurve(us, os, 0.4*mmPerRow/prior) // rows are whole: 0.3 of one
	rough := max(0.4*mmPerRow, roughness(us, os, x))
	x = fitCurve(us, os, rough/prior)
	l.rough = roughness(us, os, x)
	l.z += x[0]
	l.curve = x[2]
	l.sd = math.Hypot(1.5*l.rough/math.Sqrt(float64(len(us))), mmPerRow/2)
}

// fitCurve is the least-squares fit of os = x0 + x1*u - x2*lift(u), with x2
// held towards zero by a prior whose spread is 1/tight noise levels.
func fitCurve(us, os []float64, tight float64) [3]float64 {
	var m [3][4]float64
	for i, u := range us {
		f := [3]float64{1, u, -lift(u)}
		for r := range 3 {
			for c := range 3 {
				m[r][c] += f[r] * f[c]
			}
			m[r][3] += f[r] * os[i]
		}
	}
	m[2][2] += sq(tight)
	return equations.Solve3(m)
}

// roughness is the standard deviation of os about the fitted curve.
func roughness(us, os []float64, x [3]float64) float64 {
	var res float64
	for i, u := range us {
		res += sq(os[i] - x[0] - x[1]*u + x[2]*lift(u))
	}
	return math.Sqrt(res / float64(len(us)-2))
}

func sq(x float64) float64 { return x * x }
