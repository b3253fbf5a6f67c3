package texture

import "math"

// divide is where a deposit is parted into what is poor in a grain kind, below,
// and what is rich in it, above. The height that parts it best is where the running
// sum of (line - share) is greatest; how likely an eye takes another one goes by how
// little that sum falls short there, since steps that differ little look alike.
type divide struct {
	line   float64
	n      int
	z, sum [jarClasses + 1]float64
	best   float64
}

// eyeMM is the shortfall of the sum, in mm of pure material, that makes a height
// e times less likely to be taken for the boundary. A guess: half as much or twice
// as much serves rendered jars as well, none at all lets the line leap by millimetres
// where two steps are alike, which no reading should hang on.
const eyeMM = 0.07

func (d *divide) add(thick, share, weight float64) {
	d.n++
	d.z[d.n] = d.z[d.n-1] + thick
	d.sum[d.n] = d.sum[d.n-1] + (d.line-share)*weight*thick
	d.best = max(d.best, d.sum[d.n])
}

// likeness is how likely height k is taken, over the best.
func (d *divide) likeness(k int) float64 {
	x := (d.sum[k] - d.best) / eyeMM
	if x < -12 {
		return 0
	}
	return math.Exp(x)
}

// height is the mean and standard deviation of the height taken for the boundary.
func (d *divide) height() (mm, sd float64) {
	var mass, first, second float64
	before := d.likeness(0)
	for k := 1; k <= d.n; k++ {
		after := d.likeness(k)
		if before+after > 1e-4 {
			thick, rise := d.z[k]-d.z[k-1], (d.sum[k]-d.sum[k-1])/eyeMM
			m, at, spread := thick*(before+after)/2, 0.5+rise/12, 1.0/12
			if math.Abs(rise) > 0.05 {
				step := after - before
				m = thick * step / rise
				at = after/step - 1/rise
				spread = 1/(rise*rise) - before*after/(step*step)
			}
			at = d.z[k-1] + at*thick
			mass += m
			first += m * at
			second += m * (at*at + spread*thick*thick)
		}
		before = after
	}
	if mass <= 0 {
		return 0, 0
	}
	mm = first / mass
	return mm, math.Sqrt(max(second/mass-mm*mm, 0))
}

// part is the share of a in a+b; one where there is neither.
func part(a, b float64) float64 {
	if a+b <= 0 {
		return 1
	}
	return a / (a + b)
}
