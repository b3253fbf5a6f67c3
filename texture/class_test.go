package texture

import (
	"math"
	"strings"
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
// point in the class of the wording and in no other, as many as the wording gives
// when worked out apart.
func TestTiling(t *testing.T) {
	want := map[string]int{"clay": 6055, "silt loam": 3315, "sandy loam": 2277, "sandy clay loam": 1560, "loam": 1409,
		"clay loam": 1300, "silty clay loam": 1066, "silty clay": 861, "sandy clay": 820, "silt": 708, "loamy sand": 610, "sand": 320}
	got := map[string]int{}
	grid(200, func(f Fractions) {
		name := only(t, f, USDA)
		got[name]++
		require.Equal(t, byWording(usdaWording, f), []string{name}, "%v", f)
	})
	assert.Equal(t, want, got)
}

// grid visits every soil whose parts are multiples of 100/n percent.
func grid(n int, visit func(Fractions)) {
	for a := 0; a <= n; a++ {
		for b := 0; a+b <= n; b++ {
			k := 100 / float64(n)
			visit(Fractions{k * float64(a), k * float64(b), k * float64(n-a-b)})
		}
	}
}

// only is the class of f, which must be in the field of no other.
func only(t require.TestingT, f Fractions, s System) string {
	var in []string
	for _, field := range s.outlines() {
		if field.holds(corner{f.Clay, f.Silt}) {
			in = append(in, field.class)
		}
	}
	require.Len(t, in, 1, "%v: %v is in %v", s, f, in)
	name, err := ClassOf(f, s)
	require.NoError(t, err)
	require.Equal(t, in[0], name)
	return name
}

func byWording(rules []wording, f Fractions) (names []string) {
	for _, r := range rules {
		if r.in(f.Sand, f.Silt, f.Clay) {
			names = append(names, r.name)
		}
	}
	return names
}

// TestEverySystemTiles: on a grid of a quarter percent every soil has one class,
// and each class as many of them as its corners enclose by the rule of
// surveyors. Together the corners enclose the triangle.
func TestEverySystemTiles(t *testing.T) {
	const n = 400
	for _, s := range Systems() {
		got := map[string]float64{}
		grid(n, func(f Fractions) { got[only(t, f, s)]++ })
		whole := 0.0
		for _, f := range s.known().fields {
			area, round := 0.0, 0.0
			for i, c := range f.corners {
				d := f.corners[(i+1)%len(f.corners)]
				area += (c.silt*d.clay - c.clay*d.silt) / 2
				round += math.Hypot(d.silt-c.silt, d.clay-c.clay)
			}
			whole += math.Abs(area)
			// A cell of the grid is 1/16 square percent; those on the rim count or not.
			assert.InDelta(t, math.Abs(area)*16, got[f.class], 4*round/2, "%v: %s", s, f.class)
		}
		assert.InDelta(t, 5000, whole, 1e-9, "%v", s)
		assert.Len(t, got, len(s.known().fields), "%v: a class twice", s)
	}
}

func TestEverySoilHasOneClass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 100).Draw(t, "a"), rapid.Float64Range(0, 100).Draw(t, "b")
		f := Fractions{min(a, b), max(a, b) - min(a, b), 100 - max(a, b)}
		for _, s := range Systems() {
			only(t, f, s)
		}
	})
}

// TestNoBorderLeadsToTheRight: along the way in which a soil on a border is moved
// to find its class runs no border, or neither side would own it.
func TestNoBorderLeadsToTheRight(t *testing.T) {
	for _, s := range Systems() {
		for _, f := range s.outlines() {
			for _, e := range f.sides {
				assert.True(t, e.outer || math.Abs(e.along.cross(toRight)) > 1e-3, "%v: %s", s, f.class)
			}
		}
	}
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
	for _, s := range Systems() {
		got, err := ParseSystem(" " + strings.ToUpper(s.String()))
		require.NoError(t, err)
		assert.Equal(t, s, got)
		assert.NotEmpty(t, s.Title())
		assert.NotEmpty(t, s.Source())
	}
	for name, want := range otherNames {
		got, err := ParseSystem(name)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err := ParseSystem("martian")
	assert.ErrorContains(t, err, "usda, canadian, england-wales")
	assert.Error(t, System(9).Validate())
	_, err = ClassOf(Fractions{40, 40, 20}, System(-1))
	assert.Error(t, err)
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
	assert.Equal(t, "reiner Ton", ClassProbabilities([]Fractions{{15, 15, 70}}, []float64{1}, German)[0].Name)
}
