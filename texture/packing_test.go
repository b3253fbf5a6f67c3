package texture

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const kgPerPound = 16.0185 // kg/m3 in one lb/ft3

func TestUnitWeightsOfTheBureauOfReclamation(t *testing.T) {
	// Lara & Pemberton 1963, operation type 1, lb/ft3 (from memory of Strand & Pemberton 1982).
	for want, got := range map[float64]float64{97: SubmergedUSBR.Sand, 70: SubmergedUSBR.Silt, 26: SubmergedUSBR.Clay} {
		assert.InDelta(t, want, got/kgPerPound, 0.05)
	}
	// Lane & Koelzer 1943, always submerged, first year.
	for want, got := range map[float64]float64{93: SubmergedLaneKoelzer.Sand, 65: SubmergedLaneKoelzer.Silt, 30: SubmergedLaneKoelzer.Clay} {
		assert.InDelta(t, want, got/kgPerPound, 0.05)
	}
}

func TestBureauWorkedExample(t *testing.T) {
	// USBR example: 23 % clay, 40 % silt, 37 % sand, type 1: 70 lb/ft3, K 5.96,
	// 79 lb/ft3 after 100 years (from memory; 69.87, 5.96, 79.32 recomputed).
	w := UnitWeights{Sand: 97, Silt: 70, Clay: 26}.Mixed(Fractions{37, 40, 23})
	k := UnitWeights{Sand: 0, Silt: 5.7, Clay: 16}.Mixed(Fractions{37, 40, 23})
	assert.InDelta(t, 69.87, w, 0.005)
	assert.InDelta(t, 5.96, k, 0.005)
	assert.InDelta(t, 79.32, MillerMean(w, k, 100), 0.005)
	assert.Equal(t, w, MillerMean(w, k, 1))
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
