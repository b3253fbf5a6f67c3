package texture

import (
	"math"
	"sort"
)

const (
	cloudSoils   = 200 // equally likely soils of a result
	expectedFrom = 10.0
	perDecade    = 8 // moments of Expected in a decade of time
)

// Expected is where the fitted model expects the lines at one moment, as shares of
// the water depth.
type Expected struct {
	ElapsedS                     float64
	DepositTop, SandTop, SiltTop Estimate
}

// pick draws n equally likely samples in place of weighted ones, by systematic
// resampling (Kitagawa 1996): each stands for 1/n of the weight. The result is
// indices into s, in its order.
func pick(s []sample, n int) []int {
	out := make([]int, 0, n)
	sum := 0.0
	for i := range s {
		sum += s[i].weight
		for len(out) < n && sum >= (float64(len(out))+0.5)/float64(n) {
			out = append(out, i)
		}
	}
	for len(out) < n { // rounding of the sum
		out = append(out, len(s)-1)
	}
	return out
}

// cloud fills the equally likely soils of a result.
func (r *Result) cloud(s []sample) {
	for _, i := range pick(s, cloudSoils) {
		r.Soils = append(r.Soils, s[i].soil)
		r.SoilsAt50UM = append(r.SoilsAt50UM, s[i].soilAt50)
	}
}

// expected follows the settling of likely jars from 10 s to half as long again
// as the last photo, two days at least.
func (pr *problem) expected(s []sample, walls Profile) []Expected {
	until := math.Max(1.5*pr.last, 2*86400)
	steps := int(math.Ceil(perDecade * math.Log10(until/expectedFrom)))
	chosen := pick(s, pr.effort.expectedJars)
	seen := make([][][3]float64, steps+1)
	times := make([]float64, steps+1)
	for k := range times {
		times[k] = expectedFrom * math.Pow(until/expectedFrom, float64(k)/float64(steps))
		seen[k] = make([][3]float64, len(chosen))
	}
	shown := pr.shown(walls)
	for n, i := range chosen {
		pr.prior.apply(&s[i].z, &pr.cond, &pr.jar)
		pr.jar.Settle(until + 1)
		pr.prior.look(&s[i].z, &pr.jar)
		if !pr.depthKnown { // a share is of each jar's own depth
			shown = pr.shown(walls)
		}
		for k, t := range times {
			h := pr.jar.At(t)
			seen[k][n] = [3]float64{depositTop: shown(h.DepositTopMM), sandTop: shown(h.SandTopMM), siltTop: shown(h.SiltTopMM)}
		}
	}
	q := &quantiler{weights: evenly(len(chosen))}
	out := make([]Expected, len(times))
	for k, t := range times {
		at := seen[k]
		of := func(l lineKind) Estimate { return q.estimate(func(i int) float64 { return at[i][l] }) }
		out[k] = Expected{ElapsedS: t, DepositTop: of(depositTop), SandTop: of(sandTop), SiltTop: of(siltTop)}
	}
	return out
}

// shown turns the model's heights, of a straight jar at the depth that is being tried,
// into those that a photo of this jar shows, as shares of the depth.
func (pr *problem) shown(walls Profile) func(mm float64) (share float64) {
	if len(walls) == 0 {
		drawn := pr.drawn()
		return func(mm float64) float64 { return mm * drawn / pr.scaleMM }
	}
	straight := walls.straighten(pr.scaleMM)
	const steps = 400
	step := 2 * pr.scaleMM / steps
	var table [steps + 1]float64 // straight heights at even ones
	for i := range table {
		table[i], _ = straight(float64(i) * step)
	}
	return func(mm float64) float64 {
		i := min(max(sort.SearchFloat64s(table[:], mm), 1), steps)
		at := (float64(i) - (table[i]-mm)/(table[i]-table[i-1])) * step
		for range 2 { // Newton's steps: the table is straight between its heights
			z, stretch := straight(at)
			at += (mm - z) / stretch
		}
		return at / pr.scaleMM
	}
}

func evenly(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 1 / float64(n)
	}
	return w
}
