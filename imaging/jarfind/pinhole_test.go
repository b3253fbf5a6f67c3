package jarfind

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"mudline/imaging"
)

// pinhole is an ideal camera in front of an upright cylinder, projecting point
// by point: the outside check on the formulas that take a jar's height in units
// of its radius from a picture.
type pinhole struct {
	focal, middleX, middleY float64
	pitch                   float64 // downward, radians
	eye, distance           float64 // height over the floor, distance to the axis
	radius                  float64
}

// project gives the pixel of a point: x across, z up, toward the camera from
// the axis.
func (c pinhole) project(x, z, toward float64) imaging.Point {
	away, drop := c.distance-toward, c.eye-z
	depth := away*math.Cos(c.pitch) + drop*math.Sin(c.pitch)
	down := drop*math.Cos(c.pitch) - away*math.Sin(c.pitch)
	return imaging.Point{X: c.middleX + c.focal*x/depth, Y: c.middleY + c.focal*down/depth}
}

// silhouette gives the right edge of the cylinder where the picture has row y.
func (c pinhole) silhouette(y float64) float64 {
	k := c.radius / c.distance
	x, toward := c.radius*math.Sqrt(1-k*k), c.radius*k
	lo, hi := -200.0, 600.0
	for range 80 {
		z := (lo + hi) / 2
		if c.project(x, z, toward).Y > y {
			lo = z
		} else {
			hi = z
		}
	}
	return c.project(x, (lo+hi)/2, toward).X
}

func (c pinhole) stand() stand {
	side := func(sign float64) sideLine {
		y0, y1 := c.project(0, 0, c.radius).Y, c.project(0, 100, c.radius).Y
		a, b := c.silhouette(y0)-c.middleX, c.silhouette(y1)-c.middleX
		return sideLine{X: c.middleX + sign*a, Y: y0, Slope: sign * (b - a) / (y1 - y0)}
	}
	return stand{
		left: side(-1), right: side(1), focal: c.focal, middle: c.middleY,
		horizon: c.middleY - c.focal*math.Tan(c.pitch),
		floor:   floorLine{Y: c.project(0, 0, c.radius).Y},
	}
}

func anyPinhole(t *rapid.T) pinhole {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	return pinhole{
		focal: f("focal", 1100, 2000), middleX: 600, middleY: 800, pitch: f("pitch", -0.1, 0.25),
		eye: f("eye", 60, 260), distance: f("distance", 260, 500), radius: f("radius", 25, 55),
	}
}

func TestRatioAgainstPinhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyPinhole(t)
		s := c.stand()
		z := rapid.Float64Range(40, 160).Draw(t, "height")
		y := c.project(0, z, c.radius).Y
		// A fifth of a percent: the sides are taken as straight lines.
		assert.InEpsilon(t, z/c.radius, s.ratio(y), 2e-3)
		assert.InDelta(t, y, s.rowOf(s.ratio(y)), 1e-6)
	})
}

// A circle on the outside of the glass must bow as the formula says, apart from
// the factor for the thick wall.
func TestBowAgainstPinhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyPinhole(t)
		s := c.stand()
		z := rapid.Float64Range(0, 140).Draw(t, "height")
		front := c.project(0, z, c.radius)
		ang := 0.5 // radians from the front
		p := c.project(c.radius*math.Sin(ang), z, c.radius*math.Cos(ang))
		u := (p.X - c.middleX) / s.half(front.Y)
		got := s.bow(front.Y) / flatter * (1 - math.Sqrt(1-u*u))
		// The ends of the arc are further away than its middle, which the plain
		// arc leaves out: a fifth of the bow and a pixel.
		assert.InDelta(t, front.Y-p.Y, got, 0.2*math.Abs(got)+1.5)
	})
}
