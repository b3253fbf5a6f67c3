package texture

import (
	"math"
	"slices"
)

// tangentPhotos is the least number of deposit tops a tangent curve is drawn for.
const tangentPhotos = 5

// tangent draws the cumulative grain curve by Oden's method (Oden 1916) from
// the measured growth of the deposit: W = P - dP/d(ln t) is coarser than the cut
// diameter. Heights become settled shares by the deposit of the middle sample,
// the cut diameter is slowed by what still crowds the water. It leans less on
// the model than Curve does and is rougher.
func (pr *problem) tangent(s []sample) []CurvePoint {
	tops, _ := pr.sureTops()
	if len(tops) < tangentPhotos || !pr.depthKnown {
		return nil
	}
	pr.settleMiddle(s)
	g := pr.growthCurve()
	var out []CurvePoint
	for i := 1; i < len(tops); i++ {
		a, b := tops[i-1], tops[i]
		span := math.Log(b.time / a.time)
		if b.value <= a.value || span < 0.3 {
			continue
		}
		pa, pb := g.share(a.value), g.share(b.value)
		coarser := CoarserByTangent((pa+pb)/2, 1, (pb-pa)/span)
		// error of both heights through mean and slope
		sa := (0.5 + 1/span) * (g.share(a.value+a.scale) - pa)
		sb := (0.5 - 1/span) * (g.share(b.value+b.scale) - pb)
		sd := math.Hypot(sa, sb)
		d := pr.cut(math.Sqrt(a.time*b.time), (a.value+b.value)/2)
		finer := func(w float64) float64 { return 100 * (1 - clamp(w, 0, 1)) }
		out = append(out, CurvePoint{DiameterUM: d,
			Finer: Estimate{Value: finer(coarser), Low: finer(coarser + 1.645*sd), High: finer(coarser - 1.645*sd)}})
	}
	slices.SortFunc(out, func(a, b CurvePoint) int {
		if a.DiameterUM < b.DiameterUM {
			return -1
		}
		return 1
	})
	return rising(out)
}

// rising pools neighbours of a cumulative curve, sorted by size, until it nowhere
// falls, each weighted by its precision (pool adjacent violators: Ayer, Brunk, Ewing,
// Reid & Silverman 1955). A pool has the mean interval of its points: they share
// heights, so pooling makes none of them surer.
func rising(points []CurvePoint) []CurvePoint {
	type pool struct {
		sum    Estimate // weighted
		weight float64
		n      int
	}
	var pools []pool
	for _, p := range points {
		e, width := p.Finer, max(p.Finer.High-p.Finer.Low, 1e-3)
		w := 1 / (width * width)
		pools = append(pools, pool{Estimate{w * e.Value, w * e.Low, w * e.High}, w, 1})
		for k := len(pools) - 1; k > 0 && pools[k-1].sum.Value/pools[k-1].weight > pools[k].sum.Value/pools[k].weight; k-- {
			a, b := pools[k-1], pools[k]
			a.sum = Estimate{a.sum.Value + b.sum.Value, a.sum.Low + b.sum.Low, a.sum.High + b.sum.High}
			a.weight, a.n = a.weight+b.weight, a.n+b.n
			pools = append(pools[:k-1], a)
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			points[i].Finer = Estimate{p.sum.Value / p.weight, p.sum.Low / p.weight, p.sum.High / p.weight}
			i++
		}
	}
	return points
}

// growthCurve tabulates deposit height against settled share of the soil.
type growthCurve struct{ height, settled []float64 }

func (pr *problem) growthCurve() growthCurve {
	g := growthCurve{height: []float64{0}, settled: []float64{0}}
	for t := 3.0; t < pr.last; t *= 1.15 {
		h := pr.jar.At(t)
		if h.DepositTopMM > g.height[len(g.height)-1] {
			g.height = append(g.height, h.DepositTopMM)
			g.settled = append(g.settled, 1-h.SuspendedShare)
		}
	}
	return g
}

// share is the settled share of the soil when the deposit is mm high.
func (g growthCurve) share(mm float64) float64 {
	n := len(g.height)
	for i := 1; i < n; i++ {
		if mm <= g.height[i] {
			f := (mm - g.height[i-1]) / (g.height[i] - g.height[i-1])
			return g.settled[i-1] + f*(g.settled[i]-g.settled[i-1])
		}
	}
	return g.settled[n-1]
}

// cut is the diameter of the grain that has just fallen the water above a
// deposit top at timeS, um.
func (pr *problem) cut(timeS, topMM float64) float64 {
	j := &pr.jar
	left := j.At(timeS).SuspendedShare * j.SolidsGL / j.GrainDensity
	speed := (j.DepthMM - topMM) / timeS / Hindrance(left, j.Exponent)
	return NewFluid(j.TempC, j.GrainDensity).DiameterUM(speed)
}
