package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// kgPerPound is kg/m3 in one lb/ft3, by the definitions of pound and foot.
const kgPerPound = 0.45359237 / (0.3048 * 0.3048 * 0.3048)

// TestUnitWeightsOfTheBureauOfReclamation: the printed figures in lb/ft3, Lara &
// Pemberton 1963, operation type 1, and Lane & Koelzer 1943, always submerged, first year
// (both from memory of Strand & Pemberton 1982). What they leave of pores is measured:
// TestMeasuredDeposits; that they belong together, the worked example below.
func TestUnitWeightsOfTheBureauOfReclamation(t *testing.T) {
	for _, c := range []struct{ program, pounds UnitWeights }{
		{SubmergedUSBR, UnitWeights{97, 70, 26}}, {SubmergedLaneKoelzer, UnitWeights{93, 65, 30}},
	} {
		assert.InDelta(t, c.pounds.Sand*kgPerPound, c.program.Sand, 0.5)
		assert.InDelta(t, c.pounds.Silt*kgPerPound, c.program.Silt, 0.5)
		assert.InDelta(t, c.pounds.Clay*kgPerPound, c.program.Clay, 0.5)
	}
}

// TestBureauWorkedExample is the example of the Bureau's manual (Strand & Pemberton 1982,
// from memory): a deposit of 23 % clay, 40 % silt and 37 % sand, always submerged, weighs
// 70 lb/ft3 at first. The program's own unit weights must come to what is printed. What
// the manual adds, 79 lb/ft3 after a hundred years, holds the same weights from the other
// side: K by Miller 1953 of 5.7 for silt and 16 for clay, W1 + 0.4343 K (T/(T-1) ln T - 1).
func TestBureauWorkedExample(t *testing.T) {
	soil := Fractions{Sand: 37, Silt: 40, Clay: 23}
	first := SubmergedUSBR.Mixed(soil) / kgPerPound
	assert.InDelta(t, 70, first, 0.5)
	const years, k = 100.0, 0.40*5.7 + 0.23*16
	assert.InDelta(t, 79, first+0.4343*k*(years/(years-1)*math.Log(years)-1), 0.5)
}

func TestThicknessToMass(t *testing.T) {
	// Thickness to percent by mass with 1554/1121/416 kg/m3, worked out by hand.
	for _, c := range []struct {
		sand, silt, clay float64
		want             Fractions
	}{
		{1, 1, 1, Fractions{50.3, 36.3, 13.5}}, {40, 40, 20, Fractions{53.9, 38.9, 7.2}},
		{20, 60, 20, Fractions{29.1, 63.1, 7.8}}, {40, 15, 25, Fractions{69.5, 18.8, 11.6}},
	} {
		l := Layers{c.sand, c.sand + c.silt, c.sand + c.silt + c.clay}
		got, ok := ByPacking(l, SubmergedUSBR)
		require.True(t, ok)
		assert.InDelta(t, c.want.Sand, got.Sand, 0.06)
		assert.InDelta(t, c.want.Silt, got.Silt, 0.06)
		assert.InDelta(t, c.want.Clay, got.Clay, 0.06)
	}
	// A printed example: clay 25, silt 15, sand 40 mm of 80: 31.25, 18.75, 50 %.
	got, ok := ByThickness(Layers{40, 55, 80})
	require.True(t, ok)
	assert.Equal(t, Fractions{50, 18.75, 31.25}, got)
	for _, bad := range []Layers{{}, {10, 5, 20}, {5, 25, 20}, {-1, 5, 20}} {
		_, ok := ByThickness(bad)
		assert.False(t, ok, "%v", bad)
	}
}

func TestMixturesPackBetweenTheirBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fractions{rapid.Float64Range(0, 1).Draw(t, "sand"), rapid.Float64Range(0, 1).Draw(t, "silt"), rapid.Float64Range(0.01, 1).Draw(t, "clay")}
		fill := rapid.Float64Range(0, 1).Draw(t, "fill")
		w := SubmergedUSBR
		layered := w.Layered(f)
		assert.InEpsilon(t, layered, w.Filled(f, QuartzDensity, 0), 1e-12)
		assert.GreaterOrEqual(t, w.Filled(f, QuartzDensity, fill), layered*(1-1e-12))
		assert.Less(t, w.Filled(f, QuartzDensity, fill), QuartzDensity)
		assert.GreaterOrEqual(t, w.Mixed(f), layered*(1-1e-12))
	})
	assert.Equal(t, 1.0, Consolidated(0.1, -5))
	assert.Greater(t, Consolidated(0.1, 1e5), Consolidated(0.1, 1e4))
}

// TestMeasuredDeposits: the pores of deposits as measured, coarse sand 40 %, fine
// sand 45 %, mud up to 80 % (Origin and Properties of Sediment, lecture; read). The
// unit weights of sand lie between the first two; those of clay leave as much as mud
// or a little more, being fresher.
func TestMeasuredDeposits(t *testing.T) {
	pores := func(kgM3 float64) float64 { return 1 - kgM3/QuartzDensity }
	for _, w := range []UnitWeights{SubmergedUSBR, SubmergedLaneKoelzer} {
		assert.GreaterOrEqual(t, pores(w.Sand), 0.40)
		assert.LessOrEqual(t, pores(w.Sand), 0.45)
		assert.InDelta(t, 0.80, pores(w.Clay), 0.05)
		assert.Greater(t, pores(w.Silt), pores(w.Sand))
		assert.Less(t, pores(w.Silt), pores(w.Clay))
	}
}
