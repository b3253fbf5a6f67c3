package texture

import (
	"math"
	"sync"
)

// outline is a field made ready to be asked: its sides in order, the field to
// their left.
type outline struct {
	class    string
	sides    []side
	low, top corner // of the box round it
}

// side is a straight side of a field from a to b.
type side struct {
	a, b         corner
	along        corner // unit vector
	long         float64
	outer, owned bool // on the triangle's own side; its soils are of this field
}

// toRight is the way a soil on a border is moved to find its class: more silt
// and more clay, along no border of any system.
var toRight = corner{clay: 0.7, silt: 1}

var allOutlines = sync.OnceValue(func() [][]outline {
	out := make([][]outline, len(systems))
	for i, s := range systems {
		for _, f := range s.fields {
			out[i] = append(out[i], f.outline())
		}
	}
	return out
})

func (s System) outlines() []outline { return allOutlines()[s] }

func (c corner) minus(d corner) corner  { return corner{c.clay - d.clay, c.silt - d.silt} }
func (c corner) cross(d corner) float64 { return c.silt*d.clay - c.clay*d.silt }
func (c corner) dot(d corner) float64   { return c.silt*d.silt + c.clay*d.clay }
func (c corner) soil() Fractions        { return Fractions{100 - c.silt - c.clay, c.silt, c.clay} }

func (f field) outline() outline {
	twice, n := 0.0, len(f.corners)
	for i, c := range f.corners {
		twice += c.cross(f.corners[(i+1)%n])
	}
	out := outline{class: f.class, low: f.corners[0], top: f.corners[0]}
	for i, a := range f.corners {
		b := f.corners[(i+1)%n]
		if twice < 0 { // from the last corner back
			a, b = f.corners[n-1-i], f.corners[(2*n-2-i)%n]
		}
		out.sides = append(out.sides, newSide(a, b))
		out.low = corner{math.Min(out.low.clay, a.clay), math.Min(out.low.silt, a.silt)}
		out.top = corner{math.Max(out.top.clay, a.clay), math.Max(out.top.silt, a.silt)}
	}
	return out
}

func newSide(a, b corner) side {
	s := side{a: a, b: b, long: math.Hypot(b.clay-a.clay, b.silt-a.silt)}
	d := b.minus(a)
	s.along = corner{d.clay / s.long, d.silt / s.long}
	p, q := a.soil(), b.soil()
	s.outer = math.Max(p.Sand, q.Sand) < edge || math.Max(p.Silt, q.Silt) < edge || math.Max(p.Clay, q.Clay) < edge
	s.owned = s.outer || s.along.cross(toRight) > 0
	return s
}

// holds tells whether a soil belongs to the field. On a side it does where the
// field lies to the right of the side; at a corner where the way to the right
// leads into the field.
func (f *outline) holds(p corner) bool {
	if p.clay < f.low.clay-edge || p.clay > f.top.clay+edge || p.silt < f.low.silt-edge || p.silt > f.top.silt+edge {
		return false
	}
	inside, n := false, len(f.sides)
	for i := range f.sides {
		s := &f.sides[i]
		if s.touches(p) {
			if next := &f.sides[(i+1)%n]; next.touches(p) {
				return s.cornerOwned(next)
			}
			if last := &f.sides[(i+n-1)%n]; last.touches(p) {
				return last.cornerOwned(s)
			}
			return s.owned
		}
		if (s.a.clay > p.clay) != (s.b.clay > p.clay) && p.silt < s.a.silt+(p.clay-s.a.clay)*s.along.silt/s.along.clay {
			inside = !inside
		}
	}
	return inside
}

func (s *side) touches(p corner) bool {
	d := p.minus(s.a)
	t := d.dot(s.along)
	return math.Abs(s.along.cross(d)) <= edge && t >= -edge && t <= s.long+edge
}

// cornerOwned tells whether the corner between s and the next side is the field's.
func (s *side) cornerOwned(next *side) bool {
	if s.along.cross(next.along) > 0 {
		return s.owned && next.owned
	}
	return s.owned || next.owned
}

// shared returns the stretch that two sides of different fields share.
func (s *side) shared(g *side) (a, b corner, ok bool) {
	const near = 1e-6
	from, to := g.a.minus(s.a), g.b.minus(s.a)
	if s.outer || math.Abs(s.along.cross(from)) > near || math.Abs(s.along.cross(to)) > near {
		return a, b, false
	}
	lo := math.Max(0, math.Min(from.dot(s.along), to.dot(s.along)))
	hi := math.Min(s.long, math.Max(from.dot(s.along), to.dot(s.along)))
	at := func(t float64) corner { return corner{s.a.clay + t*s.along.clay, s.a.silt + t*s.along.silt} }
	return at(lo), at(hi), hi-lo > near
}
