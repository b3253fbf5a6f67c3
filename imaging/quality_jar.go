package imaging

import (
	"image"
	"math"
	"slices"

	"mudline/imaging/colour"
)

// darkestJar is the L* that one pixel in twenty of a jar's part of the picture
// must exceed. It is lower than for a whole picture: wet black soil has an L*
// of about 17 in good light, a jar against a window comes out at 10 and less.
const darkestJar = 12

// leastPart is the least width and height of what can be judged, in pixels.
const leastPart = 16

// AssessJar is the quality of the part of the photo in which the jar stands, however
// bright and sharp the rest is; ok is false where hardly any of it shows.
func (p *Photo) AssessJar(f Frame) (q Quality, ok bool) {
	whole, inner := p.part(f, 1, 0, 1), p.part(f, 0.7, 0.05, 0.9)
	if inner.Rect.Dx() < leastPart || inner.Rect.Dy() < leastPart {
		return q, false
	}
	q = Assess(whole) // with the edges of the glass, which are sharp if anything is
	if q.Lights = lightsOf(inner); q.Lights >= darkestJar {
		q.Lights = p.Quality.Lights
	}
	return q, true
}

// part is the part of the picture within u of the jar's middle, in shares of
// its half width, and between two heights, in shares of the water depth.
func (p *Photo) part(f Frame, u, low, high float64) *image.RGBA {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, across := range []float64{-u, 0, u} {
		for _, h := range []float64{low, high} {
			at := f.At(across, h)
			x0, x1, y0, y1 = min(x0, at.X), max(x1, at.X), min(y0, at.Y), max(y1, at.Y)
		}
	}
	box := image.Rect(int(x0), int(y0), int(math.Ceil(x1)), int(math.Ceil(y1)))
	return p.Picture.SubImage(box.Intersect(p.Picture.Rect)).(*image.RGBA)
}

// lightsOf is the L* that one pixel in twenty of a picture exceeds, from some
// thousands of its pixels.
func lightsOf(pic *image.RGBA) float64 {
	r := pic.Rect
	step := max(1, int(math.Sqrt(float64(r.Dx()*r.Dy())/4000)))
	var v []float64
	for y := r.Min.Y; y < r.Max.Y; y += step {
		for x := r.Min.X; x < r.Max.X; x += step {
			c := pic.RGBAAt(x, y)
			l, _, _ := colour.Lab(float32(c.R), float32(c.G), float32(c.B))
			v = append(v, float64(l))
		}
	}
	slices.Sort(v)
	return v[len(v)*19/20]
}
