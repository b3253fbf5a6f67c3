package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dilute is a jar with next to no soil in 150 mm of water at 20 C.
func dilute(solidsGL float64) *jar {
	j := &jar{DepthMM: 150, TempC: 20, SolidsGL: solidsGL, GrainDensity: QuartzDensity, Exponent: StokesExponent,
		Sand: 0.4, Silt: 0.4, Clay: 0.2, FlocUM: 5, Weights: SubmergedUSBR, sandLine: 0.5, clayLine: 0.5}
	j.Settle(3 * 86400)
	return j
}

// TestJustDownInADiluteJar: Stokes' law, d = sqrt(18 mu H / ((rs-rw) g t)), as BS
// 1377-2:1990 prints it (d[mm] = 0.005531 sqrt(mu[mPa.s] H[mm] / ((rs-1) t[min]))), with
// the viscosity 1.0016 mPa.s of IAPWS at 20 C. In silt the law for natural grains is
// within a hundredth of it.
func TestJustDownInADiluteJar(t *testing.T) {
	j := dilute(0.01)
	for _, minutes := range []float64{30, 120, 1440, 2880} {
		want := 1000 * 0.005531 * math.Sqrt(1.0016*150/(1.65*minutes))
		assert.InEpsilon(t, want, j.justDown(60*minutes, 0), 0.02, "%v minutes", minutes)
	}
}

// TestJustDownInACrowdedJar: at 300 g/L the water above the first soil slows grains by
// (1-c)^n at the start, n = 4.65 (Richardson & Zaki 1954), and by less and less as it
// clears, so that the grain just down is coarser than in a dilute jar by at most the
// square root of that.
func TestJustDownInACrowdedJar(t *testing.T) {
	thin, thick := dilute(0.01), dilute(300)
	most := 1 / math.Sqrt(Hindrance(300/QuartzDensity, StokesExponent))
	before := math.Inf(1)
	for _, s := range []float64{60, 600, 7200} {
		ratio := thick.justDown(s, 0) / thin.justDown(s, 0)
		assert.Greater(t, ratio, 1.0, "at %v s", s)
		assert.Less(t, ratio, most, "at %v s", s)
		assert.Less(t, ratio, before, "less as the water clears")
		before = ratio
	}
}

func TestSizesAreResolvedFromEightTops(t *testing.T) {
	series := func(n int) []Observation {
		j := dilute(250)
		var out []Observation
		for i := range n {
			at := 40 * math.Pow(40000.0/40, float64(i)/float64(n-1))
			out = append(out, Observation{ElapsedS: at, DepositTop: heightIn(j.DepthMM, j.At(at).DepositTopMM, 0.4)})
		}
		return out
	}
	temp := 20.0
	setup := Setup{WaterDepthMM: 150, TempC: &temp, Quick: true}
	assert.Nil(t, mustInvert(t, series(7), setup).Resolved)
	r := mustInvert(t, series(8), setup).Resolved
	require.NotNil(t, r)
	j := dilute(250)
	assert.InEpsilon(t, j.justDown(40, j.At(40).DepositTopMM), r.CoarsestUM, 0.15)
	assert.InEpsilon(t, j.justDown(40000, j.At(40000).DepositTopMM), r.FinestUM, 0.15)
	setup.WaterDepthMM = 0
	r = mustInvert(t, series(8), setup).Resolved
	require.NotNil(t, r)
	assert.InEpsilon(t, j.justDown(40, j.At(40).DepositTopMM), r.CoarsestUM, 0.4, "the depth is believed")
}
