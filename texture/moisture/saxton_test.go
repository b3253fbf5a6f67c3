package moisture

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/texture"
)

// soil is a soil by sand and clay, percent.
func soil(sand, clay float64) texture.Fractions {
	return texture.Fractions{Sand: sand, Silt: 100 - sand - clay, Clay: clay}
}

func water(t *testing.T, sand, clay, organic float64) Water {
	t.Helper()
	w, err := SaxtonRawls(soil(sand, clay), organic)
	require.NoError(t, err)
	return w
}

// table3 is table 3 of Saxton & Rawls (2006), SSSAJ 70:1574, at 2.5 % organic
// matter (from memory): percent by volume, mm/h, g/cm3.
var table3 = []struct {
	class                                   string
	sand, clay                              float64
	wilting, capacity, full, available      float64
	conductivity, density                   float64
	airEntryKPa, lambda, computedWP, compFC float64 // worked out apart from this program
	compFull, compAvailable                 float64
}{
	{"sand", 88, 5, 5, 10, 46, 5, 108.1, 1.43, -0.96, 0.1878, 5.0, 10.3, 46.2, 5.3},
	{"loamy sand", 80, 5, 5, 12, 46, 7, 96.7, 1.43, -0.92, 0.2249, 5.1, 12.0, 46.0, 6.9},
	{"sandy loam", 65, 10, 8, 18, 45, 10, 50.3, 1.46, 0.25, 0.2087, 8.1, 17.9, 45.0, 9.8},
	{"loam", 40, 20, 14, 28, 46, 14, 15.5, 1.43, 4.15, 0.1869, 13.7, 28.0, 45.9, 14.3},
	{"silt loam", 20, 15, 11, 31, 48, 20, 16.1, 1.38, 9.01, 0.2677, 11.0, 30.5, 47.9, 19.5},
	{"silt", 10, 5, 6, 30, 48, 25, 22.0, 1.38, 14.43, 0.4371, 5.7, 30.5, 47.9, 24.7},
	{"sandy clay loam", 60, 25, 17, 27, 43, 10, 11.3, 1.50, 1.64, 0.1250, 16.6, 26.7, 43.4, 10.1},
	{"clay loam", 30, 35, 22, 36, 48, 14, 4.3, 1.39, 5.65, 0.1299, 21.8, 35.8, 47.7, 14.0},
	{"silty clay loam", 10, 35, 22, 38, 51, 17, 5.7, 1.30, 8.65, 0.1503, 21.5, 38.2, 51.1, 16.7},
	{"silty clay", 10, 45, 27, 41, 52, 14, 3.7, 1.26, 6.83, 0.1111, 26.8, 40.9, 52.3, 14.1},
	{"sandy clay", 50, 40, 25, 36, 44, 11, 1.4, 1.47, 3.34, 0.0978, 24.9, 36.1, 44.4, 11.2},
	{"clay", 25, 50, 30, 42, 50, 12, 1.1, 1.33, 5.33, 0.0904, 29.8, 42.1, 49.8, 12.3},
}

// TestTable3 holds all 72 values of the paper's table to their last digit.
func TestTable3(t *testing.T) {
	for _, row := range table3 {
		w := water(t, row.sand, row.clay, 2.5)
		for _, c := range []struct {
			what      string
			want, got float64
			digits    float64
		}{
			{"wilting point", row.wilting, w.WiltingPoint, 1}, {"field capacity", row.capacity, w.FieldCapacity, 1},
			{"saturation", row.full, w.Saturation, 1}, {"available water", row.available, w.Available(), 1},
			{"conductivity", row.conductivity, w.ConductivityMMH, 0.1}, {"density", row.density, w.DensityGCM3, 0.01},
		} {
			assert.InDelta(t, c.want, c.got, c.digits/2*1.0001, "%s, %s", row.class, c.what)
		}
	}
}

// TestComputedBeside holds the same classes to figures worked out from the
// equations by testdata/saxton_rawls.py (Python 3.11), and what the table does not print.
func TestComputedBeside(t *testing.T) {
	for _, row := range table3 {
		w := water(t, row.sand, row.clay, 2.5)
		assert.InDelta(t, row.computedWP, w.WiltingPoint, 0.051, row.class)
		assert.InDelta(t, row.compFull, w.Saturation, 0.051, row.class)
		assert.InDelta(t, row.compAvailable, w.Available(), 0.051, row.class)
		assert.InDelta(t, row.conductivity, w.ConductivityMMH, 0.051, row.class)
		assert.InDelta(t, row.density, w.DensityGCM3, 0.0051, row.class)
		assert.InDelta(t, row.compFC, w.FieldCapacity, 0.051, row.class)
		assert.InDelta(t, row.lambda, 1/w.B, 0.00005, row.class)
		assert.InDelta(t, math.Max(0, row.airEntryKPa), w.AirEntryKPa, 0.005, row.class)
		assert.InDelta(t, row.airEntryKPa, airEntry(row.sand/100, row.clay/100, largePores(row.sand/100, row.clay/100, 2.5)), 0.005, row.class)
	}
}

// TestExact holds two soils to seven figures, worked out by testdata/saxton_rawls.py (Python 3.11).
func TestExact(t *testing.T) {
	w := water(t, 40, 20, 2.5)
	assert.InDelta(t, 13.70236, w.WiltingPoint, 5e-6)
	assert.InDelta(t, 27.96102, w.FieldCapacity, 5e-6)
	assert.InDelta(t, 45.94782, w.Saturation, 5e-6)
	assert.InDelta(t, 15.47566, w.ConductivityMMH, 5e-6)
	assert.InDelta(t, 4.147248, w.AirEntryKPa, 5e-7)
	assert.InDelta(t, 5.351208, w.B, 5e-7)
	assert.InDelta(t, 0.03604986, w.A, 5e-9)
	w = water(t, 20, 20, 2.5)
	assert.InDelta(t, 13.65448, w.WiltingPoint, 5e-6)
	assert.InDelta(t, 32.08775, w.FieldCapacity, 5e-6)
	assert.InDelta(t, 48.21250, w.Saturation, 5e-6)
	assert.InDelta(t, 12.17435, w.ConductivityMMH, 5e-6)
}

// TestOrganicMatter: available water and conductivity for more and less of it,
// worked out by testdata/saxton_rawls.py (Python 3.11). In clay it falls.
func TestOrganicMatter(t *testing.T) {
	for _, c := range []struct {
		sand, clay, organic, available, conductivity float64
	}{
		{40, 20, 0.5, 13.3, 9.2}, {40, 20, 2.5, 14.3, 15.5}, {40, 20, 6, 16.1, 32.2},
		{88, 5, 0.5, 4.6, 0}, {88, 5, 2.5, 5.3, 0}, {88, 5, 6, 6.9, 0},
		{25, 50, 0.5, 12.8, 0}, {25, 50, 2.5, 12.3, 0}, {25, 50, 6, 11.4, 0},
	} {
		w := water(t, c.sand, c.clay, c.organic)
		assert.InDelta(t, c.available, w.Available(), 0.0501, "%+v", c)
		if c.conductivity > 0 {
			assert.InDelta(t, c.conductivity, w.ConductivityMMH, 0.0501, "%+v", c)
		}
	}
}

// TestHumusBesideReviews: per 1 % organic carbon (organic matter over 1.724, van
// Bemmelen) a review states 15 to 20 mm a metre on a summary page, and 11.6 in its
// abstract (Minasny & McBratney 2018, from memory): modest, most in sand, almost
// none in clay. The equations give less than that, and in clay a loss. Hudson
// (1994) found 2.2 to 2.5 times the water for four times the carbon, which they
// do not: so advice gives the reviews' figure, and says that studies differ.
func TestHumusBesideReviews(t *testing.T) {
	gain := func(sand, clay float64) float64 {
		return 10 * (water(t, sand, clay, 6).Available() - water(t, sand, clay, 0.5).Available()) / (5.5 / 1.724)
	}
	assert.InDelta(t, 7.3, gain(88, 5), 0.05)
	assert.InDelta(t, 8.6, gain(40, 20), 0.05)
	assert.InDelta(t, -4.3, gain(25, 50), 0.05)
	assert.Less(t, water(t, 40, 20, 4).Available()/water(t, 40, 20, 1).Available(), 1.2, "far from Hudson's")
}

// fao19 is table 19 of FAO-56 (from memory): field capacity, wilting point and
// available water, percent by volume, from and to.
var fao19 = map[string][3][2]float64{
	"sand": {{7, 17}, {2, 7}, {5, 11}}, "loamy sand": {{11, 19}, {3, 10}, {6, 12}}, "sandy loam": {{18, 28}, {6, 16}, {11, 15}},
	"loam": {{20, 30}, {7, 17}, {13, 18}}, "silt loam": {{22, 36}, {9, 21}, {13, 19}}, "silt": {{28, 36}, {12, 22}, {16, 20}},
	"silty clay loam": {{30, 37}, {17, 24}, {13, 18}}, "silty clay": {{30, 42}, {17, 29}, {13, 19}}, "clay": {{32, 40}, {20, 24}, {12, 20}},
}

// TestBesideFAO56 sets the equations beside an independent table. Where the two
// sources differ the difference stands here: every value must lie in the band,
// or miss it by just what is written.
func TestBesideFAO56(t *testing.T) {
	differ := map[string]float64{
		"sandy loam field capacity": -0.1, "sandy loam available": -1.2,
		"silt loam available": 0.5, "silt wilting point": -6.3, "silt available": 4.7, // silt: the sources differ most
		"silty clay loam field capacity": 1.2, "clay field capacity": 2.1, "clay wilting point": 5.8,
	}
	for _, row := range table3 {
		bands, listed := fao19[row.class]
		if !listed {
			continue
		}
		w := water(t, row.sand, row.clay, 2.5)
		for i, v := range []float64{w.FieldCapacity, w.WiltingPoint, w.Available()} {
			name := row.class + " " + []string{"field capacity", "wilting point", "available"}[i]
			outside := v - math.Min(math.Max(v, bands[i][0]), bands[i][1])
			assert.InDelta(t, differ[name], outside, 0.0501, "%s %.2f against %v", name, v, bands[i])
		}
	}
}

// californian is available water in inches a foot, from and to, as UC Drought
// Management lists it (Soil Characteristics page).
var californian = map[string][2]float64{
	"sand": {0.75, 1.25}, "loamy sand": {0.75, 1.25}, "sandy loam": {1.25, 1.75}, "loam": {1.50, 2.30}, "silt loam": {1.50, 2.30},
	"clay loam": {1.75, 2.50}, "silty clay loam": {1.75, 2.50}, "sandy clay loam": {1.75, 2.50},
	"sandy clay": {1.60, 2.50}, "silty clay": {1.60, 2.50}, "clay": {1.60, 2.50},
}

// TestBesideCalifornia: as above, in mm a metre. Extension tables reckon with
// more than the equations in sands and sandy clays.
func TestBesideCalifornia(t *testing.T) {
	differ := map[string]float64{"sand": -10, "sandy loam": -6, "silt loam": 4, "sandy clay loam": -45, "clay loam": -6, "sandy clay": -21, "clay": -11}
	for _, row := range table3 {
		band, listed := californian[row.class]
		if !listed {
			continue
		}
		const perMetre = 1000.0 / 12
		v := 10 * water(t, row.sand, row.clay, 2.5).Available()
		outside := v - math.Min(math.Max(v, band[0]*perMetre), band[1]*perMetre)
		assert.InDelta(t, differ[row.class], outside, 0.51, "%s %.1f", row.class, v)
	}
	// University of Nebraska, Soil Water: about 2 inches a foot in silt loam.
	assert.InDelta(t, 2, water(t, 20, 15, 2.5).Available()/100*12, 0.5)
}

// TestCoarseSand: the classes do not tell coarse sand from fine, and nor do the
// equations. What they give for sand is what UC Drought Management lists for very
// coarse sand, 0.4 to 0.75 inches a foot; for sand of hardly any clay it is also the
// half an inch of the University of Nebraska for coarse sand.
func TestCoarseSand(t *testing.T) {
	for _, f := range [][2]float64{{88, 5}, {92, 3}, {95, 2}, {98, 1}} {
		class, err := texture.ClassOf(soil(f[0], f[1]), texture.USDA)
		require.NoError(t, err)
		require.Equal(t, "sand", class)
		inches := water(t, f[0], f[1], 2.5).Available() / 100 * 12
		assert.True(t, 0.4 < inches && inches < 0.75, "%v: %.2f", f, inches)
	}
	assert.InDelta(t, 0.5, water(t, 95, 2, 2.5).Available()/100*12, 0.05)
}

// victorian is water in mm a cm of soil, held between 8 kPa and 60 kPa, between 8
// and 1500 kPa, and between 8 and 40 kPa (Agriculture Victoria, readily available
// water).
var victorian = map[string][3]float64{"sand": {0.38, 0.62, 0.36}, "loamy sand": {0.55, 0.87, 0.52}, "sandy loam": {0.65, 1.15, 0.59},
	"sandy clay loam": {0.71, 1.43, 0.61}, "clay loam": {0.65, 1.48, 0.53}}

// TestBesideVictoria: water from 8 kPa on is more than from field capacity on,
// so the equations must give less than the whole, but not less than what the
// table has left past 60 kPa. Loam is left out, as its row was incomplete.
func TestBesideVictoria(t *testing.T) {
	for _, row := range table3 {
		if v, ok := victorian[row.class]; ok {
			w := water(t, row.sand, row.clay, 2.5)
			got := w.Available() / 10
			assert.Less(t, got, v[1], row.class)
			assert.Greater(t, got, v[1]-v[0], row.class)
			// Between 40 and 60 kPa the curve of the equations lets go of one and a
			// half to four times as much: a table of sands lets go of most before.
			at := func(kPa float64) float64 { return math.Pow(kPa/w.A, -1/w.B) }
			ratio := 10 * (at(40) - at(60)) / (v[0] - v[2])
			assert.True(t, 1.2 < ratio && ratio < 4, "%s: %.2f", row.class, ratio)
		}
	}
}

func TestBeyond(t *testing.T) {
	limit := water(t, 20, 60, 2.5)
	w, err := SaxtonRawls(texture.Fractions{Sand: 10, Silt: 10, Clay: 80}, 2.5)
	require.ErrorIs(t, err, ErrBeyond)
	assert.Contains(t, err.Error(), "clay 80 % is above 60 %")
	assert.Equal(t, limit, w, "held at the limit")
	for _, sand := range []float64{0, 1e-307} {
		w, err = SaxtonRawls(texture.Fractions{Sand: sand, Clay: 100}, 2.5)
		require.ErrorIs(t, err, ErrBeyond)
		assert.Equal(t, limit, w)
	}
	w, err = SaxtonRawls(soil(40, 20), 30)
	require.ErrorIs(t, err, ErrBeyond)
	assert.Contains(t, err.Error(), "organic matter 30 % is above 8 %")
	assert.Equal(t, water(t, 40, 20, 8), w)
	_, err = SaxtonRawls(soil(100, 0), 0)
	assert.ErrorIs(t, err, ErrBeyond, "a wilting point below nothing")
	_, err = SaxtonRawls(soil(40, 60), 8)
	assert.ErrorIs(t, err, ErrBeyond, "no large pores left")

	for _, f := range []texture.Fractions{{Sand: 50, Silt: 50, Clay: 50}, {Sand: math.NaN()}, {Sand: 110, Silt: -10}} {
		w, err = SaxtonRawls(f, 2.5)
		require.Error(t, err, "%+v", f)
		assert.False(t, errors.Is(err, ErrBeyond))
		assert.Zero(t, w)
	}
	for _, organic := range []float64{-1, 101, math.NaN()} {
		_, err = SaxtonRawls(soil(40, 20), organic)
		assert.ErrorContains(t, err, "0 to 100", fmt.Sprint(organic))
	}
}

// TestWaterOfAnySoil: values are finite and in order whatever the soil.
func TestWaterOfAnySoil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sand := rapid.Float64Range(0, 100).Draw(t, "sand")
		clay := rapid.Float64Range(0, 100-sand).Draw(t, "clay")
		w, err := SaxtonRawls(soil(sand, clay), rapid.Float64Range(0, 100).Draw(t, "organic"))
		if err != nil {
			require.ErrorIs(t, err, ErrBeyond)
		}
		require.Greater(t, w.WiltingPoint, 0.0)
		require.Greater(t, w.FieldCapacity, w.WiltingPoint)
		require.Greater(t, w.Saturation, w.FieldCapacity)
		require.Less(t, w.Saturation, 100.0)
		require.Greater(t, w.ConductivityMMH, 0.0)
		require.Less(t, w.ConductivityMMH, 1930.0)
		require.InDelta(t, 33, w.A*math.Pow(w.FieldCapacity/100, -w.B), 1e-6)
		require.InDelta(t, 1500, w.A*math.Pow(w.WiltingPoint/100, -w.B), 1e-4)
	})
}
