package jar

import (
	"image"
	"math"
	"slices"

	"mudline/imaging"
)

// likeRoom is the CIELAB distance between what fills the jar and the room
// beside it, at the same height, below which the jar is seen through.
const likeRoom = 12

// seenThrough says whether the jar shows the room behind it, as clear water
// does and mud does not: at most heights its colour is close to one beside it.
func (s *shot) seenThrough() bool {
	var near []float64
	for h := 0.3; h < 0.86; h += 0.05 {
		in := s.colour(0, h, 0.45)
		best := math.Inf(1)
		for _, u := range []float64{-1.6, -1.3, 1.3, 1.6} {
			if out, ok := s.beside(u, h); ok {
				best = min(best, colourDistance(in, out))
			}
		}
		if !math.IsInf(best, 1) {
			near = append(near, best)
		}
	}
	if len(near) < 6 {
		return false
	}
	slices.Sort(near)
	return near[len(near)/2] < likeRoom
}

func colourDistance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// beside is the colour next to the jar; ok is false outside the picture.
func (s *shot) beside(u, h float64) (c [3]float64, ok bool) {
	p := s.frame.At(u, h)
	if !image.Pt(int(p.X), int(p.Y)).In(s.photo.Picture.Rect) {
		return c, false
	}
	return s.colour(u, h, 0.12), true
}

// colour is the median L*, a*, b* within du of u at a height.
func (s *shot) colour(u, h, du float64) (c [3]float64) {
	var v [3][]float64
	r := s.photo.Picture.Rect
	for x := -1.0; x <= 1; x += 0.1 {
		for y := -0.01; y <= 0.011; y += 0.01 {
			p := s.frame.At(u+x*du, h+y)
			q := s.photo.Picture.RGBAAt(min(max(int(p.X), 0), r.Max.X-1), min(max(int(p.Y), 0), r.Max.Y-1))
			l, a, b := imaging.LabOf(float32(q.R), float32(q.G), float32(q.B))
			v[0], v[1], v[2] = append(v[0], float64(l)), append(v[1], float64(a)), append(v[2], float64(b))
		}
	}
	for k := range v {
		slices.Sort(v[k])
		c[k] = v[k][len(v[k])/2]
	}
	return c
}
