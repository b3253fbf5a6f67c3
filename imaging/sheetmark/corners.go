package sheetmark

import "math"

// profileSamples is how many places along a side its edge is looked for at.
const profileSamples = 24

// refined moves the corners of a mark to where its sides, fitted as lines to the
// steps from ink to paper, meet; ok is false where a side does not show well.
func refined(g *grey, q [4]Point) (out [4]Point, ok bool) {
	var lines [4]line
	for i := range q {
		if lines[i], ok = side(g, q[i], q[(i+1)%4]); !ok {
			return q, false
		}
	}
	for i := range q {
		p, meets := lines[(i+3)%4].meet(lines[i])
		if !meets || math.Hypot(p.X-q[i].X, p.Y-q[i].Y) > 0.25*math.Hypot(q[i].X-q[(i+1)%4].X, q[i].Y-q[(i+1)%4].Y) {
			return q, false
		}
		out[i] = p
	}
	return out, true
}

// line is the points with nx x + ny y = d, the normal of length 1.
type line struct{ nx, ny, d float64 }

func (l line) meet(o line) (Point, bool) {
	det := l.nx*o.ny - l.ny*o.nx
	if math.Abs(det) < 0.1 {
		return Point{}, false
	}
	return Point{(l.d*o.ny - o.d*l.ny) / det, (l.nx*o.d - o.nx*l.d) / det}, true
}

// side fits a line to the edge from a to b, ink on its right hand as one goes, which
// is inside where the corners run clockwise as seen.
func side(g *grey, a, b Point) (l line, ok bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := math.Hypot(dx, dy)
	dx, dy = dx/long, dy/long
	nx, ny := dy, -dx // outward
	reach := math.Max(1.5*long/Modules, 2.5)
	var seen []Point
	for i := range profileSamples {
		t := long * (0.08 + 0.84*float64(i)/(profileSamples-1))
		p := Point{a.X + t*dx, a.Y + t*dy}
		if off, found := step(g, p, nx, ny, math.Min(reach, 0.9*long/Modules+2)); found {
			seen = append(seen, Point{p.X + off*nx, p.Y + off*ny})
		}
	}
	if len(seen) < profileSamples/2 {
		return l, false
	}
	for range 2 { // once more without what lies off
		l = fitted(seen, nx, ny)
		kept := seen[:0]
		for _, p := range seen {
			if math.Abs(l.nx*p.X+l.ny*p.Y-l.d) < 0.75 {
				kept = append(kept, p)
			}
		}
		if len(kept) < profileSamples/2 {
			return l, false
		}
		seen = kept
	}
	return fitted(seen, nx, ny), true
}

// step finds where, going outward from ink to paper, the light passes the middle of
// the two.
func step(g *grey, p Point, nx, ny, reach float64) (off float64, ok bool) {
	const every = 0.25
	n := int(2*reach/every) + 1
	v := make([]float64, n)
	for i := range v {
		t := -reach + float64(i)*every
		v[i] = g.at(p.X+t*nx, p.Y+t*ny)
	}
	// The steepest rise over one pixel, then the darkest before and the lightest after.
	const span = 4
	at, rise := -1, 0.0
	for i := span; i+span < n; i++ {
		if d := v[i+span/2] - v[i-span/2]; d > rise {
			at, rise = i, d
		}
	}
	if at < 0 {
		return 0, false
	}
	low, high := v[at], v[at]
	for i := max(at-2*span, 0); i < min(at+2*span+1, n); i++ {
		low, high = math.Min(low, v[i]), math.Max(high, v[i])
	}
	if high < 1.3*low {
		return 0, false
	}
	mid := (low + high) / 2
	for i := max(at-span, 1); i <= min(at+span, n-1); i++ {
		if v[i-1] < mid && v[i] >= mid {
			return -reach + (float64(i-1)+(mid-v[i-1])/(v[i]-v[i-1]))*every, true
		}
	}
	return 0, false
}

// fitted is the line with the least squares of distances, its normal turned towards
// nx, ny.
func fitted(p []Point, nx, ny float64) line {
	var mx, my, xx, xy, yy float64
	n := float64(len(p))
	for _, q := range p {
		mx, my = mx+q.X/n, my+q.Y/n
	}
	for _, q := range p {
		x, y := q.X-mx, q.Y-my
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	along := math.Atan2(2*xy, xx-yy) / 2
	l := line{nx: -math.Sin(along), ny: math.Cos(along)}
	if l.nx*nx+l.ny*ny < 0 {
		l.nx, l.ny = -l.nx, -l.ny
	}
	l.d = l.nx*mx + l.ny*my
	return l
}
