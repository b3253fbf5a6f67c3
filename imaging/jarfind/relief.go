package jarfind

import (
	"encoding/binary"
	"image"

	"mudline/imaging/pixels"
)

// reliefSide is the longest side of the picture in which edges are traced.
const reliefSide = 800

// relief holds how strongly a picture changes from left to right (x) and from
// top to bottom (y) at every pixel, 0..255, see lineClip. Positions are in
// relief pixels, scale working pixels to one.
//
// x lies row by row. y lies column by column, because arcs are sought up and
// down: row i of column c is at c*tall + margin + i, with nothing above and
// below.
type relief struct {
	w, h, tall int
	scale      float64
	x, y       []uint8
	capped     []uint8 // y up to arcCap
	busy       float64 // share of the picture that changes strongly from top to bottom
}

// margin is the rows of nothing above and below a column of relief.y.
const margin = 8

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
// The sums of red, green and blue of three pixels are held in 16 bits each of
// one word.
func newRelief(small *image.RGBA, step int) *relief {
	w, h := small.Rect.Dx(), small.Rect.Dy()
	r := &relief{w: w, h: h, tall: h + 2*margin, scale: float64(step), x: make([]uint8, w*h)}
	r.y, r.capped = make([]uint8, w*r.tall), make([]uint8, w*r.tall)
	var rows [3][]uint64 // the last three, spread to lanes
	for k := range rows {
		rows[k] = make([]uint64, w)
		if k < h {
			spread(rows[k], small.Pix[k*small.Stride:])
		}
	}
	side, last := make([]uint64, w), make([]uint64, w) // three beside each other
	strong := 0
	for y := 1; y < h-1; y++ {
		a, b, c := rows[(y-1)%3][:w], rows[y%3][:w], rows[(y+1)%3][:w]
		if y > 1 {
			spread(c, small.Pix[(y+1)*small.Stride:])
		}
		side, last = last[:w], side
		sumsBeside(side, b)
		changesBeside(r.x[y*w:][:w], a, b, c)
		if y > 1 {
			strong += r.changesDown(y, last, side)
		}
	}
	r.busy = float64(strong) / float64(max(w*h, 1))
	return r
}

// sumsBeside adds up three pixels beside each other.
func sumsBeside(sum, row []uint64) {
	sum = sum[:len(row)]
	for x := 2; x < len(row); x++ {
		sum[x-1] = row[x-2] + row[x-1] + row[x]
	}
}

// changesBeside gives how much the sums of three rows change from left to right.
func changesBeside(out []uint8, a, b, c []uint64) {
	if len(a) < 2 {
		return
	}
	b, c, out = b[:len(a)], c[:len(a)], out[:len(a)]
	before := a[1] + b[1] + c[1]
	for x := 2; x < len(a)-2; x++ {
		here := a[x] + b[x] + c[x]
		out[x] = change(before, here)
		before = here
	}
}

// changesDown keeps how much the sums change from one row to row y, and counts
// the strong changes.
func (r *relief) changesDown(y int, above, below []uint64) (strong int) {
	below = below[:len(above)]
	at := 2*r.tall + margin + y
	for x := 2; x < len(above)-2; x++ {
		v := change(above[x], below[x])
		r.y[at], r.capped[at] = v, min(v, arcCap)
		at += r.tall
		if v > strongChange {
			strong++
		}
	}
	return strong
}

// strongChange is a change as of an edge, by which busy is counted.
const strongChange = 100

// spread puts red, green and blue of a row of pixels into lanes of 16 bits.
func spread(lanes []uint64, pix []uint8) {
	pix = pix[:4*len(lanes)]
	for x := range lanes {
		p := uint64(binary.LittleEndian.Uint32(pix[4*x:]))
		lanes[x] = p&0xff | p&0xff00<<8 | p&0xff0000<<16
	}
}

// change compares the sums of three pixels on either side of an edge.
func change(a, b uint64) uint8 {
	const ones, tops = 0x0001_0001_0001, 0x8000_8000_8000
	d := (a | tops) - b ^ tops // the differences, in two's complement
	negative := d & tops >> 15
	d = (d ^ (negative<<16 - negative)) + negative // without signs
	return changeOf[d*ones>>32&0xfff]
}

// changeOf turns the sum of three differences of three pixels into a change.
var changeOf = func() (t [4096]uint8) {
	for d := range t {
		t[d] = uint8(min(d*255/(9*lineClip), 255))
	}
	return t
}()

// halved reduces a picture to half its size, averaging.
func halved(pic *image.RGBA) *image.RGBA {
	w, h := pic.Rect.Dx()/2, pic.Rect.Dy()/2
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		at := pic.PixOffset(pic.Rect.Min.X, pic.Rect.Min.Y+2*y)
		line, upper, lower := out.Pix[y*out.Stride:][:4*w], pic.Pix[at:][:8*w], pic.Pix[at+pic.Stride:][:8*w]
		for len(line) >= 4 && len(upper) >= 8 && len(lower) >= 8 {
			redBlue, green := pixels.SumOfFour(upper, lower)
			binary.LittleEndian.PutUint32(line, uint32(redBlue>>2&0xff00ff|green>>2&0xff<<8|0xff<<24))
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
	return r.y[x*r.tall+margin+y]
}
