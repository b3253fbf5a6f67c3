package texture

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPlanOfADiluteJarIsStokes(t *testing.T) {
	// Stokes' times at 10 cm, 20 C: 50 um 45 s, 2 um 7.7 h (computed; BS 1377's
	// formula gives 45 s and 7 h 44 min). Natural sand is 7 % slower at 50 um,
	// 10 g/L hinders by 2 %.
	p, err := Plan(PlanSetup{WaterDepthMM: 100, TempC: number(20), SolidsGL: 10})
	require.NoError(t, err)
	assert.InEpsilon(t, 45*1.07*1.02, p.SandDownS.Value, 0.06)
	assert.InEpsilon(t, 7.73*3600, p.SiltDownS.Value, 0.08)
	assert.Greater(t, p.ClayDownS.Value, p.SiltDownS.Low)
	assert.InDelta(t, 45, p.Recipes[0].SmallestUM, 2.5, "table at 10 cm: 43.1 um by Stokes at one minute")
	assert.InDelta(t, 3.93, p.Recipes[1].SmallestUM, 0.2, "table at 10 cm: 3.93 um at two hours")
}

func TestAFullJarIsLater(t *testing.T) {
	thin, err := Plan(PlanSetup{WaterDepthMM: 120, TempC: number(20), SoilShare: 0.02})
	require.NoError(t, err)
	full, err := Plan(PlanSetup{WaterDepthMM: 120, TempC: number(20), SoilShare: 1.0 / 3})
	require.NoError(t, err)
	cold, err := Plan(PlanSetup{WaterDepthMM: 120, TempC: number(8), SoilShare: 1.0 / 3})
	require.NoError(t, err)
	assert.Greater(t, full.SandDownS.Value, thin.SandDownS.Value*1.2)
	assert.Greater(t, cold.SandDownS.Value, full.SandDownS.Value*1.2)
	assert.Greater(t, full.Recipes[1].DueS, 7200.0, "two hours are too few for the silt")
	assert.Greater(t, full.Recipes[1].SmallestUM, 3.0)
	assert.Greater(t, full.Recipes[1].AbsPoints, 5.0)
	assert.Greater(t, full.Soil.Given, 0.0)
	assert.Zero(t, mustPlan(t, PlanSetup{}).Soil.Given)
}

func mustPlan(t *testing.T, s PlanSetup) JarPlan {
	t.Helper()
	p, err := Plan(s)
	require.NoError(t, err)
	return p
}

// TestMoments: over jars of many depths, temperatures and amounts of soil, each
// moment after the usual three is the one of those left that narrows most, and
// the usual three are nearly as good as any.
func TestMoments(t *testing.T) {
	mean := map[string]float64{}
	jars := 0.0
	key := func(times []float64) string { slices.Sort(times); return fmt.Sprint(times) }
	for _, depth := range []float64{80, 125, 200} {
		for _, temp := range []float64{8, 18, 30} {
			for _, share := range []float64{1. / 8, 1. / 3} {
				d := newDesign(PlanSetup{WaterDepthMM: depth, TempC: number(temp), SoilShare: share})
				for of := range 1 << len(moments) {
					var times []float64
					for i, m := range moments {
						if of>>i&1 == 1 {
							times = append(times, m)
						}
					}
					mean[key(times)] += d.spread(times)
				}
				jars++
			}
		}
	}
	for n := 3; n < len(moments); n++ {
		chosen := mean[key(slices.Clone(moments[:n+1]))]
		for _, other := range moments[n:] {
			assert.LessOrEqual(t, chosen, mean[key(append(slices.Clone(moments[:n]), other))]+1e-9, "%d and %g s", n, other)
		}
	}
	least := math.Inf(1)
	for i := range moments {
		for j := range i {
			for k := range j {
				least = min(least, mean[key([]float64{moments[i], moments[j], moments[k]})])
			}
		}
	}
	usual := mean[key(Moments(3))]
	t.Logf("expected error, points: the usual three %.2f, the best three %.2f", usual/jars, least/jars)
	assert.Less(t, usual, 1.15*least)
}

// TestTheSameMomentsForAll: what is recommended does not hang on a degree or a
// centimetre, and more photos leave less doubt.
func TestTheSameMomentsForAll(t *testing.T) {
	assert.Equal(t, []float64{60, 7200, 172800}, mustPlan(t, PlanSetup{}).TimesS, "the usual three")
	last := math.Inf(1)
	for n := 1; n <= MostMoments; n++ {
		p := mustPlan(t, PlanSetup{WaterDepthMM: 130, Photos: n})
		require.Len(t, p.TimesS, n)
		assert.True(t, slices.IsSorted(p.TimesS))
		assert.Less(t, p.Spread, last)
		last = p.Spread
		other := mustPlan(t, PlanSetup{WaterDepthMM: 140, TempC: number(19), Photos: n})
		assert.Equal(t, p.TimesS, other.TimesS)
	}
}

// TestUsualSoilShare: no amount of soil brings an error smaller by more than a sixth,
// and smaller amounts bring a larger one.
func TestUsualSoilShare(t *testing.T) {
	for _, depth := range []float64{100, 150, 200} {
		d := newDesign(PlanSetup{WaterDepthMM: depth, TempC: number(20)})
		usual := d.with(UsualSoilShare, Moments(3)).Spread
		for _, share := range []float64{1. / 10, 1. / 7, 1. / 4, 1. / 3} {
			other := d.with(share, Moments(3)).Spread
			assert.Less(t, 5./6*usual, other, "%g mm, share %.2f", depth, share)
			if share < UsualSoilShare {
				assert.Less(t, usual, other, "%g mm, share %.2f", depth, share)
			}
		}
	}
}

func TestSoilAdviceIsReadable(t *testing.T) {
	p := mustPlan(t, PlanSetup{WaterDepthMM: 120})
	assert.Greater(t, p.Soil.DepositMM, 10.0)
	assert.Less(t, p.Soil.DepositMM, 60.0)
	assert.Greater(t, p.Soil.Slowing, 0.4)
	assert.Contains(t, p.Soil.Text(), "loose dry soil")
	assert.InDelta(t, p.Soil.SolidsGL, p.Soil.Share*LooseSoilGL, 1e-9)
}

func TestBadPlans(t *testing.T) {
	for want, s := range map[string]PlanSetup{
		"water depth is 5 mm; it must be between 20":                 {WaterDepthMM: 5},
		"water temperature is 99 C; it must be between 0 and 45":     {TempC: number(99)},
		"share of the jar that is soil is 0.9; it must be between 0": {SoilShare: 0.9},
		"number of photos is 7; it must be between 0 and 6":          {Photos: 7},
		"soil per litre is NaN":                                      {SolidsGL: math.NaN()},
	} {
		_, err := Plan(s)
		assert.ErrorContains(t, err, want)
	}
}

func BenchmarkPlan(b *testing.B) {
	for b.Loop() {
		if _, err := Plan(PlanSetup{Photos: 4}); err != nil {
			b.Fatal(err)
		}
	}
}
