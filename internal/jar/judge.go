package jar

import (
	"image"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// darkestJar is the L* that one pixel in twenty of a jar's part of the picture
// must exceed. It is lower than for a whole picture: wet black soil has an L*
// of about 17 in good light, a jar against a window comes out at 10 and less.
const darkestJar = 12

// judgeJars refuses photos in which the jar itself is too dark or blurred,
// however bright and sharp the rest of the picture is.
func judgeJars(shots []*shot) error {
	for _, s := range shots {
		whole, inner := s.part(1, 0, 1), s.part(0.7, 0.05, 0.9)
		if inner.Rect.Dx() < leastPart || inner.Rect.Dy() < leastPart {
			return noJar(words.In(s.file, words.Say("jar.hardly-any")))
		}
		q := imaging.Assess(whole) // with the edges of the glass, which are sharp if anything is
		if q.Lights = lightsOf(inner); q.Lights >= darkestJar {
			q.Lights = s.photo.Quality.Lights
		}
		if r := q.Refuse(); r != nil {
			return reading.Refuse(r.Code, words.In(s.file, words.Say("jar.where-it-stands", words.Told("text", r.Text))), r.Remedy)
		}
	}
	return nil
}

// leastPart is the least width and height of what can be judged, in pixels.
const leastPart = 16

// part is the part of the picture within u of the jar's middle, in shares of
// its half width, and between two heights, in shares of the water depth.
func (s *shot) part(u, low, high float64) *image.RGBA {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, across := range []float64{-u, 0, u} {
		for _, h := range []float64{low, high} {
			p := s.frame.At(across, h)
			x0, x1, y0, y1 = min(x0, p.X), max(x1, p.X), min(y0, p.Y), max(y1, p.Y)
		}
	}
	box := image.Rect(int(x0), int(y0), int(math.Ceil(x1)), int(math.Ceil(y1)))
	return s.photo.Picture.SubImage(box.Intersect(s.photo.Picture.Rect)).(*image.RGBA)
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
			l, _, _ := imaging.LabOf(float32(c.R), float32(c.G), float32(c.B))
			v = append(v, float64(l))
		}
	}
	slices.Sort(v)
	return v[len(v)*19/20]
}
