package jarfind

import "math"

// leastFocal35MM is the focal length from which on a photo is believed to tell its own.
const leastFocal35MM = 10

// What is known of a lens that the photo does not tell, beside defaultFocal35MM.
const (
	lensSpread    = 0.20  // of the logarithm of its focal length
	shortestLens  = 0.6   // in shares of the usual one
	longestLens   = 2.6   //
	convergenceSD = 0.012 // of the sides as they are traced, and of how far glass widens
)

// convergence is by how much each side of the glass leans outwards for each row downward
// since the camera is tilted: one that looks down sees the foot further away.
func (s stand) convergence() float64 {
	tilt := (s.middle - s.horizon) / s.focal
	return s.half(s.left.Y) * -tilt / s.focal
}

// lensBySides is the likeliest focal length, in working pixels, of an unknown lens: the
// longer it is, the further does the bow of the floor say that the camera is tilted, and
// the sides tell how far it is. s.focal is the usual one; height is the picture's.
func lensBySides(s stand, height float64) float64 {
	usual, traced := s.focal, (s.right.Slope-s.left.Slope)/2
	likeliest, best := usual, math.Inf(-1)
	for k := shortestLens; k < longestLens; k *= 1.03 {
		s.focal = k * usual
		s.horizon = eyeLevel(s, height)
		off, lens := (traced-s.convergence())/convergenceSD, math.Log(k)/lensSpread
		// Sides are traced wrongly often enough for Student's t of three degrees.
		if like := -lens*lens/2 - 2*math.Log1p(off*off/3); like > best {
			likeliest, best = s.focal, like
		}
	}
	return likeliest
}
