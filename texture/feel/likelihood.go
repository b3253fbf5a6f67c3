package feel

import (
	"math"

	"mudline/texture"
)

// evidence is the likelihood of an observation for each soil of the triangle,
// were it the one that is felt.
func (o Observation) evidence() []float64 {
	grid := triangle()
	out := make([]float64, len(grid))
	questions := o.asked()
	r, pressed := o.ribbon()
	width := o.skill().blur()
	for i, f := range grid {
		p := 1.0
		for _, q := range questions {
			p *= q.answer(f, width)[q.given]
		}
		if pressed {
			p *= r.density(f)
		}
		out[i] = p
	}
	return out
}

// LogLikelihood is the natural logarithm of how probable the observation is for
// a soil of fractions f by the USDA size limits, up to a constant that is the
// same for all soils. An observation in which nothing was answered gives the
// same for every soil; see Check for those that cannot be.
//
// The soil that is felt lies around the soil that is there (skill); what is
// felt decides the answers, each gradually. The share that goes astray keeps
// any answers possible for any soil, so that hands alone never make certain.
func LogLikelihood(o Observation, f texture.Fractions) float64 {
	return math.Log(dot(o.skill().felt(f), o.evidence()))
}

// posterior is how probable each soil of the triangle is after the observation,
// all having been equally likely before.
func (o Observation) posterior() []float64 {
	evidence, s := o.evidence(), o.skill()
	out := make([]float64, len(triangle()))
	for i, f := range triangle() {
		out[i] = dot(s.felt(f), evidence)
	}
	scale(out, 1/sum(out))
	return out
}

// Alone is what hands say without a jar, when every soil of the triangle was
// equally likely before: by the USDA size limits, with 90 % intervals.
type Alone struct {
	// Classes are most probable first; nil for a system whose silt does not end
	// at 50 um, since what hands feel is known by that limit alone.
	Classes []texture.ClassProbability
	// Sand, Silt and Clay are percent.
	Sand, Silt, Clay texture.Estimate
}

// ByHand is what the observation says without a jar.
func ByHand(o Observation, system texture.System) Alone {
	soils, p := triangle(), o.posterior()
	a := Alone{Sand: estimate(soils, p, sand), Silt: estimate(soils, p, silt), Clay: estimate(soils, p, clay)}
	if system.SiltLimitUM() == texture.USDA.SiltLimitUM() {
		a.Classes = texture.ClassProbabilities(soils, p, system)
	}
	return a
}

// Weighted is the estimate from soils of unequal weight, such as those of a
// Comparison: medians that add up to 100, and 90 % intervals.
func Weighted(soils []texture.Fractions, weights []float64) (sandy, silty, clayey texture.Estimate) {
	sandy, silty, clayey = estimate(soils, weights, sand), estimate(soils, weights, silt), estimate(soils, weights, clay)
	middle := texture.Fractions{Sand: sandy.Value, Silt: silty.Value, Clay: clayey.Value}.Normalised()
	sandy.Value, silty.Value, clayey.Value = middle.Sand, middle.Silt, middle.Clay
	for _, e := range []*texture.Estimate{&sandy, &silty, &clayey} {
		e.Low, e.High = math.Min(e.Low, e.Value), math.Max(e.High, e.Value)
	}
	return sandy, silty, clayey
}

// Telling reports whether anything was answered that texture decides: smell and
// colour are not.
func Telling(o Observation) bool { return Tests(o) > 0 }

// Tests is how many tests were answered that texture decides; ribbons are one.
func Tests(o Observation) int {
	n := len(o.asked())
	if len(o.RibbonsMM) > 0 {
		n++
	}
	return n
}
