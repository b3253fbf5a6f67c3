package sheetmark

import (
	"math"

	"mudline/internal/equations"
)

// Plane is a projective map of the plane, row by row.
type Plane [9]float64

// At is where the map takes a point.
func (m Plane) At(p Point) Point {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	return Point{(m[0]*p.X + m[1]*p.Y + m[2]) / w, (m[3]*p.X + m[4]*p.Y + m[5]) / w}
}

// PlaneOf is the map that takes each of from to its place in to, by least squares of
// the linear equations with the last entry 1; four pairs or more. ok is false where
// they lie in a line.
func PlaneOf(from, to []Point) (m Plane, ok bool) {
	// In coordinates about the mean and of size one the equations are well posed.
	f, t := evened(from), evened(to)
	a := make([][]float64, 8)
	for i := range a {
		a[i] = make([]float64, 9)
	}
	for i := range from {
		x, y := f.there(from[i]), t.there(to[i])
		rows := [2][9]float64{
			{x.X, x.Y, 1, 0, 0, 0, -y.X * x.X, -y.X * x.Y, y.X},
			{0, 0, 0, x.X, x.Y, 1, -y.Y * x.X, -y.Y * x.Y, y.Y},
		}
		for _, r := range rows {
			for j := range 8 {
				for k := range 9 {
					a[j][k] += r[j] * r[k]
				}
			}
		}
	}
	s, ok := equations.Solve(a)
	if !ok {
		return m, false
	}
	h := Plane{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}
	back := Plane{1 / t.k, 0, t.x, 0, 1 / t.k, t.y, 0, 0, 1}
	into := Plane{f.k, 0, -f.k * f.x, 0, f.k, -f.k * f.y, 0, 0, 1}
	return back.times(h).times(into), true
}

func (m Plane) times(o Plane) (p Plane) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				p[3*i+j] += m[3*i+k] * o[3*k+j]
			}
		}
	}
	return p
}

// even moves points to about their mean, at a mean distance of about one.
type even struct{ x, y, k float64 }

func evened(p []Point) (e even) {
	n := float64(len(p))
	for _, q := range p {
		e.x, e.y = e.x+q.X/n, e.y+q.Y/n
	}
	s := 0.0
	for _, q := range p {
		s += math.Hypot(q.X-e.x, q.Y-e.y) / n
	}
	e.k = 1 / math.Max(s, 1e-9)
	return e
}

func (e even) there(p Point) Point { return Point{(p.X - e.x) * e.k, (p.Y - e.y) * e.k} }
