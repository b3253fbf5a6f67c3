package sheetmark

import (
	"cmp"
	"math"
	"slices"
)

// A mark is looked for among the dark areas that hang together: one whose outline is
// close to four straight sides.

// leastSide and mostSide are the sides of a mark that is looked at: two pixels a
// field, and a mark that fills a quarter of a working picture.
const (
	leastSide = 2 * Modules
	mostSide  = 400
	// leastFill is the least share of the quadrilateral that the area's hull fills.
	leastFill = 0.85
)

// run is a stretch of dark pixels in one row, from x0 up to x1.
type run struct{ x0, x1, y int }

// areas collects the runs of each dark area that hangs together, edges touching.
func areas(dark []bool, w, h int) [][]run {
	var runs []run
	var parent []int
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	before, start := 0, 0
	for y := range h {
		row := dark[y*w : (y+1)*w]
		first := len(runs)
		k := before
		for x := 0; x < w; x++ {
			if !row[x] {
				continue
			}
			x0 := x
			for x < w && row[x] {
				x++
			}
			id := len(runs)
			runs, parent = append(runs, run{x0, x, y}), append(parent, id)
			for ; k < start && runs[k].x1 <= x0; k++ {
			}
			for j := k; j < start && runs[j].x0 < x; j++ {
				parent[root(j)] = root(id)
			}
		}
		before, start = first, len(runs)
		if first == len(runs) {
			before = start
		}
	}
	at := map[int]int{}
	var out [][]run
	for i, r := range runs {
		k, known := at[root(i)]
		if !known {
			k = len(out)
			at[root(i)] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], r)
	}
	return out
}

// quad finds the four corners of an area, in the order of the hands of a clock as
// seen; ok is false where it is no likely mark.
func quad(area []run) (q [4]Point, ok bool) {
	x0, x1, n := area[0].x0, area[0].x1, 0
	for _, r := range area {
		x0, x1, n = min(x0, r.x0), max(x1, r.x1), n+r.x1-r.x0
	}
	wide, high := x1-x0, area[len(area)-1].y+1-area[0].y
	if min(wide, high) < leastSide || max(wide, high) > mostSide || max(wide, high) > 4*min(wide, high) || 4*n < wide*high {
		return q, false
	}
	hull := hullOf(area)
	if len(hull) < 4 {
		return q, false
	}
	q = widest(hull)
	return q, areaOf(q[:]) >= leastFill*areaOf(hull) && areaOf(q[:]) > leastSide*leastSide
}

// areaOf is the area of a polygon; positive where it runs clockwise as seen.
func areaOf(p []Point) float64 {
	s := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		s += a.X*b.Y - b.X*a.Y
	}
	return s / 2
}

// hullOf is the convex hull of an area's pixels, clockwise as seen (Andrew's monotone
// chain, from memory).
func hullOf(area []run) []Point {
	var p []Point
	for _, r := range area {
		y := float64(r.y)
		p = append(p, Point{float64(r.x0), y}, Point{float64(r.x0), y + 1}, Point{float64(r.x1), y}, Point{float64(r.x1), y + 1})
	}
	slices.SortFunc(p, func(a, b Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	p = slices.Compact(p)
	half := func(list []Point) []Point {
		var h []Point
		for _, c := range list {
			for len(h) > 1 && cross(h[len(h)-2], h[len(h)-1], c) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, c)
		}
		return h[:len(h)-1]
	}
	one := half(p)
	slices.Reverse(p)
	return append(one, half(p)...)
}

func cross(a, b, c Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// widest is the quadrilateral of the largest area among the corners of a hull: found
// by moving its corners one by one as long as it grows, from the ends of the longest
// diagonal and the corners farthest from it.
func widest(hull []Point) (q [4]Point) {
	n := len(hull)
	a, c, most := 0, n/2, 0.0
	for i := range n {
		for j := i + 1; j < n; j++ {
			if d := math.Hypot(hull[i].X-hull[j].X, hull[i].Y-hull[j].Y); d > most {
				a, c, most = i, j, d
			}
		}
	}
	at := [4]int{a, (a + c) / 2, c, (c + (n-c+a)/2) % n}
	area := func() float64 {
		for i, k := range at {
			q[i] = hull[k]
		}
		return areaOf(q[:])
	}
	best := area()
	for again := true; again; {
		again = false
		for i := range at {
			from, to := at[(i+3)%4], at[(i+1)%4]
			was := at[i]
			for k := (from + 1) % n; k != to; k = (k + 1) % n {
				at[i] = k
				if v := area(); v > best+1e-9 {
					best, was, again = v, k, true
				}
			}
			at[i] = was
		}
	}
	area()
	return q
}
