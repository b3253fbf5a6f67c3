package imaging

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFit(t *testing.T) {
	for _, c := range [][5]int{
		{4000, 3000, 1600, 1600, 1200}, {3024, 4032, 1600, 1200, 1600}, {1600, 1, 1600, 1600, 1},
		{100, 80, 1600, 100, 80}, {10000, 1, 100, 100, 1}, {1601, 1601, 1600, 1600, 1600},
	} {
		w, h := Fit(c[0], c[1], c[2])
		assert.Equal(t, [2]int{c[3], c[4]}, [2]int{w, h}, "%v", c)
	}
}

// Three old pixels to two new ones, worked by hand: the middle one is shared.
func TestReduceByHand(t *testing.T) {
	src := image.NewGray(image.Rect(0, 0, 3, 3))
	copy(src.Pix, []uint8{
		90, 30, 0,
		90, 30, 0,
		0, 0, 240,
	})
	got := reduceImage(src, 2)
	// Weights over 1.5 x 1.5: whole pixels 1, shared ones 1/2 or 1/4.
	want := [2][2]float64{
		{(90 + 15 + 45 + 7.5) / 2.25, (15 + 0 + 7.5 + 0) / 2.25},
		{(45 + 7.5 + 0 + 0) / 2.25, (7.5 + 0 + 0 + 240) / 2.25},
	}
	for y, row := range want {
		for x, v := range row {
			assert.InDelta(t, v, got.RGBAAt(x, y).R, 0.51, "%d,%d", x, y)
		}
	}
}

// areaMean is the definition, in double precision: the mean over the area.
func areaMean(g *image.Gray, x0, y0, x1, y1 float64) float64 {
	sum := 0.0
	overlap := func(lo, hi float64, i int) float64 {
		return math.Max(0, math.Min(hi, float64(i+1))-math.Max(lo, float64(i)))
	}
	for y := int(y0); y < min(int(math.Ceil(y1)), g.Rect.Dy()); y++ {
		for x := int(x0); x < min(int(math.Ceil(x1)), g.Rect.Dx()); x++ {
			sum += float64(g.Pix[y*g.Stride+x]) * overlap(x0, x1, x) * overlap(y0, y1, y)
		}
	}
	return sum / ((x1 - x0) * (y1 - y0))
}

// Any size and any reduction gives the mean over the area of each new pixel, and
// every band of rows the same as one.
func TestReduceProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "w"), rapid.IntRange(1, 400).Draw(t, "h")
		side := rapid.IntRange(1, 200).Draw(t, "side")
		seed := rapid.Uint32().Draw(t, "seed")
		src := image.NewGray(image.Rect(0, 0, w, h))
		for i := range src.Pix {
			seed = seed*1664525 + 1013904223
			src.Pix[i] = uint8(seed >> 24)
		}
		got := reduceImage(src, side)
		require.LessOrEqual(t, max(got.Rect.Dx(), got.Rect.Dy()), max(side, 1))
		sx, sy := float64(w)/float64(got.Rect.Dx()), float64(h)/float64(got.Rect.Dy())
		for y := range got.Rect.Dy() {
			for x := range got.Rect.Dx() {
				want := areaMean(src, float64(x)*sx, float64(y)*sy, float64(x+1)*sx, float64(y+1)*sy)
				if d := math.Abs(want - float64(got.RGBAAt(x, y).R)); d > bound(sx, sy) {
					t.Fatalf("%d,%d: %d, %g expected", x, y, got.RGBAAt(x, y).R, want)
				}
			}
		}
	})
}

// bound is how far a reduced pixel may be from the mean over its area when the
// old pixels reach from 0 to 255: half a level for rounding, and two ends each
// placed to half a unit, in rows (64 to a row, or what makes 256 in all) and in
// columns (256).
func bound(sx, sy float64) float64 {
	b := 0.501 + 255/(256*sx)
	if sy <= maxShrink {
		return b + 255/math.Min(64*sy, 256-sy)
	}
	return b + 0.5 + 2 // in two steps, the first of maxShrink
}

// The planes of a part of a YCbCr picture, at odd places and sizes, are those of
// the same part converted pixel by pixel.
func TestReduceYCbCr(t *testing.T) {
	for _, ratio := range []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	} {
		whole := image.NewYCbCr(image.Rect(0, 0, 64, 48), ratio)
		for i := range whole.Y {
			whole.Y[i] = uint8(60 + 2*(i%whole.YStride))
		}
		for i := range whole.Cb {
			whole.Cb[i] = uint8(100 + 2*(i/whole.CStride))
			whole.Cr[i] = uint8(110 + i%whole.CStride)
		}
		part := whole.SubImage(image.Rect(8, 4, 57, 37)).(*image.YCbCr)
		got := reduceImage(part, 1600)
		require.Equal(t, image.Rect(0, 0, 49, 33), got.Rect, "%v", ratio)
		for y := range 32 {
			for x := range 48 {
				want := color.RGBAModel.Convert(part.At(8+x, 4+y)).(color.RGBA)
				at := got.RGBAAt(x, y)
				// Odd sizes stretch the chroma planes by less than a sample.
				require.InDelta(t, want.R, at.R, 6, "%v %d,%d", ratio, x, y)
				require.InDelta(t, want.G, at.G, 6, "%v %d,%d", ratio, x, y)
				require.InDelta(t, want.B, at.B, 6, "%v %d,%d", ratio, x, y)
			}
		}
	}
}
