package imaging

import (
	"encoding/binary"
	"image"
	"math"
)

// Strip is the front of the jar laid straight: row 0 is at the height Top, the
// last row ends at Bottom (shares of the water depth, Top > Bottom), columns
// run from u = -USpan to +USpan. Lab holds CIE L*, a*, b* (D65) interleaved.
type Strip struct {
	W, H        int
	Top, Bottom float64
	USpan       float64
	Lab         []float32
}

// Height gives the share of the water depth at a row position (0 = outer edge
// of the first row).
func (s *Strip) Height(row float64) float64 {
	return s.Top + (s.Bottom-s.Top)*row/float64(s.H)
}

// Row is the inverse of Height.
func (s *Strip) Row(h float64) float64 {
	return (h - s.Top) / (s.Bottom - s.Top) * float64(s.H)
}

// StripColumns is the width of the strips the program works with.
const StripColumns = 96

// StripSpan is how much of the jar's width the strips show, in shares of it.
const StripSpan = 0.9

// maxStripRows bounds a strip however far apart the ends of the frame are.
const maxStripRows = 4 * WorkingSide

// NewStrip makes an empty strip between two heights, about one row to a working
// pixel.
func NewStrip(f Frame, top, bottom float64) *Strip {
	length := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	rows := math.Ceil(length * (top - bottom))
	s := &Strip{
		W: StripColumns, H: int(clamp(rows, maxStripRows)),
		Top: top, Bottom: bottom, USpan: StripSpan,
	}
	s.H = max(s.H, 8)
	s.Lab = make([]float32, 3*s.W*s.H)
	return s
}

// U gives the position across the jar of the middle of a column, -1..1.
func (s *Strip) U(column int) float64 {
	return s.USpan * (2*(float64(column)+0.5)/float64(s.W) - 1)
}

// EachRow gives, row by row, the working pixels of the middles of the strip's
// columns: Frame.At, of which across and lift depend on the row alone. The
// slice is used again for the next row.
func (s *Strip) EachRow(f Frame, visit func(row int, at []Point)) {
	u, rise := make([]float64, s.W), make([]float64, s.W)
	for c := range u {
		u[c] = s.U(c)
		rise[c] = 1 - math.Sqrt(1-u[c]*u[c])
	}
	at := make([]Point, s.W)
	for r := range s.H {
		h := s.Height(float64(r) + 0.5)
		left, mid, right := f.At(-1, h), f.At(0, h), f.At(1, h)
		across := Point{(right.X - left.X) / 2, (right.Y - left.Y) / 2}
		lift := Point{(right.X+left.X)/2 - mid.X, (right.Y+left.Y)/2 - mid.Y}
		for c := range at {
			at[c] = Point{mid.X + u[c]*across.X + rise[c]*lift.X, mid.Y + u[c]*across.Y + rise[c]*lift.Y}
		}
		visit(r, at)
	}
}

// CutStrip lays the front of the jar straight between two heights. bottom may
// be below 0 (the glass foot) and top above 1 (the glass above the water).
func CutStrip(pic *image.RGBA, f Frame, top, bottom float64) *Strip {
	s := NewStrip(f, top, bottom)
	s.EachRow(f, func(row int, at []Point) {
		lab := s.Lab[3*row*s.W:]
		for c, p := range at {
			lab[3*c], lab[3*c+1], lab[3*c+2] = LabOf(bilinear(pic, p.X, p.Y))
		}
	})
	return s
}

// finest is how many parts of a pixel between tells apart, along a row and a
// column.
const finest = 64

// between gives the linear light at a place between the middles of four pixels
// of a picture at origin 0,0; at 0,0 is the middle of the first. The weighted
// sums of red, green and blue take up 21 bits each of a word.
func between(pic *image.RGBA, x, y float64) (r, g, b float32) {
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
		t[i] = linear((float32(i) + 0.5) / 16)
	}
	t[0], t[255*16] = 0, 1
	return t
}()

// clamp brings v into 0..top; what is no number counts as 0.
func clamp(v, top float64) float64 {
	if !(v > 0) {
		return 0
	}
	return min(v, top)
}

// bilinear samples a picture at origin 0,0 at x,y (outer-corner coordinates)
// with the edge repeated, as 0..255 floats.
func bilinear(pic *image.RGBA, x, y float64) (r, g, b float32) {
	x, y = clamp(x-0.5, float64(pic.Rect.Dx()-1)), clamp(y-0.5, float64(pic.Rect.Dy()-1))
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
