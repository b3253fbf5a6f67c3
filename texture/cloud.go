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

// Expected is where the fitted model expects the lines at one moment: heights
// in the unit of the observations.
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
	seen := make([][]heights, steps+1)
	times := make([]float64, steps+1)
	for k := range times {
		times[k] = expectedFrom * math.Pow(until/expectedFrom, float64(k)/float64(steps))
		seen[k] = make([]heights, len(chosen))
	}
	unbent := pr.unbend(walls)
	for n, i := range chosen {
		pr.prior.apply(&s[i].z, &pr.cond, &pr.jar)
		pr.jar.Settle(until + 1)
		pr.prior.look(&s[i].z, &pr.jar)
		toUnit := unbent
		if pr.shares {
			toUnit = pr.unbend(walls)
		}
		for k, t := range times {
			h := pr.jar.At(t)
			seen[k][n] = heights{DepositTopMM: toUnit(h.DepositTopMM), SandTopMM: toUnit(h.SandTopMM), SiltTopMM: toUnit(h.SiltTopMM)}
		}
	}
	q := &quantiler{weights: evenly(len(chosen))}
	out := make([]Expected, len(times))
	for k, t := range times {
		at := seen[k]
		out[k] = Expected{ElapsedS: t,
			DepositTop: q.estimate(func(i int) float64 { return at[i].DepositTopMM }),
			SandTop:    q.estimate(func(i int) float64 { return at[i].SandTopMM }),
			SiltTop:    q.estimate(func(i int) float64 { return at[i].SiltTopMM })}
	}
	return out
}

// unbend turns the model's heights, of a straight jar, into those a photo of
// this jar shows.
func (pr *problem) unbend(walls Profile) func(mm float64) float64 {
	if pr.shares {
		factor := NominalDepthMM / pr.jar.DepthMM
		return func(mm float64) float64 { return mm * factor }
	}
	if len(walls) == 0 {
		return func(mm float64) float64 { return mm }
	}
	straight := walls.straighten(pr.statedDepthMM)
	const steps = 400
	step := 2 * pr.statedDepthMM / steps
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
		return at
	}
}

func evenly(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 1 / float64(n)
	}
	return w
}
