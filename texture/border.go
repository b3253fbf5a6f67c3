package texture

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"
)

// Border is the nearest place at which a soil's class gives way to another.
type Border struct {
	// Class lies on the other side.
	Class string
	// Distance in points of the texture triangle, whose corners lie 100 points
	// apart: see Distance. 0 on the border itself.
	Distance float64
	// At is the place.
	At Fractions
}

// Distance returns the distance of two soils in the texture triangle with side
// 100: sqrt((dsand² + dsilt² + dclay²)/2). It is the distance that soil judging
// contests score by.
func Distance(a, b Fractions) float64 { return math.Sqrt(a.minus(b).dot(a.minus(b)) / 2) }

// Borders returns the nearest place on each border of f's class, the nearest
// border first. Fractions are percent and add up to 100, as ClassOf asks.
func Borders(f Fractions, s System) ([]Border, error) {
	class, err := ClassOf(f, s)
	if err != nil {
		return nil, err
	}
	f = f.Normalised()
	var out []Border
	for _, p := range bordersOf(s) {
		other, ok := p.beyond(class)
		if !ok {
			continue
		}
		b := Border{Class: other, At: p.nearest(f)}
		b.Distance = Distance(f, b.At)
		i := slices.IndexFunc(out, func(o Border) bool { return o.Class == other })
		switch {
		case i < 0:
			out = append(out, b)
		case b.Distance < out[i].Distance:
			out[i] = b
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Distance < out[j].Distance })
	return out, nil
}

// NearestBorder returns the first of Borders.
func NearestBorder(f Fractions, s System) (Border, error) {
	all, err := Borders(f, s)
	if err != nil {
		return Border{}, err
	}
	return all[0], nil
}

// Neighbours lists the classes that share a border with a class, coarse to
// fine; classes that meet it in a single point do not count.
func Neighbours(class string, s System) ([]string, error) {
	names := ClassNames(s)
	if !slices.Contains(names, class) {
		return nil, fmt.Errorf("class %q is none of the classes of system %v", class, s)
	}
	touching := map[string]bool{}
	for _, p := range bordersOf(s) {
		if other, ok := p.beyond(class); ok {
			touching[other] = true
		}
	}
	return slices.DeleteFunc(names, func(n string) bool { return !touching[n] }), nil
}

// line is a limit of the class definitions: sand*Sand + silt*Silt + clay*Clay = limit.
type line struct {
	of    Fractions
	limit float64
}

// classLines are all straight lines on which a class limit can lie, the sides
// of the triangle first. Which part of a line is a border, and between which
// classes, is asked of ClassOf.
func classLines(s System) []line {
	sand, silt, clay := Fractions{Sand: 1}, Fractions{Silt: 1}, Fractions{Clay: 1}
	lines := []line{{sand, 0}, {silt, 0}, {clay, 0},
		{sand, 20}, {sand, 45}, {sand, 52}, {silt, 28}, {silt, 40}, {silt, 50}, {silt, 80},
		{clay, 7}, {clay, 12}, {clay, 20}, {clay, 27}, {clay, 35}, {clay, 40},
		{Fractions{Silt: 1, Clay: 1.5}, 15}, {Fractions{Silt: 1, Clay: 2}, 30}}
	if s == Canadian {
		lines = append(lines, line{clay, 60})
	}
	return lines
}

// piece is a straight border between two classes.
type piece struct {
	a, b    Fractions
	classes [2]string
}

// beyond names the class on the other side.
func (p piece) beyond(class string) (string, bool) {
	switch class {
	case p.classes[0]:
		return p.classes[1], true
	case p.classes[1]:
		return p.classes[0], true
	}
	return "", false
}

// nearest returns the point of the piece that is nearest to f.
func (p piece) nearest(f Fractions) Fractions {
	along := p.b.minus(p.a)
	t := f.minus(p.a).dot(along) / along.dot(along)
	return p.a.plus(along, clamp(t, 0, 1))
}

var usdaBorders = sync.OnceValue(func() []piece { return findBorders(USDA) })
var canadianBorders = sync.OnceValue(func() []piece { return findBorders(Canadian) })

func bordersOf(s System) []piece {
	switch s {
	case USDA:
		return usdaBorders()
	case Canadian:
		return canadianBorders()
	}
	return nil
}

// findBorders cuts every line where others cross it and keeps the pieces that
// have different classes to their two sides.
func findBorders(s System) []piece {
	const aside = 1e-4 // points; the lines' crossings are much further apart
	var out []piece
	lines := classLines(s)
	for i, l := range lines[3:] {
		cuts := crossings(l, slices.Delete(slices.Clone(lines), 3+i, 4+i))
		for k := 1; k < len(cuts); k++ {
			a, b := cuts[k-1], cuts[k]
			mid := a.plus(b.minus(a), 0.5)
			up, down := mid.plus(l.across(), aside), mid.plus(l.across(), -aside)
			// Both lie inside the triangle, where every point has a class.
			one, _ := ClassOf(up, s)
			two, _ := ClassOf(down, s)
			if one != two {
				out = append(out, piece{a, b, [2]string{one, two}})
			}
		}
	}
	return out
}

// across is the direction square to the line, within the triangle's plane.
func (l line) across() Fractions {
	mean := l.of.Sum() / 3
	return Fractions{l.of.Sand - mean, l.of.Silt - mean, l.of.Clay - mean}
}

// crossings returns where other lines cross l inside the triangle, in order along l.
func crossings(l line, others []line) []Fractions {
	along := l.of.cross(Fractions{1, 1, 1})
	var out []Fractions
	for _, o := range others {
		d := along.dot(o.of)
		if math.Abs(d) < 1e-12 {
			continue // parallel
		}
		// Cramer's rule for l, o and sum = 100.
		p := o.of.cross(Fractions{1, 1, 1}).scaled(-l.limit/d).plus(along, o.limit/d).plus(o.of.cross(l.of), 100/d)
		if min(p.Sand, p.Silt, p.Clay) > -1e-9 {
			out = append(out, p)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].dot(along) < out[j].dot(along) })
	return slices.CompactFunc(out, func(p, q Fractions) bool { return Distance(p, q) < 1e-6 })
}

func (f Fractions) scaled(k float64) Fractions {
	return Fractions{k * f.Sand, k * f.Silt, k * f.Clay}
}
func (f Fractions) plus(g Fractions, k float64) Fractions {
	return Fractions{f.Sand + k*g.Sand, f.Silt + k*g.Silt, f.Clay + k*g.Clay}
}
func (f Fractions) minus(g Fractions) Fractions { return f.plus(g, -1) }
func (f Fractions) dot(g Fractions) float64     { return f.Sand*g.Sand + f.Silt*g.Silt + f.Clay*g.Clay }
func (f Fractions) cross(g Fractions) Fractions {
	return Fractions{f.Silt*g.Clay - f.Clay*g.Silt, f.Clay*g.Sand - f.Sand*g.Clay, f.Sand*g.Silt - f.Silt*g.Sand}
}
