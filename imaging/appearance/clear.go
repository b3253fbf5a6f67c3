package appearance

import (
	"image"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/imaging/colour"
)

// likeRoom is the CIELAB distance between what fills the jar and the room
// beside it, at the same height, below which the jar is seen through.
const likeRoom = 12

// SeenThrough says whether the jar shows the room behind it, as clear water
// does and mud does not: at most heights its colour is close to one beside it.
func SeenThrough(pic *image.RGBA, frame imaging.Frame) bool {
	p := place{pic, frame}
	var near []float64
	for h := 0.3; h < 0.86; h += 0.05 {
		in := p.colour(0, h, 0.45)
		best := math.Inf(1)
		for _, u := range []float64{-1.6, -1.3, 1.3, 1.6} {
			if out, ok := p.beside(u, h); ok {
				best = min(best, colour.Distance(in, out))
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

// place is a jar in a picture.
type place struct {
	pic   *image.RGBA
	frame imaging.Frame
}

// beside is the colour next to the jar; ok is false outside the picture.
func (p place) beside(u, h float64) (c [3]float64, ok bool) {
	at := p.frame.At(u, h)
	if !image.Pt(int(at.X), int(at.Y)).In(p.pic.Rect) {
		return c, false
	}
	return p.colour(u, h, 0.12), true
}

// colour is the median L*, a*, b* within du of u at a height.
func (p place) colour(u, h, du float64) (c [3]float64) {
	var v [3][]float64
	r := p.pic.Rect
	for x := -1.0; x <= 1; x += 0.1 {
		for y := -0.01; y <= 0.011; y += 0.01 {
			at := p.frame.At(u+x*du, h+y)
			q := p.pic.RGBAAt(min(max(int(at.X), 0), r.Max.X-1), min(max(int(at.Y), 0), r.Max.Y-1))
			l, a, b := colour.Lab(float32(q.R), float32(q.G), float32(q.B))
			v[0], v[1], v[2] = append(v[0], float64(l)), append(v[1], float64(a)), append(v[2], float64(b))
		}
	}
	for k := range v {
		slices.Sort(v[k])
		c[k] = v[k][len(v[k])/2]
	}
	return c
}
