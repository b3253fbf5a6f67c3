package jar

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/layers"
)

// A cone's volumes against the formula for a frustum, V = h (R1^2 + R1 R2 +
// R2^2) pi / 3 (Bronstein, Handbook of Mathematics; from memory).
func TestVolumesOfAFrustum(t *testing.T) {
	const taper, depth = 0.3, 100.0
	radius := func(h float64) float64 { return 1 + taper*(h/depth-0.5) }
	frustum := func(a, b float64) float64 {
		r, s := radius(a), radius(b)
		return (b - a) * (r*r + r*s + s*s) / 3
	}
	at := func(mm float64) *layers.Boundary { return &layers.Boundary{HeightMM: mm} }
	got := volumes(layers.Reading{SandTop: at(10), SiltTop: at(25), DepositTop: at(40)}, taper, depth)
	require.NotNil(t, got)
	all := frustum(0, 40)
	assert.InDelta(t, 100*frustum(0, 10)/all, *got.Sand, 1e-9)
	assert.InDelta(t, 100*frustum(10, 25)/all, *got.Silt, 1e-9)
	assert.InDelta(t, 100*frustum(25, 40)/all, *got.Clay, 1e-9)
	assert.Nil(t, volumes(layers.Reading{DepositTop: at(40)}, taper, depth))
}

func TestWallsOf(t *testing.T) {
	assert.Nil(t, wallsOf(0, 120))
	assert.Nil(t, wallsOf(0.2, 0), "shares of an unknown depth carry no walls")
	p := wallsOf(0.2, 120)
	require.NotEmpty(t, p)
	assert.InDelta(t, 0.81, p[0].Area, 1e-9)
	assert.InDelta(t, 1.21, p[len(p)-1].Area, 1e-9)
}
