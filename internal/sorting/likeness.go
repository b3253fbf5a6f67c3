package sorting

import (
	"image"
	"math"

	"mudline/imaging/colour"
)

// lookCells is the number of cells along each side of a look.
const lookCells = 9

// look is a photo as it is seen from far: the colours of its parts, less what
// exposure changes. The jar stands about the middle, the room round it.
type look [lookCells][lookCells][3]float32

// lightness is the weight of L* against a* and b*: it changes with the light
// far more than they do.
const lightness = 0.3

// lookOf reduces an upright picture to its look.
func lookOf(pic *image.RGBA) look {
	var l look
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	var mean float32
	for r := range l {
		for c := range l[r] {
			l[r][c] = cell(pic, image.Rect(c*w/lookCells, r*h/lookCells, (c+1)*w/lookCells, (r+1)*h/lookCells))
			mean += l[r][c][0] / (lookCells * lookCells)
		}
	}
	for r := range l {
		for c := range l[r] {
			l[r][c][0] = (l[r][c][0] - mean) * lightness
		}
	}
	return l
}

// cell is the mean colour of a part of a picture, of every fourth pixel.
func cell(pic *image.RGBA, part image.Rectangle) [3]float32 {
	const step = 4
	var sum [3]float32
	n := float32(0)
	for y := part.Min.Y; y < part.Max.Y; y += step {
		for x := part.Min.X; x < part.Max.X; x += step {
			p := pic.Pix[pic.PixOffset(x, y):]
			for k := range sum {
				sum[k] += float32(p[k])
			}
			n++
		}
	}
	l, a, b := colour.Lab(sum[0]/n, sum[1]/n, sum[2]/n)
	return [3]float32{l, a, b}
}

// apart is how different two looks are, as a CIELAB distance: the root mean
// square over the cells, the smallest as one is moved by up to a cell against
// the other, since the camera is held by hand.
func (l *look) apart(o *look) float64 {
	best := math.Inf(1)
	for dr := -1; dr <= 1; dr++ {
		for dc := -1; dc <= 1; dc++ {
			best = min(best, l.moved(o, dr, dc))
		}
	}
	return best
}

func (l *look) moved(o *look, dr, dc int) float64 {
	var sum float64
	n := 0
	for r := max(0, -dr); r < lookCells-max(0, dr); r++ {
		for c := max(0, -dc); c < lookCells-max(0, dc); c++ {
			for k := range 3 {
				d := float64(l[r][c][k] - o[r+dr][c+dc][k])
				sum += d * d
			}
			n++
		}
	}
	return math.Sqrt(sum / float64(n))
}
