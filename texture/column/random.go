package column

import (
	"math"
	"math/rand/v2"
)

// Random makes a soil and jar of broad variation from r: grain curves of
// truncated lognormal shape, part of the clay in flocs, any of the packing
// rules, grains mostly borne up by the water others displace, unit weights about the published ones. It does not follow the priors
// of package texture in form or width.
func Random(r *rand.Rand) Soil {
	s := Soil{
		DepthMM:      uniform(r, 85, 165),
		TempC:        uniform(r, 8, 28),
		SolidsGL:     uniform(r, 140, 420),
		GrainDensity: uniform(r, 2610, 2690),
		Exponent:     uniform(r, 4.5, 5.7),
		Packing:      Packing(r.IntN(3)),
		Borne:        r.IntN(3) > 0,
		Squeeze:      uniform(r, 0.03, 0.25),
		SqueezeS:     uniform(r, 5000, 60000),
		Weights: [3]float64{
			1554 * math.Exp(0.05*r.NormFloat64()),
			1121 * math.Exp(0.09*r.NormFloat64()),
			440 * math.Exp(0.18*r.NormFloat64()),
		},
	}
	sand, silt, clay := triangle(r)
	s.Parts = lognormal(50, 2000, uniform(r, 90, 450), uniform(r, 1.6, 3), 12, 0, sand)
	s.Parts = append(s.Parts, lognormal(2, 50, uniform(r, 6, 28), uniform(r, 1.8, 3.5), 14, 1, silt)...)
	flocs := uniform(r, 0.25, 0.95)
	s.Parts = append(s.Parts, lognormal(0.05, 2, uniform(r, 0.3, 1.5), uniform(r, 2, 4), 8, 2, clay*(1-flocs))...)
	size := math.Exp(uniform(r, math.Log(2.2), math.Log(11)))
	s.Parts = append(s.Parts, lognormal(size/3, size*3, size, uniform(r, 1.25, 1.8), 6, 2, clay*flocs)...)
	return s
}

// Mix returns the shares of sand, silt and clay, percent.
func (s *Soil) Mix() [3]float64 {
	var out [3]float64
	for _, p := range s.Parts {
		out[p.Kind] += 100 * p.Share
	}
	return out
}

// triangle draws evenly from the texture triangle, its thin corners left out:
// at least 3 % of each and at most 70 % clay.
func triangle(r *rand.Rand) (sand, silt, clay float64) {
	for {
		a, b := r.Float64(), r.Float64()
		if a > b {
			a, b = b, a
		}
		sand, silt, clay = a, b-a, 1-b
		if math.Min(sand, math.Min(silt, clay)) > 0.03 && clay < 0.7 {
			return sand, silt, clay
		}
	}
}

func uniform(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// lognormal spreads share over n classes between lo and hi.
func lognormal(lo, hi, median, ratio float64, n, kind int, share float64) []Component {
	out := make([]Component, n)
	sum := 0.0
	for i := range out {
		a := lo * math.Pow(hi/lo, float64(i)/float64(n))
		b := lo * math.Pow(hi/lo, float64(i+1)/float64(n))
		x := math.Log(math.Sqrt(a*b)/median) / math.Log(ratio)
		d := math.Sqrt((b*b - a*a) / (2 * math.Log(b/a)))
		out[i] = Component{DiameterUM: d, Kind: kind, Share: math.Exp(-x * x / 2)}
		sum += out[i].Share
	}
	for i := range out {
		out[i].Share *= share / sum
	}
	return out
}
