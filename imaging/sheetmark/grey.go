package sheetmark

import "image"

// grey is a picture's brightness: linear light of the three channels weighted as the
// eye does (ITU-R BT.709), 0 to 65535. It is reckoned where it is asked for.
type grey struct {
	pic  *image.RGBA
	w, h int
}

func newGrey(pic *image.RGBA) *grey { return &grey{pic, pic.Rect.Dx(), pic.Rect.Dy()} }

// linearOf is the linear light of an sRGB value (IEC 61966-2-1), 0 to 65535, and the
// weighted parts of the three channels.
var (
	linearOf                     = linearTable()
	redPart, greenPart, bluePart = parts(0.2126), parts(0.7152), parts(0.0722)
)

func parts(weight float64) (t [256]uint32) {
	for i, v := range linearOf {
		t[i] = uint32(weight*float64(v) + 0.5)
	}
	return t
}

func brightness(p []uint8) uint32 { return redPart[p[0]] + greenPart[p[1]] + bluePart[p[2]] }

// at is the brightness between the middles of four pixels, with the edge repeated.
func (g *grey) at(x, y float64) float64 {
	x, y = within(x-0.5, float64(g.w-1)), within(y-0.5, float64(g.h-1))
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	at := y0*g.pic.Stride + 4*x0
	next, under := 4, g.pic.Stride
	if x0 == g.w-1 {
		next = 0
	}
	if y0 == g.h-1 {
		under = 0
	}
	p := g.pic.Pix
	top := float64(brightness(p[at:]))*(1-fx) + float64(brightness(p[at+next:]))*fx
	low := float64(brightness(p[at+under:]))*(1-fx) + float64(brightness(p[at+under+next:]))*fx
	return top*(1-fy) + low*fy
}

func within(v, top float64) float64 {
	if !(v > 0) {
		return 0
	}
	return min(v, top)
}

// coarse is a picture's brightness as its file has it, 0 to 255, at a half of its size,
// or at its own where it is small: enough to find marks by. Its sums run from the top
// left.
type coarse struct {
	w, h, step int
	v          []uint8
	sum        []uint32 // (w+1) x (h+1)
}

// smallSide is the longer side up to which a picture is searched at its own size.
const smallSide = 1000

func (g *grey) coarse() *coarse {
	c := &coarse{step: 2}
	if max(g.w, g.h) <= smallSide {
		c.step = 1
	}
	c.w, c.h = g.w/c.step, g.h/c.step
	c.v = make([]uint8, c.w*c.h)
	c.sum = make([]uint32, (c.w+1)*(c.h+1))
	next := g.pic.Stride*(c.step-1) + 4*(c.step-1) // the other end of the square
	for y := range c.h {
		row := c.v[y*c.w : (y+1)*c.w]
		one := g.pic.Pix[c.step*y*g.pic.Stride:]
		other := one[next:]
		line := uint32(0)
		s := c.w + 1
		above, here := c.sum[y*s:(y+1)*s], c.sum[(y+1)*s:(y+2)*s]
		for x := range row {
			at := 4 * c.step * x
			p, q := one[at:at+3:at+3], other[at:at+3:at+3]
			// Weighted as the eye does, in 512ths, for the sum of the two.
			v := (27*(uint32(p[0])+uint32(q[0])) + 91*(uint32(p[1])+uint32(q[1])) + 10*(uint32(p[2])+uint32(q[2]))) >> 8
			row[x] = uint8(v)
			line += v
			here[x+1] = above[x+1] + line
		}
	}
	return c
}

// darkShare is what a pixel's value must be less than, beside the mean of the square
// about it, to count as ink: black prints at a twentieth of the paper's light, which is
// a quarter of its value, and blur and haze lift it.
const darkShare = 205. / 256

// dark says for each pixel whether it is much darker than the mean about it. The
// square reaches half the width of a mark as large as the picture can hold with all
// of the sheet in it, and is clipped at the edges.
func (c *coarse) dark() []bool {
	reach := max(c.w, c.h) / 36
	out := make([]bool, c.w*c.h)
	s := c.w + 1
	for y := range c.h {
		y0, y1 := max(y-reach, 0), min(y+reach+1, c.h)
		up, low := c.sum[y0*s:y0*s+s], c.sum[y1*s:y1*s+s]
		row, to := c.v[y*c.w:(y+1)*c.w], out[y*c.w:(y+1)*c.w]
		for x, v := range row {
			x0, x1 := max(x-reach, 0), min(x+reach+1, c.w)
			sum := low[x1] - low[x0] - up[x1] + up[x0]
			n := uint32((x1 - x0) * (y1 - y0))
			to[x] = uint32(v)*n < sum/256*uint32(256*darkShare)
		}
	}
	return out
}
