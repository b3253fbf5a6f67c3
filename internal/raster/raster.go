// Package raster draws smooth lines, areas and letters onto a picture: on photos
// for the reports, and the charts as PNG.
package raster

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

// Canvas draws onto a picture.
type Canvas struct{ Pic *image.RGBA }

// Area is a set of outlines, filled by the non-zero rule: where outlines that
// run the same way round overlap they do not cancel, and one that runs the other
// way round cuts a hole.
type Area struct{ Outlines [][]Point }

// Add puts an outline into the area, turned so that all run the same way.
func (a *Area) Add(p ...Point) {
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
	a.Outlines = append(a.Outlines, p)
}

// Fill paints the area in one colour.
func (c Canvas) Fill(a Area, col color.Color) {
	box := a.bounds().Intersect(c.Pic.Rect)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(p Point) (float32, float32) {
		return float32(p.X - float64(box.Min.X)), float32(p.Y - float64(box.Min.Y))
	}
	for _, o := range a.Outlines {
		r.MoveTo(at(o[0]))
		for _, p := range o[1:] {
			r.LineTo(at(p))
		}
		r.ClosePath()
	}
	r.DrawOp = draw.Over
	r.Draw(c.Pic, box, image.NewUniform(col), image.Point{})
}

func (a Area) bounds() image.Rectangle {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, o := range a.Outlines {
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

// Stroke draws a line through the points, with round joins and ends.
func (c Canvas) Stroke(line []Point, width float64, col color.Color) {
	var a Area
	for i, p := range line {
		a.Add(Disc(p, width/2)...)
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
		a.Add(Point{q.X + nx, q.Y + ny}, Point{p.X + nx, p.Y + ny}, Point{p.X - nx, p.Y - ny}, Point{q.X - nx, q.Y - ny})
	}
	c.Fill(a, col)
}

// Disc is a circle as an outline.
func Disc(p Point, radius float64) []Point {
	n := max(8, int(radius*3))
	out := make([]Point, n)
	for i := range out {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Point{p.X + radius*co, p.Y + radius*s}
	}
	return out
}

// Dashes cuts a line into pieces: the lengths of pattern, all above 0, are drawn and
// left out in turn. A pattern of no even number of lengths leaves the line whole.
func Dashes(line []Point, pattern ...float64) [][]Point {
	if len(pattern) == 0 || len(pattern)%2 == 1 {
		return [][]Point{line}
	}
	var out [][]Point
	var piece []Point
	turn, left := 0, pattern[0] // even turns are drawn
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		for {
			drawn := turn%2 == 0
			if drawn && len(piece) == 0 {
				piece = []Point{p}
			}
			d := math.Hypot(q.X-p.X, q.Y-p.Y)
			if d <= left {
				left -= d
				if drawn {
					piece = append(piece, q)
				}
				break
			}
			p = Point{p.X + (q.X-p.X)*left/d, p.Y + (q.Y-p.Y)*left/d}
			if drawn {
				out = append(out, append(piece, p))
				piece = nil
			}
			turn = (turn + 1) % len(pattern)
			left = pattern[turn]
		}
	}
	if turn%2 == 0 && len(piece) > 1 {
		out = append(out, piece)
	}
	return out
}

// Box fills an upright rectangle. The whole pixels inside are set at once; only
// the rim is drawn as an area.
func (c Canvas) Box(x0, y0, x1, y1 float64, col color.Color) {
	rim := func(x0, y0, x1, y1 float64) {
		if x0 < x1 && y0 < y1 {
			c.Fill(Area{Outlines: [][]Point{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}}, col)
		}
	}
	left, top, right, bottom := math.Ceil(x0), math.Ceil(y0), math.Floor(x1), math.Floor(y1)
	if !(left < right && top < bottom && right-left < 1e6 && bottom-top < 1e6) {
		rim(x0, y0, x1, y1)
		return
	}
	draw.Draw(c.Pic, image.Rect(int(left), int(top), int(right), int(bottom)), image.NewUniform(col), image.Point{}, draw.Over)
	rim(x0, y0, left, y1)
	rim(right, y0, x1, y1)
	rim(left, y0, right, top)
	rim(left, bottom, right, y1)
}
