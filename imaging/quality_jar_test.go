package imaging_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
)

// jarInRoom is a jar of one grey, of which a share of its front is another, before a wall.
func jarInRoom(wall, glass, spots uint8, share float64) *imaging.Photo {
	pic := image.NewRGBA(image.Rect(0, 0, 600, 800))
	for y := range 800 {
		for x := range 600 {
			v := wall
			if x >= 200 && x < 400 && y >= 200 && y < 700 {
				v = glass
				if math.Mod(float64(y)*0.618034+float64(x)*0.414214, 1) < share {
					v = spots
				}
			}
			pic.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return &imaging.Photo{Picture: pic, Quality: imaging.Assess(pic)}
}

// A jar is judged by its own light: dark in a bright room it is too dark, however light
// the photo; where more than one pixel in twenty of it is light enough, the photo counts.
// Grey 119 has an L* of 50 (CIE 15), grey 20 of 6.
func TestAJarIsJudgedByItsOwnLight(t *testing.T) {
	f := imaging.Frame{Floor: imaging.Point{X: 300, Y: 690}, Water: imaging.Point{X: 300, Y: 210}, HalfWidthFloor: 104, HalfWidthWater: 104}
	assess := func(p *imaging.Photo) imaging.Quality {
		q, ok := p.AssessJar(f)
		require.True(t, ok)
		return q
	}
	dark := jarInRoom(200, 20, 20, 0)
	q := assess(dark)
	assert.InDelta(t, 6.3, q.Lights, 0.5)
	require.NotNil(t, q.Refuse())
	assert.Equal(t, imaging.CodeTooDark, q.Refuse().Code)
	assert.Nil(t, dark.Quality.Refuse(), "the photo as a whole is light")
	assert.Less(t, assess(jarInRoom(200, 20, 119, 0.03)).Lights, 12.0, "one pixel in thirty is light")
	lit := jarInRoom(200, 20, 119, 0.08)
	assert.Equal(t, lit.Quality.Lights, assess(lit).Lights, "one in twelve")
	usual := jarInRoom(200, 119, 119, 0)
	assert.Equal(t, usual.Quality.Lights, assess(usual).Lights)
	assert.Greater(t, assess(usual).Sharpness, 0.1, "with the edges of the glass")

	aside := f
	aside.Floor.X, aside.Water.X = 658, 658
	_, ok := usual.AssessJar(aside)
	assert.False(t, ok, "15 pixels of it are in the picture")
	aside.Floor.X, aside.Water.X = 648, 648
	_, ok = usual.AssessJar(aside)
	assert.True(t, ok)
}
