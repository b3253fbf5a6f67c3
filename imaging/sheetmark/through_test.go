package sheetmark

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Through a jar of water that touches the sheet only its plain middle is seen, also from
// the side, but for a rim of 3 % of its radius: no print is bent there. Rays are traced across the jar by Snell's law, with
// water's index of refraction of 1.333 (CRC Handbook of Chemistry and Physics, 20 C,
// sodium light); the glass is thin against the jar.
func TestWaterShowsOnlyThePlainMiddle(t *testing.T) {
	const index = 1.333
	for _, radius := range []float64{25, 40, 60} {
		for _, deg := range []float64{-18, -9, 0, 9, 18} {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			d := Vector{sin, cos, 0} // y towards the sheet, which is at y = radius
			for b := -0.97; b < 0.97; b += 0.001 {
				across := Vector{cos, -sin, 0}.Times(b * radius)
				in := across.Minus(d.Times(radius * math.Sqrt(1-b*b)))
				within, ok := refracted(d, in.Unit(), 1/index)
				require.True(t, ok)
				out := in.Minus(within.Times(2 * in.Dot(within)))
				left, ok := refracted(within, out.Unit().Times(-1), index)
				require.True(t, ok)
				require.Positive(t, left.Y)
				x := out.X + (radius-out.Y)*left.X/left.Y
				assert.Less(t, math.Abs(x), PlainX-5, "radius %g, from %g degrees, %g radii off the axis", radius, deg, b)
			}
		}
	}
}

// refracted is a direction behind a surface whose normal faces it; ratio is that of the
// indices before and behind.
func refracted(d, normal Vector, ratio float64) (Vector, bool) {
	c := -d.Dot(normal)
	k := 1 - ratio*ratio*(1-c*c)
	return d.Times(ratio).Plus(normal.Times(ratio*c - math.Sqrt(k))), k >= 0
}
