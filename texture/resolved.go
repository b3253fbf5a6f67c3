package texture

import (
	"cmp"
	"math"
	"slices"
)

// curvePhotos is how many deposit tops tell of grain sizes by themselves: from so many
// up the grain curve is a result of its own.
const curvePhotos = 8

// Resolved are the ends of the grain sizes that a series of deposit tops tells apart,
// um. Coarser grains were all down before the first of them, so that only how much they
// are is seen; of finer ones some still float at the last, so that what the curve says
// of them is faith. A clump of clay counts as the grain that falls as fast.
type Resolved struct{ FinestUM, CoarsestUM float64 }

// sureTop is how much less sure than the middle one a deposit top may be to count for
// the sizes that are seen.
const sureTop = 3

// sureTops are the deposit tops without those that are far less sure than most, and how
// many there are of all.
func (pr *problem) sureTops() (tops []measured, all int) {
	var scales []float64
	for _, m := range pr.data {
		if m.line == depositTop {
			tops, scales = append(tops, m), append(scales, m.scale)
		}
	}
	if len(tops) == 0 {
		return nil, 0
	}
	all = len(tops)
	slices.Sort(scales)
	most := sureTop * scales[len(scales)/2]
	return slices.DeleteFunc(tops, func(m measured) bool { return m.scale > most }), all
}

// resolved are the sizes that have just come down in full, by the middle of the samples,
// at the first and at the last of the sure deposit tops; nil where these are too few. Errors
// of the slowing by other grains (an exponent of 4.65 to 5.6) move the ends by a tenth.
func (pr *problem) resolved(s []sample) *Resolved {
	tops, all := pr.sureTops()
	if all < curvePhotos {
		return nil
	}
	earlier := func(a, b measured) int { return cmp.Compare(a.time, b.time) }
	first, last := slices.MinFunc(tops, earlier), slices.MaxFunc(tops, earlier)
	pr.settleMiddle(s)
	drawn := pr.drawn()
	out := &Resolved{FinestUM: pr.jar.justDown(last.time, last.value/drawn), CoarsestUM: pr.jar.justDown(first.time, first.value/drawn)}
	if !(out.CoarsestUM > out.FinestUM) {
		return nil
	}
	return out
}

// settleMiddle settles the jar in the middle of the samples.
func (pr *problem) settleMiddle(s []sample) {
	var z unknowns
	for i := range s {
		for k := range dim {
			z[k] += s[i].weight * s[i].z[k]
		}
	}
	pr.predict(&z)
}

// justDown is the diameter of the grain, um, that has fallen the whole water above a
// deposit topMM high at timeS: the speed of the front that arrives then, freed of the
// slowing that the fronts next to it had.
func (j *jar) justDown(timeS, topMM float64) float64 {
	speed := (j.DepthMM - topMM) / timeS
	slow := j.slowing(0)
	for k := 1; k < j.layerCount; k++ {
		if j.fronts[k-1] < speed {
			break
		}
		slow = j.slowing(k)
		if j.fronts[k] < speed {
			f := math.Log(speed/j.fronts[k]) / math.Log(j.fronts[k-1]/j.fronts[k])
			slow += f * (j.slowing(k-1) - slow)
		}
	}
	return NewFluid(j.TempC, j.GrainDensity).DiameterUM(speed / slow)
}

// slowing is the speed of class k's front over that of its grains in clear water.
func (j *jar) slowing(k int) float64 { return j.fronts[k] / j.classFree[k] }
