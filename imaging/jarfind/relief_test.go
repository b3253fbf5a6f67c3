package jarfind

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// grain is a picture of random pixels.
func grain(w, h int) *image.RGBA {
	rng := rand.New(rand.NewPCG(1, 2))
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(rng.IntN(256))
	}
	return pic
}

// What is measured several channels to a word is what the definition gives.
func TestReliefByDefinition(t *testing.T) {
	pic := grain(37, 29)
	rf := newRelief(pic, 1)
	three := func(x, y, dx, dy, k int) (sum int) {
		for i := -1; i <= 1; i++ {
			sum += int(pic.Pix[pic.PixOffset(x+i*dx, y+i*dy)+k])
		}
		return sum
	}
	for y := 2; y < 28; y++ {
		for x := 2; x < 35; x++ {
			across, down := 0, 0
			for k := range 3 {
				across += max(three(x, y, 0, 1, k)-three(x-1, y, 0, 1, k), three(x-1, y, 0, 1, k)-three(x, y, 0, 1, k))
				down += max(three(x, y, 1, 0, k)-three(x, y-1, 1, 0, k), three(x, y-1, 1, 0, k)-three(x, y, 1, 0, k))
			}
			require.Equal(t, min(across*255/(9*lineClip), 255), int(rf.x[y*rf.w+x]), "across at %d, %d", x, y)
			require.Equal(t, min(down*255/(9*lineClip), 255), int(rf.atY(x, y)), "down at %d, %d", x, y)
		}
	}
	for _, at := range []image.Point{{-1, 5}, {5, -1}, {37, 5}, {5, 29}} {
		assert.Zero(t, rf.atY(at.X, at.Y))
	}
}

// Eight arcs at a time have the sums of each by itself, also where they leave
// the picture.
func TestArcsTogether(t *testing.T) {
	rf := newRelief(grain(60, 80), 1)
	l, r := sideLine{X: 8, Y: 40}, sideLine{X: 57, Y: 40}
	for _, y := range []float64{-20, 1, 30, 71, 90} {
		rows := newArcRows(rf, l, r, y)
		for _, bow := range []float64{0, 3.25, 11.5} {
			for i, got := range rows.capped(rf, bow) {
				want := 0
				for _, s := range arcShape {
					x, yy := int(32.5+s[0]*24.5), y+float64(i)+0.5-bow*s[1]
					if yy >= 0 {
						want += min(int(rf.atY(x, int(yy))), arcCap)
					}
				}
				assert.InDelta(t, want, int(got), 1, "row %g, bow %g", y+float64(i), bow)
			}
		}
	}
}
