package jarfind

import (
	"image"
	"math"

	"mudline/imaging"
)

// farFloor is how far the floor may lie from where the view puts it, in shares of
// the water depth: further away it was something else.
const farFloor = 0.03

// Moved is the placement with everything moved by some pixels.
func (p Placement) Moved(by imaging.Point) Placement {
	p.Frame.Floor = imaging.Point{X: p.Frame.Floor.X + by.X, Y: p.Frame.Floor.Y + by.Y}
	p.Frame.Water = imaging.Point{X: p.Frame.Water.X + by.X, Y: p.Frame.Water.Y + by.Y}
	return p
}

// Follow places the jar in another photo of a camera that stays, from where it
// stands in one: by is how far the view has moved. The floor is looked for anew,
// since a jar sways a little on its table, and nothing else.
func Follow(pic *image.RGBA, ref Placement, by imaging.Point) Placement {
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
	f.Floor = imaging.Point{X: f.Floor.X + dy*(f.Water.X-f.Floor.X)/(f.Water.Y-f.Floor.Y), Y: fl.Y}
	return p
}
