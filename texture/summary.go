package texture

import (
	"cmp"
	"math"
	"slices"
)

// CurvePoint is a point of the cumulative grain curve: percent by mass finer
// than a diameter in micrometres.
type CurvePoint struct {
	DiameterUM float64
	Finer      Estimate
}

// curveDiameters are the diameters the curve is given at: the edges of the grid down to
// where clay begins.
var curveDiameters = func() []float64 {
	out := slices.Clone(grainEdgesUM[:sandClasses+siltClasses+1])
	slices.Reverse(out)
	return out
}()

// summarise turns weighted samples into a result.
func (pr *problem) summarise(s []sample, obs []Observation, setup Setup) Result {
	// sorted, so that the clouds picked from them are as even as can be
	s = byClay(s)
	weights := make([]float64, len(s))
	soils := make([]Fractions, len(s))
	for i := range s {
		weights[i], soils[i] = s[i].weight, s[i].soil
	}
	q := &quantiler{weights: weights}
	r := Result{System: setup.System, EffectiveDraws: effective(s)}
	r.Sand = q.estimate(func(i int) float64 { return soils[i].Sand })
	r.Silt = q.estimate(func(i int) float64 { return soils[i].Silt })
	r.Clay = q.estimate(func(i int) float64 { return soils[i].Clay })
	r.closeSum()
	r.Classes = ClassProbabilities(soils, weights, setup.System)
	r.SuspendedPercent = q.estimate(func(i int) float64 { return 100 * s[i].suspended })
	r.SolidsGL = q.estimate(func(i int) float64 { return s[i].solidsGL })
	r.WaterDepthMM = q.estimate(func(i int) float64 { return s[i].depthMM })
	r.Curve = curve(s, q)
	r.cloud(s)
	r.Expected = pr.expected(s, setup.Walls)
	r.Placed = pr.placed(s)
	if !setup.Quick && setup.From == nil {
		r.Next = pr.next(s, &r)
	}
	r.basis = pr.basis(s)
	r.Causes = causes(s, pr.cond.densityPart)
	r.Reason = reason(&r)
	if l, ok := latestLayers(obs, setup); ok {
		r.Measure(l, l)
	}
	r.Tangent = pr.tangent(s)
	r.Resolved = pr.resolved(s)
	return r
}

// byClay sorts samples, which are too large to be moved about while that is done.
func byClay(s []sample) []sample {
	order := make([]int, len(s))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s[a].soil.Clay, s[b].soil.Clay) })
	out := make([]sample, len(s))
	for i, k := range order {
		out[i] = s[k]
	}
	return out
}

// closeSum scales the three middle values to add up to 100. Medians minimise
// the mean absolute error of each alone; together they miss 100 by a little.
func (r *Result) closeSum() {
	f := r.Fractions().Normalised()
	for _, p := range []struct {
		e *Estimate
		v float64
	}{{&r.Sand, f.Sand}, {&r.Silt, f.Silt}, {&r.Clay, f.Clay}} {
		p.e.Value = p.v
		p.e.Low, p.e.High = math.Min(p.e.Low, p.v), math.Max(p.e.High, p.v)
	}
}

// quantiler reads quantiles off weighted samples.
type quantiler struct {
	weights []float64
	order   []int
}

// estimate returns the median and the 5 and 95 % quantiles of value.
func (q *quantiler) estimate(value func(int) float64) Estimate {
	if q.order == nil { // draws of no weight would only be sorted in vain
		for i, w := range q.weights {
			if w > 1e-6 {
				q.order = append(q.order, i)
			}
		}
	}
	v := make([]float64, len(q.weights))
	for _, i := range q.order {
		v[i] = value(i)
	}
	slices.SortFunc(q.order, func(a, b int) int {
		switch {
		case v[a] < v[b]:
			return -1
		case v[a] > v[b]:
			return 1
		}
		return a - b
	})
	at := [3]float64{0.05, 0.5, 0.95}
	var out [3]float64
	sum, next := 0.0, 0
	for k, i := range q.order {
		sum += q.weights[i]
		for next < len(at) && (sum >= at[next] || k == len(q.order)-1) {
			out[next] = v[i]
			next++
		}
	}
	return Estimate{Value: out[1], Low: out[0], High: out[2]}
}

// curve is the cumulative grain curve of the samples.
func curve(s []sample, q *quantiler) []CurvePoint {
	var out []CurvePoint
	for _, d := range curveDiameters {
		e := q.estimate(func(i int) float64 {
			coarser := 0.0
			for k := range sandClasses + siltClasses {
				if grainEdgesUM[k+1] >= d-1e-9 {
					coarser += s[i].grains[k]
				}
			}
			return 100 * (1 - coarser)
		})
		out = append(out, CurvePoint{DiameterUM: d, Finer: e})
	}
	slices.Reverse(out)
	for i := 1; i < len(out); i++ { // medians of a falling curve, made to fall
		out[i].Finer.Value = math.Min(out[i].Finer.Value, out[i-1].Finer.Value)
	}
	slices.Reverse(out)
	return out
}

// surprising is the distance, in standard deviations, from which a line is
// reported as one the physics could not follow.
const surprising = 3.0

func (pr *problem) surprises(s []sample) []Surprise {
	var out []Surprise
	for k, m := range pr.data {
		name, ok := lineOf[m.line]
		if !ok || m.choices != nil {
			continue
		}
		mean := 0.0
		for i := range s {
			mean += s[i].weight * s[i].resid[k]
		}
		if sigmas := math.Abs(mean) / m.wholeError(); sigmas > surprising {
			out = append(out, Surprise{Photo: m.photo, Line: name, Share: m.value / pr.scaleMM, Expected: (m.value - mean) / pr.scaleMM, Sigmas: sigmas})
		}
	}
	slices.SortStableFunc(out, func(a, b Surprise) int {
		if a.Sigmas > b.Sigmas {
			return -1
		}
		return 1
	})
	return out
}
