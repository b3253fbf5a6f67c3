package imaging

import (
	"math"

	"mudline/imaging/order"
)

// Point is a position in pixels, x right, y down, 0,0 at the outer corner of
// the first pixel.
type Point struct{ X, Y float64 }

// Frame places one jar in one picture, in working pixels.
//
// The centre line runs up the front of the jar from Floor (height 0) to Water
// (height 1). A camera that looks up or down shortens one end: Keystone is the
// half width at the floor divided by the half width at the water surface minus
// one, and heights along the centre line follow the projective map that this
// implies. A horizontal circle on the glass is seen as an arc: BowFloor and
// BowWater are how far its middle hangs below its ends, in pixels.
type Frame struct {
	Floor, Water                   Point
	HalfWidthFloor, HalfWidthWater float64
	BowFloor, BowWater             float64
}

// Keystone is HalfWidthFloor/HalfWidthWater - 1: positive when the foot of the
// jar looks wider than the water line.
func (f Frame) Keystone() float64 { return f.HalfWidthFloor/f.HalfWidthWater - 1 }

// Along gives the share of the way from Floor to Water (in the picture) at
// which the height h (share of water depth) is seen.
func (f Frame) Along(h float64) float64 {
	k := f.Keystone()
	return h * (1 + k) / (1 + k*h)
}

// HeightAt is the inverse of Along.
func (f Frame) HeightAt(along float64) float64 {
	k := f.Keystone()
	return along / (1 + k - k*along)
}

// At gives the working pixel of jar coordinates (u, h).
func (f Frame) At(u, h float64) Point {
	s := f.Along(h)
	dx, dy := f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y
	n := math.Hypot(dx, dy)
	// Unit vectors up the jar and to its right.
	ux, uy := dx/n, dy/n
	rx, ry := -uy, ux
	half := f.HalfWidthFloor + s*(f.HalfWidthWater-f.HalfWidthFloor)
	bow := f.BowFloor + s*(f.BowWater-f.BowFloor)
	c := u
	if c > 1 {
		c = 1
	} else if c < -1 {
		c = -1
	}
	lift := bow * (1 - math.Sqrt(1-c*c)) // ends of the arc stand higher than its middle
	return Point{
		X: f.Floor.X + s*dx + u*half*rx + lift*ux,
		Y: f.Floor.Y + s*dy + u*half*ry + lift*uy,
	}
}

// Scaled returns the frame in a picture k times as large.
func (f Frame) Scaled(k float64) Frame {
	f.Floor = Point{f.Floor.X * k, f.Floor.Y * k}
	f.Water = Point{f.Water.X * k, f.Water.Y * k}
	f.HalfWidthFloor *= k
	f.HalfWidthWater *= k
	f.BowFloor *= k
	f.BowWater *= k
	return f
}

// Rebased returns the frame whose height 1 lies at the height h of this one.
func (f Frame) Rebased(h float64) Frame {
	s := f.Along(h)
	g := f
	g.Water = Point{f.Floor.X + s*(f.Water.X-f.Floor.X), f.Floor.Y + s*(f.Water.Y-f.Floor.Y)}
	g.HalfWidthWater = f.HalfWidthFloor + s*(f.HalfWidthWater-f.HalfWidthFloor)
	g.BowWater = f.BowFloor + s*(f.BowWater-f.BowFloor)
	return g
}

// HeightOfRow gives the height whose place on the centre line is on row y.
func (f Frame) HeightOfRow(y float64) float64 {
	return f.HeightAt((y - f.Floor.Y) / (f.Water.Y - f.Floor.Y))
}

// MiddleFrame is the frame whose numbers are the middle ones of some frames of one
// picture.
func MiddleFrame(frames []Frame) Frame {
	middle := func(of func(Frame) float64) float64 {
		v := make([]float64, len(frames))
		for i, f := range frames {
			v[i] = of(f)
		}
		return order.Nth(v, len(v)/2)
	}
	return Frame{
		Floor:          Point{middle(func(f Frame) float64 { return f.Floor.X }), middle(func(f Frame) float64 { return f.Floor.Y })},
		Water:          Point{middle(func(f Frame) float64 { return f.Water.X }), middle(func(f Frame) float64 { return f.Water.Y })},
		HalfWidthFloor: middle(func(f Frame) float64 { return f.HalfWidthFloor }),
		HalfWidthWater: middle(func(f Frame) float64 { return f.HalfWidthWater }),
		BowFloor:       middle(func(f Frame) float64 { return f.BowFloor }),
		BowWater:       middle(func(f Frame) float64 { return f.BowWater }),
	}
}
