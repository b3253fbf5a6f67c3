package colour

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Published values: L*a*b* (D65, 2 degrees) of the sRGB primaries, secondaries
// and white, as printed by colour calculators that use the matrix of IEC
// 61966-2-1 and the formulas of CIE 15, here to two decimals and from memory.
// TestLabDefinition derives the same from the standards' own numbers.
func TestLabPublished(t *testing.T) {
	for _, c := range []struct {
		name    string
		r, g, b float32
		want    [3]float64
	}{
		{"white", 255, 255, 255, [3]float64{100, 0, 0}},
		{"black", 0, 0, 0, [3]float64{0, 0, 0}},
		{"red", 255, 0, 0, [3]float64{53.24, 80.09, 67.20}},
		{"green", 0, 255, 0, [3]float64{87.74, -86.18, 83.18}},
		{"blue", 0, 0, 255, [3]float64{32.30, 79.19, -107.86}},
		{"cyan", 0, 255, 255, [3]float64{91.11, -48.09, -14.13}},
		{"magenta", 255, 0, 255, [3]float64{60.32, 98.23, -60.82}},
		{"yellow", 255, 255, 0, [3]float64{97.14, -21.55, 94.48}},
	} {
		l, a, b := Lab(c.r, c.g, c.b)
		assert.InDelta(t, c.want[0], l, 0.02, c.name)
		assert.InDelta(t, c.want[1], a, 0.02, c.name)
		assert.InDelta(t, c.want[2], b, 0.02, c.name)
	}
}

// labByDefinition follows the standards in double precision from their own
// numbers: chromaticities of the primaries and of D65 and the transfer curve
// (IEC 61966-2-1:1999), and CIE 15:2004 equations 8.3-8.11 for L*a*b*.
func labByDefinition(r, g, b float64) [3]float64 {
	xyz := func(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }
	red, green, blue, white := xyz(0.64, 0.33), xyz(0.30, 0.60), xyz(0.15, 0.06), xyz(0.3127, 0.3290)
	det := func(a, b, c [3]float64) float64 {
		return a[0]*(b[1]*c[2]-b[2]*c[1]) - b[0]*(a[1]*c[2]-a[2]*c[1]) + c[0]*(a[1]*b[2]-a[2]*b[1])
	}
	all := det(red, green, blue) // Cramer's rule: how much of each makes white
	share := [3]float64{det(white, green, blue) / all, det(red, white, blue) / all, det(red, green, white) / all}
	linear := func(v float64) float64 {
		if v /= 255; v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	f := func(t float64) float64 {
		if t > math.Pow(6.0/29, 3) {
			return math.Cbrt(t)
		}
		return t*math.Pow(29.0/6, 2)/3 + 4.0/29
	}
	var v [3]float64
	for k := range v {
		t := share[0]*linear(r)*red[k] + share[1]*linear(g)*green[k] + share[2]*linear(b)*blue[k]
		v[k] = f(t / white[k])
	}
	return [3]float64{116*v[1] - 16, 500 * (v[0] - v[1]), 200 * (v[1] - v[2])}
}

func TestLabDefinition(t *testing.T) {
	for r := 0.0; r <= 255; r += 12.75 {
		for g := 0.0; g <= 255; g += 12.75 {
			for b := 0.0; b <= 255; b += 12.75 {
				want := labByDefinition(r, g, b)
				l, a, bb := Lab(float32(r), float32(g), float32(b))
				for k, got := range []float32{l, a, bb} {
					// Tables and the rounding of the standard's matrix to four
					// or seven digits.
					assert.InDelta(t, want[k], got, 0.06, "L*a*b*[%d] of %g %g %g", k, r, g, b)
				}
			}
		}
	}
}

// Out of range is the nearest colour in range.
func TestLabOutOfRange(t *testing.T) {
	l, a, b := Lab(-5, 300, float32(math.Inf(1)))
	wantL, wantA, wantB := Lab(0, 255, 255)
	assert.Equal(t, [3]float32{wantL, wantA, wantB}, [3]float32{l, a, b})
}
