package jarfind

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// asFound is the stand of an ideal camera as it is found in its picture, before anything is
// known of the lens: the usual focal length, the bow of the floor, the sides as traced.
func (c pinhole) asFound(usual float64) stand {
	s := c.stand()
	const angle = 0.9 // radians from the front
	front, p := c.project(0, 0, c.radius), c.project(c.radius*math.Sin(angle), 0, c.radius*math.Cos(angle))
	u := (p.X - c.middleX) / s.half(front.Y)
	s.floor.Bow = flatter * (front.Y - p.Y) / (1 - math.Sqrt(1-u*u))
	s.focal = usual
	s.horizon = eyeLevel(s, 2*c.middleY)
	return s
}

// A lens that the photo does not tell is found by how the sides converge: with it the glass
// widens downwards more nearly as it does than with the usual lens, projected point by point.
func TestLensBySides(t *testing.T) {
	const usual = 32.0 / 36 * 1600
	off := func(c pinhole, focal float64) float64 {
		s := c.asFound(usual)
		traced := s.right.Slope
		s.focal = focal
		s.horizon = eyeLevel(s, 2*c.middleY)
		return math.Abs(s.convergence() - traced)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyPinhole(t)
		assert.LessOrEqual(t, off(c, lensBySides(c.asFound(usual), 2*c.middleY)), off(c, usual)+convergenceSD/10)
	})
	// The camera of a rendered film, 45.7 mm by the 35 mm film: the usual lens takes it to
	// look up.
	film := pinhole{focal: 45.7 / 36 * 1600, middleX: 600, middleY: 800, pitch: 0.064, eye: 99, distance: 269.7, radius: 38.1}
	assert.InEpsilon(t, film.focal, lensBySides(film.asFound(usual), 1600), 0.2)
	assert.Less(t, off(film, lensBySides(film.asFound(usual), 1600)), off(film, usual)/2)
}
