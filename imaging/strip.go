package imaging

import (
	"image"
	"math"

	"mudline/imaging/colour"
	"mudline/imaging/pixels"
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
		W: StripColumns, H: int(pixels.Clamp(rows, maxStripRows)),
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
			lab[3*c], lab[3*c+1], lab[3*c+2] = colour.Lab(pixels.Bilinear(pic, p.X, p.Y))
		}
	})
	return s
}

// Straightened is the front of the jar laid straight as an upright picture, row by
// row as NewStrip has it: what a strip is cut from, in the colours of the photo.
func Straightened(pic *image.RGBA, f Frame, top, bottom float64) *image.RGBA {
	s := NewStrip(f, top, bottom)
	out := image.NewRGBA(image.Rect(0, 0, s.W, s.H))
	s.EachRow(f, func(row int, at []Point) {
		to := out.Pix[row*out.Stride:]
		for c, p := range at {
			r, g, b := pixels.Bilinear(pic, p.X, p.Y)
			to[4*c], to[4*c+1], to[4*c+2], to[4*c+3] = uint8(r+0.5), uint8(g+0.5), uint8(b+0.5), 255
		}
	})
	return out
}

// StripOf is the strip of a picture that Straightened gave.
func StripOf(pic *image.RGBA, top, bottom float64) *Strip {
	s := &Strip{W: pic.Rect.Dx(), H: pic.Rect.Dy(), Top: top, Bottom: bottom, USpan: StripSpan}
	s.Lab = make([]float32, 3*s.W*s.H)
	for y := range s.H {
		row, lab := pic.Pix[y*pic.Stride:], s.Lab[3*y*s.W:]
		for x := range s.W {
			lab[3*x], lab[3*x+1], lab[3*x+2] = colour.Lab(float32(row[4*x]), float32(row[4*x+1]), float32(row[4*x+2]))
		}
	}
	return s
}
