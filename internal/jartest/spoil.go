package jartest

import (
	"image"
	"image/draw"
	"math"

	"mudline/imaging"
)

// StillMixed returns the picture of a muddy jar whose deposit, up to the height
// top (share of the water depth), is painted over with the mud above it.
func StillMixed(pic *image.RGBA, f imaging.Frame, top float64) *image.RGBA {
	return folded(pic, f, top+0.04)
}

// ClearWater returns the picture of a jar with clear water whose deposit, up to
// the height top (share of the water depth), is painted over with the clear
// water above it, the far edge of the deposit included.
func ClearWater(pic *image.RGBA, f imaging.Frame, top float64) *image.RGBA {
	depth := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	return folded(pic, f, top+2.4*math.Max(f.BowFloor, 0)/depth+0.04)
}

// folded paints the jar below height h with what stands as far above h.
func folded(pic *image.RGBA, f imaging.Frame, h float64) *image.RGBA {
	out := clone(pic)
	depth := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	dh, du := 0.4/depth, 0.4/f.HalfWidthFloor
	for z := 0.0; z < h; z += dh {
		for u := -0.95; u < 0.95; u += du {
			to, from := f.At(u, z), f.At(u, math.Min(2*h-z, 0.97))
			out.SetRGBA(int(to.X), int(to.Y), pic.RGBAAt(int(from.X), int(from.Y)))
		}
	}
	return out
}

// WithoutJar returns the picture with the jar painted over by what stands to
// the left of it, turned over.
func WithoutJar(pic *image.RGBA, f imaging.Frame) *image.RGBA {
	out := clone(pic)
	half := math.Max(f.HalfWidthFloor, f.HalfWidthWater) * 1.25
	l, r := int(f.Floor.X-half), int(f.Floor.X+half)
	for y := range pic.Rect.Dy() {
		for x := max(l, 0); x < min(r, pic.Rect.Dx()); x++ {
			from := (x - l) % max(2*l, 1)
			if from >= l { // back and forth over what is to the left
				from = 2*l - 1 - from
			}
			out.SetRGBA(x, y, pic.RGBAAt(l-1-min(from, l-1), y))
		}
	}
	return out
}

// Lit returns the picture with red, green and blue multiplied.
func Lit(pic *image.RGBA, red, green, blue float64) *image.RGBA {
	out := clone(pic)
	gain := [3]float64{red, green, blue}
	for i := range out.Pix {
		if i%4 < 3 {
			out.Pix[i] = uint8(math.Min(255, float64(out.Pix[i])*gain[i%4]+0.5))
		}
	}
	return out
}

func clone(pic *image.RGBA) *image.RGBA {
	out := image.NewRGBA(pic.Rect)
	draw.Draw(out, out.Rect, pic, pic.Rect.Min, draw.Src)
	return out
}
