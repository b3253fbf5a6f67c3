package jarfind

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
)

// scenery draws soft waves in all directions, moved right and down by dx and dy pixels and
// lit by light.
func scenery(seed uint64, w, h int, dx, dy, light float64) *image.RGBA {
	rng := rand.New(rand.NewPCG(seed, 9))
	type wave struct{ fx, fy, at float64 }
	var waves []wave
	for range 24 {
		waves = append(waves, wave{0.12 * rng.NormFloat64(), 0.12 * rng.NormFloat64(), 6 * rng.Float64()})
	}
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			sum := 0.0
			for _, v := range waves {
				sum += math.Sin(v.fx*(float64(x)-dx) + v.fy*(float64(y)-dy) + v.at)
			}
			level := uint8(max(0, min(255, light*(120+16*sum))))
			for k := range 3 {
				pic.Pix[pic.PixOffset(x, y)+k] = level
			}
		}
	}
	return pic
}

// A picture moved by so much is found to be moved by so much, to a quarter of a pixel of the
// view, in other light too; beyond the reach, or of something else, it does not agree.
func TestShiftOfAMovedPicture(t *testing.T) {
	for _, size := range [][2]int{{200, 160}, {300, 400}} {
		w, h := size[0], size[1]
		v := NewView(scenery(1, w, h, 0, 0, 1))
		scale := math.Max(1, float64(max(w, h))/viewSide)
		var at Places
		for i, p := range v.Whole() {
			if i%7 == 0 {
				at = append(at, p)
			}
		}
		for _, by := range [][2]float64{{0, 0}, {3, -2}, {-6, 5}, {2.5, 0}, {0.4, -3.3}, {-8, 8}} {
			dx, dy := by[0]*scale, by[1]*scale
			got, agree := v.Shift(NewView(scenery(1, w, h, dx, dy, 0.8)), at)
			assert.InDelta(t, dx, got.X, 0.25*scale, "%v of %v", by, size)
			assert.InDelta(t, dy, got.Y, 0.25*scale, "%v of %v", by, size)
			assert.Greater(t, agree, 0.8, "%v of %v", by, size)
		}
		_, agree := v.Shift(NewView(scenery(2, w, h, 0, 0, 1)), at)
		assert.Less(t, agree, 0.5, "another place")
		_, agree = v.Shift(NewView(scenery(1, w, h, 40*scale, 0, 1)), at)
		assert.Less(t, agree, 0.6, "moved too far")
	}
	v := NewView(scenery(1, 200, 160, 0, 0, 1))
	_, agree := v.Shift(NewView(scenery(1, 160, 200, 0, 0, 1)), v.Whole())
	assert.Zero(t, agree, "of another shape")
}

// The rim is the glass, its foot and lid and what stands close by, without the water and
// the soil.
func TestRimLeavesTheWaterOut(t *testing.T) {
	v := NewView(scenery(1, 200, 160, 0, 0, 1))
	f := imaging.Frame{Floor: imaging.Point{X: 100, Y: 120}, Water: imaging.Point{X: 100, Y: 60}, HalfWidthFloor: 20, HalfWidthWater: 20}
	in := map[image.Point]bool{}
	for _, p := range v.Rim(f) {
		in[p] = true
	}
	require.NotEmpty(t, in)
	for p, want := range map[image.Point]bool{
		{100, 90}: false, {110, 100}: false, {116, 90}: false, // water and soil
		{119, 90}: true, {80, 90}: true, {135, 90}: true, {66, 90}: true, // the glass, and beside it
		{142, 90}: false, {58, 90}: false, // too far away
		{100, 125}: true, {100, 50}: true, {100, 30}: true, // foot, empty glass, lid
		{100, 142}: false, {100, 20}: false, // below and above
	} {
		assert.Equal(t, want, in[p], "%v", p)
	}
}
