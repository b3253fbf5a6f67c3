package sheetmark

import (
	"image"
	"math"
	"slices"
)

// paperReflects is the share of light that white office paper throws back (common
// practice: 0.8 to 0.9).
const paperReflects = 0.85

// Gain is what the light of each channel, red, green and blue, must be multiplied by
// for the paper to have the light of white paper under an even white lamp: the
// photo's exposure and white balance. It is taken beside the plain middle, of the
// lighter quarter of what is seen there, since the jar throws a shadow to one side; ok
// is false where too little paper is seen.
func (s *Sheet) Gain(pic *image.RGBA) (gain [3]float64, ok bool) {
	var seen [3][]float64
	for y := 20.0; y <= PlainTop-2; y += 4 {
		for x := PlainX - 8; x <= PlainX; x += 2 {
			for _, side := range [...]float64{-1, 1} {
				p := s.Stand.Picture(Point{side * x, y})
				at := image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y)))
				if !at.In(pic.Rect) {
					continue
				}
				for k, v := range lightAt(pic, at) {
					seen[k] = append(seen[k], v)
				}
			}
		}
	}
	const least = 100 // places
	if len(seen[0]) < least {
		return gain, false
	}
	for k := range seen {
		slices.Sort(seen[k])
		white := seen[k][len(seen[k])*3/4]
		if white < 0.01 || seen[k][len(seen[k])/2] > 0.99 { // too dark, or blown out
			return gain, false
		}
		gain[k] = paperReflects / white
	}
	return gain, true
}
