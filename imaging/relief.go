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

// smaller reduces a working picture by a whole factor to about reliefSide.
func smaller(pic *image.RGBA) (small *image.RGBA, step int) {
	step = max(1, (max(pic.Rect.Dx(), pic.Rect.Dy())+reliefSide/2-1)/reliefSide)
	if step == 1 {
		return pic, 1
	}
	return shrink(pic, step), step
}

// newRelief measures a picture that is step times smaller than the working one.
func newRelief(small *image.RGBA, step int) *relief {
	w, h := small.Rect.Dx(), small.Rect.Dy()
	r := &relief{w: w, h: h, scale: float64(step), x: make([]uint8, w*h), y: make([]uint8, w*h)}
	down := make([]int32, 4*w) // sums of three pixels above each other
	side, last := make([]int32, 4*w), make([]int32, 4*w)
	for y := 1; y < h-1; y++ {
		a, b, c := small.Pix[(y-1)*small.Stride:], small.Pix[y*small.Stride:], small.Pix[(y+1)*small.Stride:]
		for i := range down {
			down[i] = int32(a[i]) + int32(b[i]) + int32(c[i])
		}
		for i := 4; i < 4*w-4; i++ {
			side[i] = int32(b[i-4]) + int32(b[i]) + int32(b[i+4])
		}
		rx, ry := r.x[y*w:(y+1)*w], r.y[y*w:(y+1)*w]
		for x := 2; x < w-2; x++ {
			i := 4 * x
			rx[x] = change(down[i-4:i:i], down[i:i+4:i+4])
			if y > 1 {
				ry[x] = change(last[i:i+4:i+4], side[i:i+4:i+4])
			}
		}
		side, last = last, side
	}
	return r
}

// change compares the sums of three pixels on either side of an edge.
func change(a, b []int32) uint8 {
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

// shrink reduces a picture by a whole factor, averaging.
func shrink(pic *image.RGBA, k int) *image.RGBA {
	w, h := pic.Rect.Dx()/k, pic.Rect.Dy()/k
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	sums := make([]uint32, 4*w)
	n := uint32(k * k)
	for y := range h {
		clear(sums)
		for dy := range k {
			row := pic.Pix[(y*k+dy)*pic.Stride:][:4*w*k]
			for dx := range k {
				for i, j := 0, 4*dx; i < len(sums); i, j = i+4, j+4*k {
					p, q := row[j:j+4:j+4], sums[i:i+4:i+4]
					q[0] += uint32(p[0])
					q[1] += uint32(p[1])
					q[2] += uint32(p[2])
				}
			}
		}
		line := out.Pix[y*out.Stride:][:4*w]
		for i := 0; i < len(sums); i += 4 {
			line[i], line[i+1], line[i+2], line[i+3] = uint8(sums[i]/n), uint8(sums[i+1]/n), uint8(sums[i+2]/n), 255
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
