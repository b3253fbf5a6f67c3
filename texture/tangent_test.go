package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture/column"
)

// growthOfSilt is a jar of silt settled by the numerical column, with its deposit's tops at
// times each later than the last by a factor.
func growthOfSilt(t *testing.T, later float64) (s column.Soil, obs []Observation) {
	_, s = evenJar(0.15, 0.8, 0.05, 0.01, 120)
	var times []float64
	for when := 40.0; when < 30000; when *= later {
		times = append(times, when)
	}
	states, err := s.Settle(times)
	require.NoError(t, err)
	for _, x := range states {
		obs = append(obs, Observation{ElapsedS: x.TimeS, DepositTop: height(x.DepositTopMM, 0.2)})
	}
	return s, obs
}

// TestTangentRecoversTheCurve reads the growth of a jar of silt settled by the
// numerical column and compares Oden's tangents with the grains put in.
func TestTangentRecoversTheCurve(t *testing.T) {
	s, obs := growthOfSilt(t, 2.2)
	r := mustInvert(t, obs, Setup{WaterDepthMM: 125, TempC: number(20), TempSDC: 0.5})
	require.GreaterOrEqual(t, len(r.Tangent), 5)
	far, wide, held := 0.0, 0.0, 0
	for _, p := range r.Tangent {
		off := finer(s, p.DiameterUM) - p.Finer.Value
		wide += (p.Finer.High - p.Finer.Low) / 2 / float64(len(r.Tangent))
		assert.LessOrEqual(t, math.Abs(off), 5.5, "%.1f um", p.DiameterUM)
		if far += math.Abs(off) / float64(len(r.Tangent)); finer(s, p.DiameterUM) >= p.Finer.Low && finer(s, p.DiameterUM) <= p.Finer.High {
			held++
		}
	}
	assert.Less(t, far, 2.5, "mean of the curve")
	assert.GreaterOrEqual(t, held, len(r.Tangent)-1, "inside the intervals")
	// 90 % intervals of a normal error reach 2.06 times its mean absolute size to either side.
	t.Logf("off by %.2f, intervals of +-%.2f", far, wide)
	assert.Greater(t, wide, 2.06/1.6*far)
	assert.Less(t, wide, 2.06*1.6*far)
	assert.Nil(t, mustInvert(t, obs[:4], usualSetup()).Tangent, "four photos are too few")
}

// TestTangentErrors: the interval of a point is what the errors of its two tops make of it,
// each moved by its own: the law of the propagation of uncertainty (JCGM 100:2008, 5.1.2),
// by differences.
func TestTangentErrors(t *testing.T) {
	_, obs := growthOfSilt(t, 3)
	pr := newProblem(obs, Setup{WaterDepthMM: 125, TempC: number(20), TempSDC: 0.5, Quick: true})
	draws := pr.posterior()
	before := pr.tangent(draws)
	require.Len(t, before, len(obs)-1, "coarse grains last")
	moved := make([][]CurvePoint, len(obs))
	for k := range obs {
		pr.data[k].value += pr.data[k].scale
		moved[k] = pr.tangent(draws)
		pr.data[k].value -= pr.data[k].scale
		require.Len(t, moved[k], len(before))
	}
	for i, p := range before {
		k := len(before) - i // the later of the two tops
		off := func(top int) float64 { return moved[top][i].Finer.Value - p.Finer.Value }
		assert.InEpsilon(t, 1.645*math.Hypot(off(k-1), off(k)), (p.Finer.High-p.Finer.Low)/2, 0.02, "%.0f um", p.DiameterUM)
	}
}

// finer is the percent of the column's grains below a diameter.
func finer(s column.Soil, um float64) float64 {
	sum := 0.0
	for _, p := range s.Parts {
		if p.DiameterUM < um {
			sum += 100 * p.Share
		}
	}
	return sum
}
