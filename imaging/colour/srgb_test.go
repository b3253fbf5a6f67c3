package colour

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The curve of IEC 61966-2-1: its end points, where its two parts meet (0.04045 and
// 0.0031308), and values that its users print, of half and of fifths (18 % grey is level
// 118, half the light 188, level 128 is 21.6 %; from memory).
func TestCurvePublished(t *testing.T) {
	assert.InDelta(t, 0.0031308, Light(0.04045), 5e-8)
	assert.InDelta(t, 0.21404, Light(0.5), 5e-6)
	assert.InDelta(t, 0.2158605, LightOf(128), 5e-7)
	assert.InDelta(t, 117.6, Level(0.18), 0.1)
	assert.InDelta(t, 187.5, Level(0.5), 0.1)
	assert.Zero(t, Light(0))
	assert.InDelta(t, 1, Light(1), 1e-12)
	assert.InDelta(t, 0.02/12.92, Light(0.02), 1e-15)
	assert.InDelta(t, 255*12.92*0.002, Level(0.002), 1e-12)
	assert.Greater(t, Level(1.5), 255.0, "more light than white's")
	assert.Equal(t, "#000000", Hex([3]float64{}))
	assert.Equal(t, "#ff80bc", Hex([3]float64{2, LightOf(128), 0.5}))
}

func TestLevelIsTheInverseOfLight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1).Draw(t, "v")
		assert.InDelta(t, 255*v, Level(Light(v)), 2e-4)
		assert.InDelta(t, Light(v), Linear(float32(255*v)), 2e-5, "by the table")
	})
	assert.Equal(t, float32(0), Linear(-3))
	assert.Equal(t, float32(0), Linear(float32(math.NaN())))
	assert.Equal(t, float32(1), Linear(255))
	assert.Equal(t, float32(1), Linear(900))
}

// Lightness alone is that of the whole conversion; outside the table the ends hold.
func TestLightness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float32 { return rapid.Float32Range(0, 1).Draw(t, name) }
		r, g, b := f("r"), f("g"), f("b")
		l, _, _ := LabOfLight(r, g, b)
		assert.InDelta(t, l, Lightness(r, g, b), 1e-4)
	})
	assert.InDelta(t, 0, Lightness(-1, -1, -1), 1e-3)
	assert.InDelta(t, 100*math.Cbrt(1.1)*1.16-16, Lightness(3, 3, 3), 0.01)
}

// The distance of CIE 1976 is that of three coordinates: 2, 3 and 6 make 7.
func TestDistance(t *testing.T) {
	assert.InDelta(t, 7, Distance([3]float64{50, 10, -4}, [3]float64{52, 7, 2}), 1e-12)
}
