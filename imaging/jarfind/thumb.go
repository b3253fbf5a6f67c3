package jarfind

import (
	"image"
	"math"

	"mudline/imaging/colour"
	"mudline/imaging/pixels"
)

// thumbSide is the longest side of the small picture in which the jar is first
// looked for.
const thumbSide = 300

// thumb is a small picture in L*, a*, b* planes, with their summed-area tables
// (one row and column more), for box means in constant time.
type thumb struct {
	w, h  int
	scale float64 // working pixels per thumb pixel
	lab   [3][]float32
	sum   [3][]float64
}

// newThumb reduces a picture, which is already step times smaller than the
// working picture, by area averaging.
func newThumb(pic *image.RGBA, step, side int) *thumb {
	pw, ph := pic.Rect.Dx(), pic.Rect.Dy()
	scale := math.Max(1, float64(max(pw, ph))/float64(side))
	t := &thumb{w: int(float64(pw) / scale), h: int(float64(ph) / scale), scale: scale * float64(step)}
	for k := range t.lab {
		t.lab[k] = make([]float32, t.w*t.h)
	}
	for y := range t.h {
		y0, y1 := int(float64(y)*scale), max(int(float64(y+1)*scale), int(float64(y)*scale)+1)
		for x := range t.w {
			x0, x1 := int(float64(x)*scale), max(int(float64(x+1)*scale), int(float64(x)*scale)+1)
			r, g, b := pixels.Mean(pic, x0, y0, x1, y1)
			l, a, bb := colour.Lab(r, g, b)
			i := y*t.w + x
			t.lab[0][i], t.lab[1][i], t.lab[2][i] = l, a, bb
		}
	}
	for k := range t.lab {
		t.sum[k] = summed(t.lab[k], t.w, t.h)
	}
	return t
}

func summed(v []float32, w, h int) []float64 {
	s := make([]float64, (w+1)*(h+1))
	for y := range h {
		var row float64
		for x := range w {
			row += float64(v[y*w+x])
			s[(y+1)*(w+1)+x+1] = s[y*(w+1)+x+1] + row
		}
	}
	return s
}

// addRows sets sum to the sum of rows from..to of a plane.
func (t *thumb) addRows(sum []float32, k, from, to int) {
	clear(sum)
	for y := from; y < to; y++ {
		for x, v := range t.lab[k][y*t.w:][:len(sum)] {
			sum[x] += v
		}
	}
}

// mean is the mean colour of the box [x0,x1) x [y0,y1), clipped to the picture.
func (t *thumb) mean(x0, y0, x1, y1 int) (c [3]float32) {
	x0, y0 = min(max(x0, 0), t.w-1), min(max(y0, 0), t.h-1)
	x1, y1 = min(max(x1, x0+1), t.w), min(max(y1, y0+1), t.h)
	s := t.w + 1
	n := float64((x1 - x0) * (y1 - y0))
	for k := range c {
		v := t.sum[k]
		c[k] = float32((v[y1*s+x1] - v[y0*s+x1] - v[y1*s+x0] + v[y0*s+x0]) / n)
	}
	return c
}

// labDistance is the plain CIELAB distance (CIE 1976).
func labDistance(a, b [3]float32) float32 {
	d0, d1, d2 := a[0]-b[0], a[1]-b[1], a[2]-b[2]
	return float32(math.Sqrt(float64(d0*d0 + d1*d1 + d2*d2)))
}
