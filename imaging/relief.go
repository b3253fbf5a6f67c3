package imaging

import "image"

// reliefSide is the longest side of the picture in which edges are traced.
const reliefSide = 800

// relief holds how strongly a picture changes from left to right (x) and from
// top to bottom (y) at every pixel, 0..255, see lineClip. Positions are in relief pixels, scale working pixels to one.
type relief struct {
	w, h  int
	scale float64
	x, y  []uint8
}

// lineClip is the mean difference of R, G and B (0..255) at which an edge
// counts in full.
const lineClip = 40

// smaller brings a working picture to about reliefSide: to half its size, or
// leaves it. step is working pixels to one of small.
func smaller(pic *image.RGBA) (small *image.RGBA, step int) {
	if max(pic.Rect.Dx(), pic.Rect.Dy()) <= 3*reliefSide/2 {
		return pic, 1
	}
	return halved(pic), 2
}

// newRelief measures a picture that is step times smaller than the working one.
func newRelief(small *image.RGBA, step int) *relief {
	w, h := small.Rect.Dx(), small.Rect.Dy()
	r := &relief{w: w, h: h, scale: float64(step), x: make([]uint8, w*h), y: make([]uint8, w*h)}
	down := make([]int32, 4*w) // sums of three pixels above each other
	side, last := make([]int32, 4*w), make([]int32, 4*w)
	for y := 1; y < h-1; y++ {
		a, b, c := small.Pix[(y-1)*small.Stride:], small.Pix[y*small.Stride:], small.Pix[(y+1)*small.Stride:]
		addThree(down, a, b, c)
		addThree(side[4:4*w-4], b, b[4:], b[8:])
		rx, ry := r.x[y*w:(y+1)*w], r.y[y*w:(y+1)*w]
		for x := 2; x < w-2; x++ {
			i := 4 * x
			rx[x] = change((*[3]int32)(down[i-4:]), (*[3]int32)(down[i:]))
			if y > 1 {
				ry[x] = change((*[3]int32)(last[i:]), (*[3]int32)(side[i:]))
			}
		}
		side, last = last, side
	}
	return r
}

// addThree adds up three rows.
func addThree(sum []int32, a, b, c []uint8) {
	a, b, c = a[:len(sum)], b[:len(sum)], c[:len(sum)]
	for i := range sum {
		sum[i] = int32(a[i]) + int32(b[i]) + int32(c[i])
	}
}

// change compares the sums of three pixels on either side of an edge.
func change(a, b *[3]int32) uint8 {
	d := abs(a[0]-b[0]) + abs(a[1]-b[1]) + abs(a[2]-b[2])
	return uint8(min(d*255/(9*lineClip), 255))
}

func abs(v int32) int32 {
	if v < 0 {
		return -v
	}
	return v
}

// busy is the share of the picture that changes strongly from top to bottom.
func (r *relief) busy() float64 {
	n := 0
	for _, v := range r.y {
		if v > 100 {
			n++
		}
	}
	return float64(n) / float64(max(len(r.y), 1))
}

// halved reduces a picture to half its size, averaging.
func halved(pic *image.RGBA) *image.RGBA {
	w, h := pic.Rect.Dx()/2, pic.Rect.Dy()/2
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		line := out.Pix[y*out.Stride:][:4*w]
		upper, lower := pic.Pix[2*y*pic.Stride:][:8*w], pic.Pix[(2*y+1)*pic.Stride:][:8*w]
		for len(line) >= 4 && len(upper) >= 8 && len(lower) >= 8 {
			for k := range 3 {
				line[k] = uint8((uint32(upper[k]) + uint32(upper[k+4]) + uint32(lower[k]) + uint32(lower[k+4])) / 4)
			}
			line[3] = 255
			line, upper, lower = line[4:], upper[8:], lower[8:]
		}
	}
	return out
}

// atY is the top-to-bottom change at a position, 0 outside the picture.
func (r *relief) atY(x, y int) uint8 {
	if uint(x) >= uint(r.w) || uint(y) >= uint(r.h) {
		return 0
	}
	return r.y[y*r.w+x]
}
