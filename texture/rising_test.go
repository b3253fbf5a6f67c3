package texture

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Pooling by hand: 3 and 2 of equal weight make 2.5 twice; of a pool with a new point
// below it all three share one mean.
func TestRising(t *testing.T) {
	curve := func(values ...float64) (out []CurvePoint) {
		for _, v := range values {
			out = append(out, CurvePoint{Finer: Estimate{Value: v, Low: v - 1, High: v + 1}})
		}
		return out
	}
	values := func(points []CurvePoint) (out []float64) {
		for _, p := range points {
			out = append(out, p.Finer.Value)
			assert.InDelta(t, p.Finer.Value-1, p.Finer.Low, 1e-9)
			assert.InDelta(t, p.Finer.Value+1, p.Finer.High, 1e-9)
		}
		return out
	}
	assert.Equal(t, []float64{1, 2.5, 2.5, 4}, values(rising(curve(1, 3, 2, 4))))
	assert.Equal(t, []float64{2, 2, 2}, values(rising(curve(3, 2, 1))))
	assert.Empty(t, rising(nil))
	surer := curve(3, 2)
	surer[0].Finer.Low, surer[0].Finer.High = 2.5, 3.5 // half as wide: four times the weight
	assert.InDelta(t, (4*3+2)/5.0, rising(surer)[1].Finer.Value, 1e-9)
}

// The pooled curve is the one nearest to the points of all that do not fall: no
// small move that keeps it rising comes nearer.
func TestRisingIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 12).Draw(t, "finer")
		points := make([]CurvePoint, len(v))
		for i := range v {
			points[i].Finer = Estimate{v[i], v[i] - 1, v[i] + 1}
		}
		got := rising(points)
		distance := func(move int, by float64) float64 {
			d := 0.0
			for i := range v {
				at := got[i].Finer.Value
				if i == move {
					at += by
				}
				d += (at - v[i]) * (at - v[i])
			}
			return d
		}
		assert.True(t, slices.IsSortedFunc(got, func(a, b CurvePoint) int {
			if a.Finer.Value < b.Finer.Value {
				return -1
			}
			return 0
		}))
		for i := range v {
			const step = 1e-3
			if i == len(v)-1 || got[i].Finer.Value+step < got[i+1].Finer.Value {
				assert.GreaterOrEqual(t, distance(i, step), distance(-1, 0)-1e-9)
			}
			if i == 0 || got[i].Finer.Value-step > got[i-1].Finer.Value {
				assert.GreaterOrEqual(t, distance(i, -step), distance(-1, 0)-1e-9)
			}
		}
	})
}
