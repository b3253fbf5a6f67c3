package texture

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// nearestBorder is the first of Borders.
func nearestBorder(f Fractions, s System) (Border, error) {
	all, err := Borders(f, s)
	if err != nil {
		return Border{}, err
	}
	return all[0], nil
}

// The distance of the soil judging contests: opposite corners give 100, and
// 40/40/20 against 50/35/15 is 8.66 worked by hand: sqrt((100 + 25 + 25)/2).
func TestDistance(t *testing.T) {
	assert.InDelta(t, 100, Distance(Fractions{100, 0, 0}, Fractions{0, 0, 100}), 1e-12)
	assert.InDelta(t, 8.66, Distance(Fractions{40, 40, 20}, Fractions{50, 35, 15}), 0.005)
}

// TestBordersByHand: square to a limit of one fraction, a change of d in it is
// d*sqrt(3)/2 in the triangle. Square to si + k*cl the gradient within the plane
// is (-(1+k), 2-k, 2k-1)/3, of length sqrt(2(1-k+k*k)/3).
func TestBordersByHand(t *testing.T) {
	straight := math.Sqrt(3) / 2
	for _, c := range []struct {
		soil   Fractions
		system System
		class  string
		far    float64
		at     Fractions
		why    string
	}{
		{Fractions{40, 40, 20}, USDA, "clay loam", 7 * straight, Fractions{36.5, 36.5, 27}, "clay 20 to 27; sand stays below 45"},
		{Fractions{60, 15, 25}, USDA, "sandy loam", 5 * straight, Fractions{62.5, 17.5, 20}, "clay 25 to 20"},
		{Fractions{30, 35, 35}, USDA, "clay", 5 * straight, Fractions{27.5, 32.5, 40}, "clay 35 to 40"},
		{Fractions{10, 85, 5}, USDA, "silt loam", 5 * straight, Fractions{12.5, 80, 7.5}, "silt 85 to 80"},
		{Fractions{88, 7, 5}, USDA, "loamy sand", 0.5 / math.Sqrt(3.5/3) / math.Sqrt2, Fractions{88 - 0.5*2.5/3.5, 7 + 0.5*0.5/3.5, 5 + 0.5*2/3.5}, "si + 1.5 cl 14.5 to 15"},
		{Fractions{80, 15, 5}, USDA, "sandy loam", 5 / math.Sqrt2 / math.Sqrt2, Fractions{77.5, 15, 7.5}, "si + 2 cl 25 to 30; the other limit is 7.5/sqrt(7/3) off"},
		{Fractions{18, 28, 54}, USDA, "silty clay", 12 * straight, Fractions{12, 40, 48}, "silt 28 to 40"},
		{Fractions{20, 25, 55}, Canadian, "heavy clay", 5 * straight, Fractions{17.5, 22.5, 60}, "clay 55 to 60"},
		{Fractions{10, 20, 70}, Canadian, "clay", 10 * straight, Fractions{15, 25, 60}, "clay 70 to 60"},
		{Fractions{20, 53, 27}, USDA, "clay loam", 0, Fractions{20, 53, 27}, "on the corner of three classes"},
		{Fractions{52, 28, 20}, USDA, "sandy loam", 0, Fractions{52, 28, 20}, "on two borders"},
	} {
		got, err := nearestBorder(c.soil, c.system)
		require.NoError(t, err)
		assert.InDelta(t, c.far, got.Distance, 1e-9, "%v %s", c.soil, c.why)
		if c.far > 0 {
			assert.Equal(t, c.class, got.Class, "%v", c.soil)
		}
		assert.InDelta(t, 0, Distance(c.at, got.At), 1e-9, "%v: %v", c.soil, got.At)
	}
}

// TestBordersByRays goes out from random soils in all directions until the class
// changes, which knows nothing of the lines.
func TestBordersByRays(t *testing.T) {
	const rays, step = 720, 0.25
	rng := rand.New(rand.NewPCG(1, 2))
	for _, s := range Systems() {
		// Other systems have fields with corners that pass between the rays whole:
		// for them the rays only tell that no border is nearer than the nearest.
		sharp, soils := s != USDA && s != Canadian, 60
		if sharp {
			soils = 5
		}
		for range soils {
			a, b := 100*rng.Float64(), 100*rng.Float64()
			f := Fractions{min(a, b), max(a, b) - min(a, b), 100 - max(a, b)}
			class, err := ClassOf(f, s)
			require.NoError(t, err)
			nearest := math.Inf(1)
			for k := range rays {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / rays)
				// Unit steps along and across the clay axis of the triangle.
				dir := Fractions{-sin/math.Sqrt(3) - cos, -sin/math.Sqrt(3) + cos, 2 * sin / math.Sqrt(3)}
				changed := func(r float64) bool {
					p := f.plus(dir, r)
					if min(p.Sand, p.Silt, p.Clay) < 0 {
						return false
					}
					name, err := ClassOf(p, s)
					require.NoError(t, err)
					return name != class
				}
				r := step
				for r < min(nearest, 100) && !changed(r) {
					r += step
				}
				if r = min(r, nearest); !changed(r) {
					continue
				}
				lo := r - step
				for range 20 {
					if mid := (lo + r) / 2; changed(mid) {
						r = mid
					} else {
						lo = mid
					}
				}
				nearest = r
			}
			got, err := nearestBorder(f, s)
			require.NoError(t, err)
			if !sharp {
				// A corner may lie between two rays.
				assert.InDelta(t, nearest, got.Distance, 0.01+got.Distance*math.Pi/rays, "%v", f)
			}
			assert.LessOrEqual(t, got.Distance, nearest+1e-6, "%v", f)
			assert.InDelta(t, got.Distance, Distance(f, got.At), 1e-9)
			assert.InDelta(t, 100, got.At.Sum(), 1e-9)
			beyond, _ := ClassOf(f.plus(got.At.minus(f), 1+1e-6), s)
			assert.NotEqual(t, class, beyond, "%v: a hair beyond the border", f)
		}
	}
}

// TestNeighboursOnTheGrid finds the neighbours on the half percent grid: two
// classes that share a border of some length meet at many pairs of grid points.
func TestNeighboursOnTheGrid(t *testing.T) {
	for _, s := range Systems() {
		met := map[[2]string]int{}
		at := func(a, b int) string {
			name, err := ClassOf(Fractions{float64(a) / 2, float64(b) / 2, float64(200-a-b) / 2}, s)
			require.NoError(t, err)
			return name
		}
		for a := 0; a < 200; a++ {
			for b := 0; a+b < 200; b++ {
				here := at(a, b)
				for _, there := range []string{at(a+1, b), at(a, b+1)} {
					if here != there {
						met[[2]string{here, there}]++
						met[[2]string{there, here}]++
					}
				}
			}
		}
		for _, name := range ClassNames(s) {
			var want []string
			for _, other := range ClassNames(s) {
				if met[[2]string{name, other}] > 3 {
					want = append(want, other)
				}
			}
			got, err := Neighbours(name, s)
			require.NoError(t, err)
			assert.Equal(t, want, got, "%v: %s", s, name)
		}
	}
}

func TestEveryGridPointHasItsBorders(t *testing.T) {
	for a := 0; a <= 200; a++ {
		for b := 0; a+b <= 200; b++ {
			f := Fractions{float64(a) / 2, float64(b) / 2, float64(200-a-b) / 2}
			class, err := ClassOf(f, USDA)
			require.NoError(t, err)
			all, err := Borders(f, USDA)
			require.NoError(t, err)
			near, err := Neighbours(class, USDA)
			require.NoError(t, err)
			var names []string
			for _, b := range all {
				names = append(names, b.Class)
			}
			require.ElementsMatch(t, near, names, "%v", f)
			if a == 0 || a == 104 || a == 90 || a == 40 { // on a limit of sand, or not at all
				continue
			}
			one, err := ClassOf(f.plus(all[0].At.minus(f), 0.999), USDA)
			require.NoError(t, err)
			require.Equal(t, class, one, "%v: short of the nearest border", f)
		}
	}
}

func TestBorderMistakes(t *testing.T) {
	_, err := Borders(Fractions{40, 40, 40}, USDA)
	assert.ErrorContains(t, err, "add up to 120")
	_, err = Neighbours("heavy clay", USDA)
	assert.ErrorContains(t, err, "is not in system")
	_, err = Neighbours("loam", System(9))
	assert.Error(t, err)
}
