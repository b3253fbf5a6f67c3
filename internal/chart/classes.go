package chart

import (
	"math"

	"mudline/texture"
)

// marked are the boxes of the symbols, which class names keep out of as far as
// they can.
func marked(f frame, soils []Soil) []box {
	var out []box
	about := func(s soil, r float64) {
		p := f.at(s)
		out = append(out, box{p.X - r, p.Y - r, p.X + r, p.Y + r})
	}
	for _, s := range soils {
		if len(soils) > 1 {
			about(s.middle(), 5)
			continue
		}
		about(s.middle(), 8)
		if joint, ok := s.joint(); ok {
			about(joint, 8)
		}
	}
	return out
}

// classes draws the limits and names of the classes, and the triangle itself.
func (d *Drawing) classes(f frame, system texture.System, taken []box, o Options) {
	var lines [][]Point
	for _, b := range borders(system) {
		lines = append(lines, f.path(b[0], b[1]))
	}
	if len(lines) > 0 {
		d.stroke(edge, 1.1, nil, lines...)
	}
	d.add(mark{paths: [][]Point{f.path(soil{100, 0, 0}, soil{0, 0, 100}, soil{0, 100, 0})}, closed: true, line: ink, width: 1.5})
	for _, n := range names(system) {
		if name, translated := d.className(f, n, system, taken, o); translated {
			taken = append(taken, name) // longer words than those the places were chosen for
		}
	}
}

// className writes the name of a class, and gives the room it takes.
func (d *Drawing) className(f frame, n className, system texture.System, taken []box, o Options) (room box, translated bool) {
	size := math.Min(math.Max(9.6, f.side/32), 14)
	lines := n.lines
	symbol := texture.Symbol(n.class) // the same in every language
	switch whole := o.Language.Word("class", n.class); {
	case symbol != "":
		size *= 0.9
	case whole != n.class:
		translated = true
		lines = stacked(whole, size, f.side*0.17)
	case lines == nil:
		lines = stacked(whole, size, f.side*0.14)
	}
	at := f.at(n.at)
	t := text{size: size, anchor: middle, halo: true}
	if n.beside > 0 { // its field is too narrow: beside the triangle, with a line to it
		t.anchor = end
		place := f.at(soil{100 - n.beside, 0, n.beside})
		d.stroke(edge, 0.9, nil, []Point{{X: place.X - 10, Y: place.Y - size/2}, at})
		d.disc(edge, at, 1.6)
		at = Point{X: place.X - 13, Y: place.Y - size/2}
	} else {
		wide := 0.0
		for _, line := range lines {
			wide = math.Max(wide, widthOf(line, size))
		}
		tall := size * 1.08 * float64(len(lines))
		at = f.clear(n.class, at, wide, tall, system, taken)
		room = box{at.X - wide/2, at.Y - tall/2, at.X + wide/2, at.Y + tall/2}
	}
	for i, line := range lines {
		t.words, t.at = line, Point{X: at.X, Y: at.Y + size*(0.35+1.08*(float64(i)-float64(len(lines)-1)/2))}
		d.write(t, soft)
	}
	return room, translated
}

// clear moves a name off what is taken, as little as it can within its class.
func (f frame) clear(class string, at Point, wide, tall float64, system texture.System, taken []box) Point {
	best, least := at, math.Inf(1)
	for _, far := range []float64{0, 10, 14, 18, 24, 30} {
		for i := range 8 {
			sin, cos := math.Sincos(math.Pi * float64(i) / 4)
			p := Point{X: at.X + far*cos*1.3, Y: at.Y + far*sin}
			s := f.soil(p)
			if name, err := texture.ClassOf(texture.Fractions{Sand: s[0], Silt: s[1], Clay: s[2]}, system); err != nil || name != class {
				continue
			}
			cost := far
			for _, b := range taken {
				cost += 100 * b.overlap(box{p.X - wide/2, p.Y - tall/2, p.X + wide/2, p.Y + tall/2})
			}
			if cost < least {
				best, least = p, cost
			}
		}
	}
	return best
}

// soil is the soil at a place of the triangle, the inverse of at.
func (f frame) soil(p Point) soil {
	clay := (f.base - p.Y) / (f.side * rise) * 100
	silt := (p.X-f.left)/f.side*100 - clay/2
	return soil{100 - clay - silt, silt, clay}
}
