package texture

import (
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

func TestTheBestTimesAreBest(t *testing.T) {
	last := math.Inf(1)
	for n := 1; n <= 5; n++ {
		p := mustPlan(t, PlanSetup{WaterDepthMM: 130, Photos: n})
		require.Len(t, p.TimesS, n)
		assert.True(t, slices.IsSorted(p.TimesS))
		assert.Len(t, slices.Compact(slices.Clone(p.TimesS)), n, "no time twice")
		assert.Less(t, p.Spread, last, "more photos, less doubt")
		last = p.Spread
		if n == 3 {
			assert.LessOrEqual(t, p.Spread, p.SpreadOf3)
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
		"water depth is 5 mm; it must lie between 20":                 {WaterDepthMM: 5},
		"water temperature is 99 C; it must lie between 0 and 45":     {TempC: number(99)},
		"share of the jar that is soil is 0.9; it must lie between 0": {SoilShare: 0.9},
		"number of photos is 13; it must lie between 0 and 12":        {Photos: 13},
		"soil per litre is NaN":                                       {SolidsGL: math.NaN()},
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
