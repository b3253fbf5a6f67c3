package texture

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWordingOf2017: as the Soil Survey Manual 2017 words them (ch. 3, from
// memory), sandy clay has 45 % sand or more, not more than 45 %. Its definitions
// then claim 41 points of the grid twice: 31 with clay, 10 with clay loam. All
// have 45 % sand, and the program gives them to the class on the right of the
// line (Benham, Ahrens & Nettleton, Clarification of Soil Texture Class Boundaries).
func TestWordingOf2017(t *testing.T) {
	twice := map[string]int{}
	grid(200, func(f Fractions) {
		sa, si, cl := f.Sand, f.Silt, f.Clay
		var claimed []string
		for _, r := range usdaWording {
			in := r.in(sa, si, cl)
			if r.name == "sandy clay" {
				in = sa >= 45 && cl >= 35
			}
			if in {
				claimed = append(claimed, r.name)
			}
		}
		require.NotEmpty(t, claimed, "a gap at %g/%g/%g", sa, si, cl)
		if len(claimed) == 1 {
			return
		}
		assert.Equal(t, 45.0, sa)
		assert.Contains(t, claimed, "sandy clay")
		given, err := ClassOf(Fractions{sa, si, cl}, USDA)
		require.NoError(t, err)
		assert.NotEqual(t, "sandy clay", given, "%g/%g/%g", sa, si, cl)
		assert.Contains(t, claimed, given)
		twice[given]++
	})
	assert.Equal(t, map[string]int{"clay": 31, "clay loam": 10}, twice)
}

// TestSandsBySiltAndClay: the definitions of sand and loamy sand part them by silt and
// clay, and the same definitions say how much sand they hold: 85 % and more, and 70 to
// 90 % (Soil Survey Manual 2017; up to 91 % in that of 1993; from memory). On a grid of
// half percents both classes reach just so far.
func TestSandsBySiltAndClay(t *testing.T) {
	least, most := map[string]float64{}, map[string]float64{}
	grid(200, func(f Fractions) {
		sa, si, cl := f.Sand, f.Silt, f.Clay
		class, err := ClassOf(Fractions{sa, si, cl}, USDA)
		require.NoError(t, err)
		assert.Equal(t, si+1.5*cl < 15, class == "sand", "%g/%g/%g", sa, si, cl)
		assert.Equal(t, si+1.5*cl >= 15 && si+2*cl < 30, class == "loamy sand", "%g/%g/%g", sa, si, cl)
		if most[class] == 0 {
			least[class] = sa
		}
		least[class], most[class] = min(least[class], sa), max(most[class], sa)
	})
	assert.InDelta(t, 85, least["sand"], 0.51)
	assert.Equal(t, 100.0, most["sand"])
	assert.InDelta(t, 70, least["loamy sand"], 0.51)
	assert.InDelta(t, 90, most["loamy sand"], 0.51)
}

// TestSizeLimits: where silt ends, um. USDA 50, international and Australian 20
// (Lal & Shukla, Principles of Soil Physics, table 3.1; Agriculture Victoria,
// Practical Note: Soil Texture), England and Wales 60, German 63 (AGVISE
// Laboratories, a comparison of systems), Canadian 50 (Canadian System of Soil
// Classification, 3rd ed., from memory), European 50 (as the corners were read).
func TestSizeLimits(t *testing.T) {
	for system, um := range map[System]float64{USDA: 50, Canadian: 50, EnglandWales: 60, International: 20, Australian: 20, German: 63, European: 50} {
		assert.Equal(t, um, system.SiltLimitUM(), "%v", system)
	}
}

// TestPrintedJars are worked examples of the jar test as its guides print them:
// layers from the floor up, in any unit, and what they come to by thickness.
func TestPrintedJars(t *testing.T) {
	for _, c := range []struct {
		sand, silt, clay float64
		want             Fractions
		class, source    string
	}{
		{40, 15, 25, Fractions{50, 18.75, 31.25}, "sandy clay loam", "TAFE, soil texture class test, mm"},
		{1, 1, 1, Fractions{33.3, 33.3, 33.3}, "clay loam", "thirds; the class by the definitions"},
		{40, 40, 20, Fractions{40, 40, 20}, "loam", "the class by the definitions"},
		{20, 60, 20, Fractions{20, 60, 20}, "silt loam", "the class by the definitions"},
	} {
		got, ok := ByThickness(Layers{c.sand, c.sand + c.silt, c.sand + c.silt + c.clay})
		require.True(t, ok)
		assert.InDelta(t, c.want.Sand, got.Sand, 0.05, c.source)
		assert.InDelta(t, c.want.Silt, got.Silt, 0.05, c.source)
		assert.InDelta(t, c.want.Clay, got.Clay, 0.05, c.source)
		class, err := ClassOf(got, USDA)
		require.NoError(t, err)
		assert.Equal(t, c.class, class, c.source)
	}
	// Shares of sand or clay alone: 3/4 of 3 inches (Appalachian State University),
	// 1/2 of 1 inch (Michigan Agriscience Education), 45 of 70 mm, 0.25 of 2 inches (press).
	for _, c := range [][3]float64{{0.75, 3, 25}, {0.5, 1, 50}, {45, 70, 64.3}, {0.25, 2, 12.5}} {
		got, ok := ByThickness(Layers{c[0], c[0], c[1]})
		require.True(t, ok)
		assert.InDelta(t, c[2], got.Sand, 0.05)
	}
	// By weight the same layers are other soils; unit weights of Lara & Pemberton 1963,
	// always submerged (from memory).
	for _, c := range []struct {
		layers Layers
		class  string
	}{{Layers{1, 2, 3}, "loam"}, {Layers{40, 80, 100}, "sandy loam"}, {Layers{20, 80, 100}, "silt loam"}, {Layers{40, 55, 80}, "sandy loam"}} {
		got, ok := ByPacking(c.layers, SubmergedUSBR)
		require.True(t, ok)
		class, err := ClassOf(got, USDA)
		require.NoError(t, err)
		assert.Equal(t, c.class, class, "%v", c.layers)
	}
}

// TestPrintedPercentages: percentages that a page prints with their class. A garden
// blog's 50/45/5 is a sandy loam. A training page calls 15/60/25 a sandy clay loam,
// which by the definitions is a silt loam: the page is wrong, not the program.
func TestPrintedPercentages(t *testing.T) {
	class, err := ClassOf(Fractions{50, 45, 5}, USDA)
	require.NoError(t, err)
	assert.Equal(t, "sandy loam", class)
	class, err = ClassOf(Fractions{15, 60, 25}, USDA)
	require.NoError(t, err)
	assert.Equal(t, "silt loam", class)
}
