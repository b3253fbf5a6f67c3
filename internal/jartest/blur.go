package jartest

import (
	"image"
	"math"
	"math/rand/v2"
)

// Blurred returns a picture behind a blur of the given standard deviation in
// pixels, close to Gaussian (three means over a square).
func Blurred(pic *image.RGBA, sigma float64) *image.RGBA {
	// The variance of a mean over n pixels is (n*n-1)/12.
	n := int(math.Round(math.Sqrt(4*sigma*sigma + 1)))
	for range 3 { // each mean along the columns turns the picture over
		pic = meanDown(pic, n)
		pic = meanDown(pic, n)
	}
	return pic
}

// meanDown replaces every pixel by the mean of the n around it in its column,
// the ends repeated, and swaps rows and columns.
func meanDown(pic *image.RGBA, n int) *image.RGBA {
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, h, w))
	row := func(y int) []uint8 {
		at := min(max(y, 0), h-1) * pic.Stride
		return pic.Pix[at : at+4*w]
	}
	sums := make([]uint32, 4*w)
	add := func(pix []uint8) {
		for i, p := range pix {
			sums[i] += uint32(p)
		}
	}
	for k := range n {
		add(row(k - n/2))
	}
	for y := range h {
		for i, s := range sums {
			out.Pix[i/4*out.Stride+4*y+i%4] = uint8((s + uint32(n)/2) / uint32(n))
		}
		for i, p := range row(y - n/2) {
			sums[i] -= uint32(p)
		}
		add(row(y - n/2 + n))
	}
	return out
}

// Exposed returns a picture with all values multiplied by gain, and noise of the
// given standard deviation added to each.
func Exposed(pic *image.RGBA, gain, noise float64) *image.RGBA {
	rng := rand.New(rand.NewPCG(11, 13))
	var values [256]int // in 1/256 of a level, rounding included
	for v := range values {
		values[v] = int(256 * (float64(v)*gain + 0.5))
	}
	var grain [8192]int
	for i := range grain {
		grain[i] = int(256 * noise * rng.NormFloat64())
	}
	out := image.NewRGBA(pic.Rect)
	next := uint32(1)
	for i, p := range pic.Pix {
		if i%4 == 3 {
			out.Pix[i] = p
			continue
		}
		next = next*1664525 + 1013904223
		out.Pix[i] = uint8(min(max((values[p]+grain[next>>19])>>8, 0), 255))
	}
	return out
}
