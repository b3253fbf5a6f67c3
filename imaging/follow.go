package imaging

import (
	"image"
	"math"
)

// farFloor is how far the floor may lie from where the view puts it, in shares of
// the water depth: further away it was something else.
const farFloor = 0.03

// Moved is the placement with everything moved by some pixels.
func (p Placement) Moved(by Point) Placement {
	p.Frame.Floor = Point{p.Frame.Floor.X + by.X, p.Frame.Floor.Y + by.Y}
	p.Frame.Water = Point{p.Frame.Water.X + by.X, p.Frame.Water.Y + by.Y}
	return p
}

// Follow places the jar in another photo of a camera that stays, from where it
// stands in one: by is how far the view has moved. The floor is looked for anew,
// since a jar sways a little on its table, and nothing else.
func Follow(pic *image.RGBA, ref Placement, by Point) Placement {
	p := ref.Moved(by)
	f := &p.Frame
	depth := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	side := func(u float64) sideLine {
		low, high := f.At(u, 0), f.At(u, 1)
		return sideLine{X: low.X, Y: low.Y, Slope: (high.X - low.X) / (high.Y - low.Y)}
	}
	fl := findFloor(pic, side(-1), side(1), arc{Y: f.Floor.Y, Bow: f.BowFloor * flatter})
	if fl.sd == 0 || math.IsInf(fl.sd, 0) || math.Abs(fl.Y-f.Floor.Y) > farFloor*depth {
		p.FloorSD = math.Max(p.FloorSD, farFloor/3)
		return p
	}
	dy := fl.Y - f.Floor.Y
	f.Floor = Point{f.Floor.X + dy*(f.Water.X-f.Floor.X)/(f.Water.Y-f.Floor.Y), fl.Y}
	return p
}

// Straightened is the front of the jar laid straight as an upright picture, row by
// row as NewStrip has it: what a strip is cut from, in the colours of the photo.
func Straightened(pic *image.RGBA, f Frame, top, bottom float64) *image.RGBA {
	s := NewStrip(f, top, bottom)
	out := image.NewRGBA(image.Rect(0, 0, s.W, s.H))
	s.EachRow(f, func(row int, at []Point) {
		to := out.Pix[row*out.Stride:]
		for c, p := range at {
			r, g, b := bilinear(pic, p.X, p.Y)
			to[4*c], to[4*c+1], to[4*c+2], to[4*c+3] = uint8(r+0.5), uint8(g+0.5), uint8(b+0.5), 255
		}
	})
	return out
}

// StripOf is the strip of a picture that Straightened gave.
func StripOf(pic *image.RGBA, top, bottom float64) *Strip {
	s := &Strip{W: pic.Rect.Dx(), H: pic.Rect.Dy(), Top: top, Bottom: bottom, USpan: StripSpan}
	s.Lab = make([]float32, 3*s.W*s.H)
	for y := range s.H {
		row, lab := pic.Pix[y*pic.Stride:], s.Lab[3*y*s.W:]
		for x := range s.W {
			lab[3*x], lab[3*x+1], lab[3*x+2] = LabOf(float32(row[4*x]), float32(row[4*x+1]), float32(row[4*x+2]))
		}
	}
	return s
}
