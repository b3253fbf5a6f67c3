package texture

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPublishedSoilsFallInTheirClasses(t *testing.T) {
	for _, c := range []struct {
		soil   Fractions
		want   string
		source string
	}{
		{Fractions{88, 7, 5}, "sand", "Saxton & Rawls 2006 table 3, from memory"},
		{Fractions{80, 15, 5}, "loamy sand", "same"},
		{Fractions{65, 25, 10}, "sandy loam", "same"},
		{Fractions{40, 40, 20}, "loam", "same"},
		{Fractions{20, 65, 15}, "silt loam", "same"},
		{Fractions{10, 85, 5}, "silt", "same"},
		{Fractions{60, 15, 25}, "sandy clay loam", "same"},
		{Fractions{30, 35, 35}, "clay loam", "same"},
		{Fractions{10, 55, 35}, "silty clay loam", "same"},
		{Fractions{10, 45, 45}, "silty clay", "same"},
		{Fractions{50, 10, 40}, "sandy clay", "same"},
		{Fractions{25, 25, 50}, "clay", "same"},
		{Fractions{29.0, 49.1, 21.9}, "loam", "NCSS laboratory, NDSU0667"},
		{Fractions{27.2, 47.7, 25.1}, "loam", "NDSU0668"},
		{Fractions{13.5, 58.6, 27.9}, "silty clay loam", "NDSU0669"},
		{Fractions{13.2, 58.6, 28.2}, "silty clay loam", "NDSU0670"},
		{Fractions{48.5, 32.9, 18.6}, "loam", "NDSU0671"},
		{Fractions{79.1, 10.2, 10.7}, "sandy loam", "NDSU0672"},
		{Fractions{25.5, 51.7, 22.8}, "silt loam", "NCSS pedon 07N0202"},
		{Fractions{20, 56, 24}, "silt loam", "PMC3990416 table 1, three horizons"},
		{Fractions{23, 54, 23}, "silt loam", "same"},
		{Fractions{22, 62, 16}, "silt loam", "same"},
		{Fractions{40, 35, 25}, "loam", "agricultural engineering text"},
		{Fractions{75, 10, 15}, "sandy loam", "triangle practice notes"},
	} {
		got, err := ClassOf(c.soil, USDA)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v (%s)", c.soil, c.source)
	}
}

// TestEdges checks points on the lines, by the convention of Benham, Ahrens &
// Nettleton that a point on a line mostly belongs above or to the right of it.
func TestEdges(t *testing.T) {
	for soil, want := range map[Fractions]string{
		{85, 15, 0}: "loamy sand", {85.5, 14.5, 0}: "sand", {90, 0, 10}: "loamy sand", {70, 30, 0}: "sandy loam",
		{52, 41, 7}: "loam", {52.5, 40.5, 7}: "sandy loam", {43, 50, 7}: "silt loam", {20, 80, 0}: "silt",
		{8, 80, 12}: "silt loam", {45, 28, 27}: "clay loam", {45.5, 27.5, 27}: "sandy clay loam", {52, 28, 20}: "loam",
		{60, 20, 20}: "sandy clay loam", {60.5, 20, 19.5}: "sandy loam", {20, 53, 27}: "silty clay loam",
		{20.5, 52.5, 27}: "clay loam", {20, 40, 40}: "silty clay", {20.5, 39.5, 40}: "clay", {45, 15, 40}: "clay", {55, 5, 40}: "sandy clay",
	} {
		got, err := ClassOf(soil, USDA)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%v", soil)
	}
}

// TestTiling counts the classes over the whole triangle at half a percent: every
// point in exactly one, as many as the definitions give when worked out apart.
func TestTiling(t *testing.T) {
	want := map[string]int{"clay": 6055, "silt loam": 3315, "sandy loam": 2277, "sandy clay loam": 1560, "loam": 1409,
		"clay loam": 1300, "silty clay loam": 1066, "silty clay": 861, "sandy clay": 820, "silt": 708, "loamy sand": 610, "sand": 320}
	got := map[string]int{}
	for a := 0; a <= 200; a++ {
		for b := 0; a+b <= 200; b++ {
			sa, si, cl := float64(a)/2, float64(b)/2, float64(200-a-b)/2
			in := 0
			for _, r := range usdaRules {
				if r.in(sa, si, cl) {
					in++
					got[r.name]++
				}
			}
			require.Equal(t, 1, in, "%v/%v/%v", sa, si, cl)
		}
	}
	assert.Equal(t, want, got)
}

func TestEverySoilHasOneClass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 100).Draw(t, "a"), rapid.Float64Range(0, 100).Draw(t, "b")
		f := Fractions{min(a, b), max(a, b) - min(a, b), 100 - max(a, b)}
		in := 0
		for _, r := range usdaRules {
			if r.in(f.Sand, f.Silt, f.Clay) {
				in++
			}
		}
		assert.Equal(t, 1, in, "%v", f)
	})
}

func TestCanada(t *testing.T) {
	// CanSIS: heavy clay is more than 60 % clay.
	for cl, want := range map[float64]string{60: "clay", 60.5: "heavy clay", 59: "clay"} {
		got, err := ClassOf(Fractions{20, 80 - cl, cl}, Canadian)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	assert.Len(t, ClassNames(Canadian), 13)
	assert.Len(t, ClassNames(USDA), 12)
}

func TestSystems(t *testing.T) {
	s, err := ParseSystem(" USDA ")
	require.NoError(t, err)
	assert.Equal(t, USDA, s)
	assert.Equal(t, 20.0, International.SiltLimitUM())
	assert.Nil(t, ClassNames(International))
	_, err = ClassOf(Fractions{40, 40, 20}, International)
	assert.ErrorContains(t, err, "names no classes")
	_, err = ParseSystem("uk")
	assert.ErrorContains(t, err, "no published definition")
	_, err = ParseSystem("martian")
	assert.ErrorContains(t, err, "usda, canadian or international")
	assert.Error(t, System(9).Validate())
}

func TestBadFractions(t *testing.T) {
	// Laboratory reports exist whose numbers do not add up, such as this one.
	_, err := ClassOf(Fractions{80.5, 13.2, 15.0}, USDA)
	assert.ErrorContains(t, err, "add up to 108.7")
	_, err = ClassOf(Fractions{-1, 51, 50}, USDA)
	assert.ErrorContains(t, err, "0 to 100")
}

func TestClassProbabilities(t *testing.T) {
	p := ClassProbabilities([]Fractions{{40, 40, 20}, {41, 39, 20}, {15, 15, 70}}, []float64{1, 2, 5}, USDA)
	assert.Equal(t, []ClassProbability{{"clay", 0.625}, {"loam", 0.375}}, p)
	assert.Equal(t, "heavy clay", ClassProbabilities([]Fractions{{15, 15, 70}}, []float64{1}, Canadian)[0].Name)
	assert.Nil(t, ClassProbabilities([]Fractions{{15, 15, 70}}, []float64{1}, International))
}
