package report

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// Point is a position in pixels of the picture that is drawn on: x right, y
// down, 0,0 at the outer corner of the first pixel.
type Point struct{ X, Y float64 }

// Dark is the casing under every line and the ground under every label; Light
// is the lightest stroke. Light on Dark reads on any photo.
var (
	Dark  = color.RGBA{16, 18, 22, 255}
	Light = color.RGBA{255, 255, 255, 255}
)

// canvas draws smooth lines and areas onto a picture.
type canvas struct{ pic *image.RGBA }

// area is a set of outlines that all run the same way round, so that where they
// overlap they do not cancel.
type area struct{ outlines [][]Point }

// add puts an outline into the area, turned so that all run the same way.
func (a *area) add(p ...Point) {
	sum := 0.0
	for i := range p {
		q := p[(i+1)%len(p)]
		sum += p[i].X*q.Y - q.X*p[i].Y
	}
	if sum < 0 {
		for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
			p[i], p[j] = p[j], p[i]
		}
	}
	a.outlines = append(a.outlines, p)
}

// fill paints the area in one colour.
func (c canvas) fill(a area, col color.Color) {
	box := a.bounds().Intersect(c.pic.Rect)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(p Point) (float32, float32) {
		return float32(p.X - float64(box.Min.X)), float32(p.Y - float64(box.Min.Y))
	}
	for _, o := range a.outlines {
		r.MoveTo(at(o[0]))
		for _, p := range o[1:] {
			r.LineTo(at(p))
		}
		r.ClosePath()
	}
	r.DrawOp = draw.Over
	r.Draw(c.pic, box, image.NewUniform(col), image.Point{})
}

func (a area) bounds() image.Rectangle {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, o := range a.outlines {
		for _, p := range o {
			lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
			hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
		}
	}
	if !(hi.X-lo.X < 1e6 && hi.Y-lo.Y < 1e6) { // nothing, or not a number
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X)), int(math.Ceil(hi.Y)))
}

// stroke draws a line through the points, with round joins and ends.
func (c canvas) stroke(line []Point, width float64, col color.Color) {
	var a area
	for i, p := range line {
		a.add(disc(p, width/2)...)
		if i == 0 {
			continue
		}
		q := line[i-1]
		dx, dy := p.X-q.X, p.Y-q.Y
		n := math.Hypot(dx, dy)
		if n == 0 {
			continue
		}
		nx, ny := -dy/n*width/2, dx/n*width/2
		a.add(Point{q.X + nx, q.Y + ny}, Point{p.X + nx, p.Y + ny}, Point{p.X - nx, p.Y - ny}, Point{q.X - nx, q.Y - ny})
	}
	c.fill(a, col)
}

// disc is a circle as an outline.
func disc(p Point, radius float64) []Point {
	n := max(8, int(radius*3))
	out := make([]Point, n)
	for i := range out {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Point{p.X + radius*co, p.Y + radius*s}
	}
	return out
}

// cased draws a coloured line over a dark casing; dash is the length of its
// dashes and of the gaps between, 0 for an unbroken line.
func (c canvas) cased(line []Point, width, dash float64, col color.Color) {
	pieces := [][]Point{line}
	if dash > 0 {
		pieces = dashes(line, dash)
	}
	for _, p := range pieces {
		c.stroke(p, width+math.Max(3, 1.3*width), Dark)
	}
	for _, p := range pieces {
		c.stroke(p, width, col)
	}
}

// dashes cuts a line into pieces of equal length with gaps 0.7 as long.
func dashes(line []Point, length float64) [][]Point {
	var out [][]Point
	var piece []Point
	left, on := length, true
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		for {
			if on && len(piece) == 0 {
				piece = []Point{p}
			}
			d := math.Hypot(q.X-p.X, q.Y-p.Y)
			if d <= left {
				left -= d
				if on {
					piece = append(piece, q)
				}
				break
			}
			p = Point{p.X + (q.X-p.X)*left/d, p.Y + (q.Y-p.Y)*left/d}
			if on {
				out = append(out, append(piece, p))
				piece, left = nil, 0.7*length
			} else {
				left = length
			}
			on = !on
		}
	}
	if on && len(piece) > 1 {
		out = append(out, piece)
	}
	return out
}

// box fills an upright rectangle.
func (c canvas) box(x0, y0, x1, y1 float64, col color.Color) {
	var a area
	a.add(Point{x0, y0}, Point{x1, y0}, Point{x1, y1}, Point{x0, y1})
	c.fill(a, col)
}
