// Package pixels holds what is done to every pixel: sampling between them, and sums of
// several at a time in the lanes of one word.
package pixels

import (
	"encoding/binary"
	"image"

	"mudline/imaging/colour"
)

// finest is how many parts of a pixel Between tells apart, along a row and a
// column.
const finest = 64

// Between gives the linear light at a place between the middles of four pixels
// of a picture at origin 0,0; at 0,0 is the middle of the first. The weighted
// sums of red, green and blue take up 21 bits each of a word.
func Between(pic *image.RGBA, x, y float64) (r, g, b float32) {
	px, py := int(x*finest+0.5), int(y*finest+0.5)
	fx, fy := uint64(px%finest), uint64(py%finest)
	at := py/finest*pic.Stride + px/finest*4
	next, under := 4, pic.Stride
	if fx == 0 {
		next = 0 // it may lie outside
	}
	if fy == 0 {
		under = 0
	}
	sum := lanesOf(pic.Pix[at:])*(finest-fx)*(finest-fy) + lanesOf(pic.Pix[at+next:])*fx*(finest-fy) +
		lanesOf(pic.Pix[at+under:])*(finest-fx)*fy + lanesOf(pic.Pix[at+under+next:])*fx*fy
	const lane, shift = 1<<21 - 1, 8 // to sixteenths of a level
	return lightOf[sum&lane>>shift&0xfff], lightOf[sum>>21&lane>>shift&0xfff], lightOf[sum>>42>>shift&0xfff]
}

func lanesOf(pixel []uint8) uint64 {
	p := uint64(binary.LittleEndian.Uint32(pixel))
	return p&0xff | p&0xff00<<13 | p&0xff0000<<26
}

// lightOf is the linear light by sixteenths of an sRGB level.
var lightOf = func() (t [4096]float32) {
	for i := range t {
		t[i] = colour.Linear((float32(i) + 0.5) / 16)
	}
	t[0], t[255*16] = 0, 1
	return t
}()

// Clamp brings v into 0..top; what is no number counts as 0.
func Clamp(v, top float64) float64 {
	if !(v > 0) {
		return 0
	}
	return min(v, top)
}

// Bilinear samples a picture at origin 0,0 at x,y (outer-corner coordinates)
// with the edge repeated, as 0..255 floats.
func Bilinear(pic *image.RGBA, x, y float64) (r, g, b float32) {
	x, y = Clamp(x-0.5, float64(pic.Rect.Dx()-1)), Clamp(y-0.5, float64(pic.Rect.Dy()-1))
	x0, y0 := int(x), int(y)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	at := y0*pic.Stride + 4*x0
	next, under := 4, pic.Stride
	if fx == 0 {
		next = 0
	}
	if fy == 0 {
		under = 0
	}
	p00, p01 := pic.Pix[at:at+3:at+3], pic.Pix[at+next:at+next+3:at+next+3]
	at += under
	p10, p11 := pic.Pix[at:at+3:at+3], pic.Pix[at+next:at+next+3:at+next+3]
	w00, w01, w10, w11 := (1-fx)*(1-fy), fx*(1-fy), (1-fx)*fy, fx*fy
	r = float32(p00[0])*w00 + float32(p01[0])*w01 + float32(p10[0])*w10 + float32(p11[0])*w11
	g = float32(p00[1])*w00 + float32(p01[1])*w01 + float32(p10[1])*w10 + float32(p11[1])*w11
	b = float32(p00[2])*w00 + float32(p01[2])*w01 + float32(p10[2])*w10 + float32(p11[2])*w11
	return r, g, b
}

// Mean is the mean of each channel in a box of a picture at origin 0,0.
func Mean(pic *image.RGBA, x0, y0, x1, y1 int) (r, g, b float32) {
	var sr, sg, sb, n int
	for y := y0; y < y1; y++ {
		row := pic.Pix[y*pic.Stride+4*x0 : y*pic.Stride+4*x1]
		for i := 0; i+3 < len(row); i += 4 {
			sr += int(row[i])
			sg += int(row[i+1])
			sb += int(row[i+2])
			n++
		}
	}
	f := 1 / float32(max(n, 1))
	return float32(sr) * f, float32(sg) * f, float32(sb) * f
}
