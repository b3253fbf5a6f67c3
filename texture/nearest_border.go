package texture

import (
	"math"
	"slices"
	"sort"
	"sync"

	"mudline/internal/words"
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

// Neighbours lists the classes that share a border with a class, coarse to
// fine; classes that meet it in a single point do not count.
func Neighbours(class string, s System) ([]string, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	names := ClassNames(s)
	if !slices.Contains(names, class) {
		return nil, words.Say("soil.no-class", words.Quoted("class", class), words.Name("system", s.String()))
	}
	touching := map[string]bool{}
	for _, p := range bordersOf(s) {
		if other, ok := p.beyond(class); ok {
			touching[other] = true
		}
	}
	return slices.DeleteFunc(names, func(n string) bool { return !touching[n] }), nil
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

var borders = sync.OnceValue(func() [][]piece {
	out := make([][]piece, len(systems))
	for i := range out {
		out[i] = findBorders(System(i).outlines())
	}
	return out
})

func bordersOf(s System) []piece { return borders()[s] }

// Limits are the borders between the classes of a system, straight lines between
// two soils each.
func Limits(s System) [][2]Fractions {
	var out [][2]Fractions
	for _, p := range bordersOf(s) {
		out = append(out, [2]Fractions{p.a, p.b})
	}
	return out
}

// findBorders pairs the fields whose sides run along each other.
func findBorders(fields []outline) []piece {
	var out []piece
	for i, one := range fields {
		for _, two := range fields[i+1:] {
			for _, e := range one.sides {
				for _, g := range two.sides {
					if a, b, ok := e.shared(&g); ok {
						out = append(out, piece{a.soil(), b.soil(), [2]string{one.class, two.class}})
					}
				}
			}
		}
	}
	return out
}

func (f Fractions) plus(g Fractions, k float64) Fractions {
	return Fractions{f.Sand + k*g.Sand, f.Silt + k*g.Silt, f.Clay + k*g.Clay}
}
func (f Fractions) minus(g Fractions) Fractions { return f.plus(g, -1) }
func (f Fractions) dot(g Fractions) float64     { return f.Sand*g.Sand + f.Silt*g.Silt + f.Clay*g.Clay }
