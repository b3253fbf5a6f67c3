package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestOdenClosedForms(t *testing.T) {
	// Check values of the closed forms, worked out by hand from Oden's integral.
	assert.InDelta(t, 0.1551, LogUniformSettled(2, 50, 50), 5e-5)
	assert.InDelta(t, 0.000344, LogUniformSettled(0.2, 2, 50), 5e-7)
	assert.InDelta(t, 0.2150, LogUniformSettled(0.2, 2, 2), 5e-5)
	assert.Equal(t, 1.0, LogUniformSettled(2, 50, 1))
}

// TestOdenTangent is the numerical proof that W = P - t dP/dt is the share
// coarser than the cut: log-uniform grains 0.2 to 200 um, 15 cm, 20 C, Stokes.
func TestOdenTangent(t *testing.T) {
	f := NewFluid(20, QuartzDensity)
	settled := func(s float64) float64 { return LogUniformSettled(0.2, 200, f.CutDiameterUM(150, s)) }
	for _, c := range []struct{ s, cut, p, w float64 }{
		{60, 52.75, 0.2653, 0.1929}, {1800, 9.630, 0.5115, 0.4391}, {7200, 4.815, 0.6117, 0.5395}, {41736, 2.000, 0.7383, 0.6667},
	} {
		assert.InEpsilon(t, c.cut, f.CutDiameterUM(150, c.s), 3e-4)
		assert.InDelta(t, c.p, settled(c.s), 1e-4)
		d := c.s * 1e-4
		slope := (settled(c.s+d) - settled(c.s-d)) / (2 * d)
		assert.InDelta(t, c.w, CoarserByTangent(settled(c.s), c.s, slope), 1e-4)
	}
}

// TestSettledPartTable checks settled parts at 15 cm (10 cm), 20 C, dilute, from
// the same theory worked out apart: silt 2-50 and clay 0.2-2, log-uniform.
func TestSettledPartTable(t *testing.T) {
	f := NewFluid(20, QuartzDensity)
	for _, c := range []struct{ s, silt15, silt10, clay15, clay10 float64 }{
		{60, 0.139, 0.201, 0, 0}, {1800, 0.660, 0.720, 0.009, 0.014}, {7200, 0.856, 0.905, 0.037, 0.056},
		{21600, 0.973, 0.995, 0.111, 0.167}, {86400, 1, 1, 0.371, 0.456}, {172800, 1, 1, 0.517, 0.600},
	} {
		assert.InDelta(t, c.silt15, LogUniformSettled(2, 50, f.CutDiameterUM(150, c.s)), 6e-4, "%v s", c.s)
		assert.InDelta(t, c.silt10, LogUniformSettled(2, 50, f.CutDiameterUM(100, c.s)), 6e-4, "%v s", c.s)
		assert.InDelta(t, c.clay15, LogUniformSettled(0.2, 2, f.CutDiameterUM(150, c.s)), 6e-4, "%v s", c.s)
		assert.InDelta(t, c.clay10, LogUniformSettled(0.2, 2, f.CutDiameterUM(100, c.s)), 6e-4, "%v s", c.s)
	}
}

func TestSettledShareSumsToTheClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := NewFluid(rapid.Float64Range(5, 30).Draw(t, "temp"), QuartzDensity)
		s := math.Exp(rapid.Float64Range(3, 12).Draw(t, "log time"))
		sum := 0.0
		const n = 4000
		for i := range n {
			d := 2 * math.Pow(25, (float64(i)+0.5)/n)
			sum += SettledShare(f.StokesMMS(d), 120, s) / n
		}
		assert.InDelta(t, LogUniformSettled(2, 50, f.CutDiameterUM(120, s)), sum, 1e-3)
	})
}
