package sheetmark

import (
	"math"

	"mudline/internal/equations"
)

// Stand is how a sheet stands before a camera with square pixels whose axis meets the
// middle of the picture.
type Stand struct {
	// Foot is the middle of the paper's lower edge; Right, Up and Out are the
	// directions of the sheet's x and y and of the side that is printed.
	Foot, Right, Up, Out Vector
	// Focal is the focal length in pixels and K1 the lens's distortion: a direction
	// at r (the tangent of its angle to the axis) is seen at r (1 + K1 r^2).
	Focal, K1 float64
	// Mid is the middle of the picture.
	Mid Point
	// FocalSD is how far the focal length may be off, as a natural logarithm: a sheet that
	// is seen straight on tells little of it.
	FocalSD float64
	// Mirror says that left and right are exchanged in the picture.
	Mirror bool
}

// spot is a place in space of a place on the sheet.
func (s *Stand) spot(p Point) Vector {
	return s.Foot.Plus(s.Right.Times(p.X)).Plus(s.Up.Times(p.Y))
}

// Picture is where a place on the sheet is seen, if nothing stands before it.
func (s *Stand) Picture(p Point) Point { return s.seen(s.spot(p)) }

func (s *Stand) seen(v Vector) Point {
	x, y := v.X/v.Z, v.Y/v.Z
	k := s.Focal * (1 + s.K1*(x*x+y*y))
	if s.Mirror {
		x = -x
	}
	return Point{s.Mid.X + k*x, s.Mid.Y + k*y}
}

// Ray is the direction, of length 1, in which a place in the picture is seen.
func (s *Stand) Ray(p Point) Vector {
	x, y := (p.X-s.Mid.X)/s.Focal, (p.Y-s.Mid.Y)/s.Focal
	if s.Mirror {
		x = -x
	}
	k := 1.0
	for range 8 { // converges as K1 r^2 is small
		k = 1 / (1 + s.K1*k*k*(x*x+y*y))
	}
	return Vector{k * x, k * y, 1}.Unit()
}

// On is the place on the sheet's plane that is seen at a place in the picture; ok is
// false where the plane is not seen there.
func (s *Stand) On(p Point) (q Point, ok bool) {
	r := s.Ray(p)
	across := r.Dot(s.Out)
	if across > -1e-3 {
		return q, false
	}
	v := r.Times(s.Foot.Dot(s.Out) / across).Minus(s.Foot)
	return Point{v.Dot(s.Right), v.Dot(s.Up)}, true
}

// Facing is which part of an upright cylinder, whose middle is seen at a place in the
// picture, faces as the sheet does: to the right of the middle as seen, in radii.
func (s *Stand) Facing(mid Point) float64 {
	back, out := level(s.Ray(mid).Times(-1), s.Up), level(s.Out, s.Up)
	right := back.Cross(out).Dot(s.Up)
	if s.Mirror {
		return -right
	}
	return right
}

// DistanceMM is how far the middle of the paper's foot is from the camera.
func (s *Stand) DistanceMM() float64 { return s.Foot.Len() }

// edge is a place on the border of print and where it was seen, of which only the part
// along a direction counts.
type edge struct {
	on, seen Point
	along    Point // of length 1, in the picture
	// outward is 1 where along leads from ink to paper, -1 the other way, 0 across.
	outward float64
	sd      float64 // pixels
}

// cornerEdges are a mark's corners as places seen in both directions of the picture.
func (r read) cornerEdges() (out []edge) {
	const sd = 0.35
	for i, on := range markCorners(r.code.Mark) {
		before, after := r.corners[(i+3)%4], r.corners[(i+1)%4]
		c := r.corners[i]
		away := Point{math.Copysign(1, 2*c.X-before.X-after.X), math.Copysign(1, 2*c.Y-before.Y-after.Y)}
		out = append(out, edge{on, c, Point{1, 0}, away.X, sd}, edge{on, c, Point{0, 1}, away.Y, sd})
	}
	return out
}

// fit is a stand that is being fitted, with how many pixels wider all ink looks.
type fit struct {
	Stand
	spread float64
}

// miss is how far an edge was seen from where the fit has it.
func (f *fit) miss(e *edge) float64 {
	p := f.Picture(e.on)
	return e.along.X*(e.seen.X-p.X) + e.along.Y*(e.seen.Y-p.Y) - f.spread*e.outward
}

// rms is how far the edges lie off, in pixels.
func (f *fit) rms(edges []edge) float64 {
	sum := 0.0
	for i := range edges {
		m := f.miss(&edges[i])
		sum += m * m
	}
	return math.Sqrt(sum / float64(len(edges)))
}

// improved fits by least squares of pixels with what is known of the lens; ok is false
// where the edges fix no stand.
func (f fit) improved(edges []edge, lens Lens) (fit, bool) {
	for range 25 {
		d, ok := f.improvement(edges, lens)
		if !ok {
			return f, false
		}
		f = f.changed(d)
		if !(f.Foot.Z > 0) || !(f.Focal > 0) {
			return f, false
		}
		size := 0.0
		for _, v := range d {
			size += math.Abs(v)
		}
		if size < 1e-6 {
			break
		}
	}
	return f, true
}

// unknowns are the changes of a fit: a turn (3), a shift in hundreds of millimetres
// (3), the logarithm of the focal length, the distortion, where the axis meets the
// picture in hundreds of pixels (2), and the spread.
const unknowns = 11

func (f fit) changed(d [unknowns]float64) fit {
	w := Vector{d[0], d[1], d[2]}
	f.Right = f.Right.turnedBy(w).Unit()
	f.Up = f.Up.turnedBy(w)
	f.Up = f.Up.Minus(f.Right.Times(f.Up.Dot(f.Right))).Unit()
	f.Out = f.Right.Cross(f.Up)
	f.Foot = f.Foot.Plus(Vector{100 * d[3], 100 * d[4], 100 * d[5]})
	f.Focal *= math.Exp(d[6])
	f.K1 += d[7]
	f.Mid = Point{f.Mid.X + 100*d[8], f.Mid.Y + 100*d[9]}
	f.spread += d[10]
	return f
}

// improvement is one step of Gauss and Newton.
func (f fit) improvement(edges []edge, lens Lens) (d [unknowns]float64, ok bool) {
	x, ok := equations.Solve(f.normal(edges, lens))
	if !ok {
		return d, false
	}
	copy(d[:], x)
	for _, v := range d {
		if math.IsNaN(v) || math.Abs(v) > 50 {
			return d, false
		}
	}
	return d, true
}

// focalUnknown is the place of the focal length among the unknowns.
const focalUnknown = 6

// focalSD is the standard deviation of the fitted focal length, as a natural logarithm,
// if edges lie off by their own: a diagonal element of the inverse of the normal matrix.
func (f fit) focalSD(edges []edge, lens Lens) float64 {
	a := f.normal(edges, lens)
	for i := range a {
		a[i][unknowns] = 0
	}
	a[focalUnknown][unknowns] = 1
	x, ok := equations.Solve(a)
	if !ok || !(x[focalUnknown] > 0) {
		return lens.focalSD()
	}
	return math.Sqrt(x[focalUnknown])
}

// normal are the normal equations of a step, the right side in the last column, with
// differences for derivatives and less weight for edges that lie far off (Huber).
func (f fit) normal(edges []edge, lens Lens) [][]float64 {
	const h = 1e-5
	a := make([][]float64, unknowns)
	for i := range a {
		a[i] = make([]float64, unknowns+1)
	}
	var moved [unknowns]fit
	for k := range moved {
		var e [unknowns]float64
		e[k] = h
		moved[k] = f.changed(e)
	}
	add := func(j *[unknowns]float64, residual, weight float64) {
		for i := range unknowns {
			for k := range unknowns {
				a[i][k] += weight * j[i] * j[k]
			}
			a[i][unknowns] += weight * j[i] * residual
		}
	}
	var j [unknowns]float64
	for i := range edges {
		e := &edges[i]
		r := f.miss(e)
		w := 1 / (e.sd * e.sd)
		if off := math.Abs(r) / (3 * e.sd); off > 1 {
			w /= off
		}
		for k := range moved {
			j[k] = (r - moved[k].miss(e)) / h
		}
		add(&j, r, w)
	}
	axis := lens.axisSD() / 100
	for _, p := range [...]struct {
		k       int
		off, sd float64
	}{
		{focalUnknown, math.Log(lens.Focal / f.Focal), lens.focalSD()}, {7, -f.K1, distortionSD},
		{8, (lens.Mid.X - f.Mid.X) / 100, axis}, {9, (lens.Mid.Y - f.Mid.Y) / 100, axis}, {10, -f.spread, spreadSD},
	} {
		a[p.k][p.k] += 1 / (p.sd * p.sd)
		a[p.k][unknowns] += p.off / (p.sd * p.sd)
	}
	return a
}

// firstFit takes the projective map from sheet to picture apart (Zhang 2000, section
// 3.1, from memory): its first two columns, freed of the camera, are the sheet's
// directions, its third the foot.
func firstFit(marks []read, lens Lens, mirror bool) (f fit, ok bool) {
	f.Stand = Stand{Focal: lens.Focal, Mid: lens.Mid, Mirror: mirror}
	var from, to []Point
	for _, r := range marks {
		for i, on := range markCorners(r.code.Mark) {
			x := r.corners[i].X - f.Mid.X
			if mirror {
				x = -x
			}
			from, to = append(from, on), append(to, Point{x / f.Focal, (r.corners[i].Y - f.Mid.Y) / f.Focal})
		}
	}
	m, ok := PlaneOf(from, to)
	if !ok {
		return f, false
	}
	a, b, c := Vector{m[0], m[3], m[6]}, Vector{m[1], m[4], m[7]}, Vector{m[2], m[5], m[8]}
	k := 2 / (a.Len() + b.Len())
	if c.Z < 0 {
		k = -k
	}
	a, b = a.Times(k).Unit(), b.Times(k).Unit()
	f.Right = a
	f.Up = b.Minus(a.Times(a.Dot(b))).Unit()
	f.Out = f.Right.Cross(f.Up)
	f.Foot = c.Times(k)
	return f, f.Foot.Z > 0 && f.Out.Dot(f.Foot) < 0
}
