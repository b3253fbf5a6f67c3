package pixels

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/imaging/colour"
)

// noise is a picture of random pixels.
func noise(w, h int) *image.RGBA {
	rng := rand.New(rand.NewPCG(1, 2))
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(rng.IntN(256))
	}
	return pic
}

// Points between pixels are those of Bilinear and colour.Lab, to the 1/64 of a pixel and
// the 1/16 of a level that Between tells apart.
func TestBetweenAgainstBilinear(t *testing.T) {
	pic := noise(40, 30)
	for y := 0.5; y <= 29.5; y += 29.0 / 61 {
		for x := 0.5; x <= 39.5; x += 39.0 / 73 {
			l, a, b := colour.LabOfLight(Between(pic, x-0.5, y-0.5))
			px, py := float64(int((x-0.5)*finest+0.5))/finest, float64(int((y-0.5)*finest+0.5))/finest
			wantL, wantA, wantB := colour.Lab(Bilinear(pic, px+0.5, py+0.5))
			for k, d := range []float32{l - wantL, a - wantA, b - wantB} {
				assert.InDelta(t, 0, d, 0.15, "%g, %g: %d", x, y, k)
			}
		}
	}
}

// From black to the first level, from the last but one to white and at every level between,
// the light is that of the level with its fraction, and rises.
func TestBetweenAtTheEndsOfTheCurve(t *testing.T) {
	for level := range 255 {
		pic := image.NewRGBA(image.Rect(0, 0, 2, 1))
		for k := range 3 {
			pic.Pix[k], pic.Pix[4+k] = uint8(level), uint8(level+1)
		}
		last := float32(-1)
		for x := 0.0; x <= 1; x += 1.0 / 16 {
			r, g, b := Between(pic, x, 0)
			assert.InDelta(t, colour.Light((float64(level)+x)/255), r, 6e-4, "level %g", float64(level)+x)
			assert.True(t, r == g && g == b)
			assert.GreaterOrEqual(t, r, last)
			last = r
		}
	}
}
