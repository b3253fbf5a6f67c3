package texture

import "math"

// Shade is the deposit's colour at one height.
type Shade struct {
	Share float64    // height above the inner floor, a share of the water depth
	Lab   [3]float64 // CIELAB
}

// What shades are worth. Each colour channel is a mixture of three unknown colours,
// of sand, silt and clay, by what the model lays down at that height; clay may be
// lighter or darker than silt. Light and smears make it drift over the height.
// All are guesses, settled with rendered jars: chosen on either half of them the other
// half gains as much, and with the drift, its length or the spreads halved or doubled
// both still gain.
const (
	shadeSD     = 0.5  // of a slice's own error, CIELAB units
	driftSD     = 1.5  // of the drift
	driftLength = 0.2  // over which it forgets itself, as a share of the deposit
	claySpread  = 8.0  // of the difference between clay and silt, before looking
	sandSpread  = 12.0 // and between sand and silt
	// shadeWorth is what the likelihood counts for: the channels drift together, and
	// the lines come from the same picture.
	shadeWorth  = 0.4
	leastShades = 6
	topSliver   = 0.97 // of the deposit's height, above which slices see the water
)

// shading is the colours of one photo, ready to be compared with a jar's layers.
type shading struct {
	timeS  float64
	share  []float64 // heights over that of the deposit's top
	factor lower     // of the covariance of a channel
	lab    [3][]float64
}

// newShading takes the latest photo that shows the colours of a whole deposit; nil
// where none does, and where the silt's top is given there: it says the same. straight turns
// heights, shares of the depth, into those of a straight jar.
func newShading(obs []Observation, straight func(share, sd float64) (mm, sdMM float64)) *shading {
	for i := len(obs) - 1; i >= 0; i-- {
		o := obs[i]
		if o.DepositTop == nil || o.DepositTop.Share <= 0 || len(o.Shades) < leastShades {
			continue
		}
		if o.SiltTop != nil {
			return nil
		}
		c := &shading{timeS: o.ElapsedS}
		top, _ := straight(o.DepositTop.Share, 0)
		for _, s := range o.Shades {
			mm, _ := straight(s.Share, 0)
			if !(mm > 0 && mm <= topSliver*top) || math.IsNaN(s.Lab[0]+s.Lab[1]+s.Lab[2]) {
				continue
			}
			c.share = append(c.share, mm/top)
			for ch, v := range s.Lab {
				c.lab[ch] = append(c.lab[ch], v)
			}
		}
		if len(c.share) < leastShades {
			return nil
		}
		c.factor = drift(c.share)
		for ch := range c.lab {
			c.factor.solve(c.lab[ch])
		}
		return c
	}
	return nil
}

// drift is the factor of a channel's covariance: an unknown level, a drift and
// each slice's own error.
func drift(at []float64) lower {
	const level = 100.0
	a := make(lower, len(at))
	for i := range at {
		a[i] = make([]float64, i+1)
		for k := range a[i] {
			a[i][k] = level*level + driftSD*driftSD*math.Exp(-math.Abs(at[i]-at[k])/driftLength)
		}
		a[i][i] += shadeSD * shadeSD
	}
	a.factor()
	return a
}

// logLikelihood is that of the colours on the settled jar, less what is the same
// for all jars, with the colours of sand, silt and clay integrated out.
func (c *shading) logLikelihood(j *jar) float64 {
	sand, clay := j.composition(c.timeS, c.share)
	c.factor.solve(sand)
	c.factor.solve(clay)
	ss, sc, cc := 1/(sandSpread*sandSpread), 0.0, 1/(claySpread*claySpread)
	for i := range sand {
		ss += sand[i] * sand[i]
		sc += sand[i] * clay[i]
		cc += clay[i] * clay[i]
	}
	det := ss*cc - sc*sc
	sum := -1.5 * math.Log(det)
	for _, lab := range c.lab {
		s, k := 0.0, 0.0
		for i, v := range lab {
			s += sand[i] * v
			k += clay[i] * v
		}
		sum += (s*s*cc - 2*s*k*sc + k*k*ss) / det / 2
	}
	return shadeWorth * sum
}

// composition is the mass shares of sand and clay at heights given as shares of
// the deposit's, straight between the middles of the layers.
func (j *jar) composition(timeS float64, at []float64) (sand, clay []float64) {
	var mids [jarClasses]float64
	n, top := 0, 0.0
	var of [jarClasses]*layer
	for k := 0; k < j.layerCount && j.layers[k].start < timeS; k++ {
		l := &j.layers[k]
		if thick := l.thickness(timeS, j.Consolidation); thick > 0 {
			mids[n], of[n] = top+thick/2, l
			top += thick
			n++
		}
	}
	sand, clay = make([]float64, len(at)), make([]float64, len(at))
	k := 0
	for i, share := range at {
		z := share * top
		for k < n-1 && mids[k+1] < z {
			k++
		}
		if n == 0 {
			continue
		}
		a, b, f := of[k], of[k], 0.0
		if k < n-1 && z > mids[k] {
			b, f = of[k+1], (z-mids[k])/(mids[k+1]-mids[k])
		}
		sand[i], clay[i] = a.sand+f*(b.sand-a.sand), a.clay+f*(b.clay-a.clay)
	}
	return sand, clay
}

// lower is the lower triangle of a symmetric matrix, a row each.
type lower [][]float64

// factor turns a positive definite matrix into its Cholesky factor.
func (a lower) factor() {
	for i := range a {
		for j := 0; j <= i; j++ {
			s := a[i][j]
			for k := range j {
				s -= a[i][k] * a[j][k]
			}
			if i == j {
				a[i][i] = math.Sqrt(s)
			} else {
				a[i][j] = s / a[j][j]
			}
		}
	}
}

// solve solves L x = b in place, L the factor in a.
func (a lower) solve(b []float64) {
	for i, row := range a {
		s := b[i]
		for k, v := range row[:i] {
			s -= v * b[k]
		}
		b[i] = s / row[i]
	}
}
