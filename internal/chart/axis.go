package chart

import (
	"math"
	"strconv"

	"mudline/internal/look"
)

// scale turns a value into a coordinate. Values outside lo and hi are drawn at
// the ends: nothing leaves the drawing.
type scale struct {
	lo, hi, from, to float64
	log              bool
}

func (s scale) at(v float64) float64 {
	lo, hi := s.lo, s.hi
	v = math.Min(math.Max(v, lo), hi)
	if s.log {
		lo, hi, v = math.Log(lo), math.Log(hi), math.Log(v)
	}
	if !(hi > lo) {
		return (s.from + s.to) / 2
	}
	return s.from + (s.to-s.from)*(v-lo)/(hi-lo)
}

// has says whether a value lies on the scale.
func (s scale) has(v float64) bool { return v >= s.lo && v <= s.hi }

// plot is the rectangle of a chart with axes.
type plot struct {
	*Drawing
	x, y scale
}

// tick is a value of an axis with its label; one without is a mark only.
type tick struct {
	at    float64
	label string
}

// steps are the ticks from 0 to at least hi in steps of 1, 2 or 5 times a power
// of ten, about n of them; the last is the end of the axis.
func steps(hi float64, n int) []tick {
	if !(hi >= 1e-9 && hi <= 1e12) { // no height, nor a number
		hi = 1
	}
	raw := hi / float64(n)
	unit := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * unit
	for _, k := range []float64{1, 2, 5} {
		if k*unit >= raw*(1-1e-9) {
			step = k * unit
			break
		}
	}
	var out []tick
	for i := 0; ; i++ {
		v := step * float64(i)
		out = append(out, tick{v, strconv.FormatFloat(v, 'g', 6, 64)})
		if v >= hi*(1-1e-9) {
			return out
		}
	}
}

// room leaves labels off where they would touch; ticks come in the order of
// their weight.
func (s scale) room(ticks []tick, size float64) []tick {
	type taken struct{ from, to float64 }
	var used []taken
	var out []tick
	for _, t := range ticks {
		if !s.has(t.at) {
			continue
		}
		half := widthOf(t.label, size)/2 + 3
		x := s.at(t.at)
		for _, u := range used {
			if x-half < u.to && x+half > u.from {
				t.label = ""
				break
			}
		}
		if t.label != "" {
			used = append(used, taken{x - half, x + half})
		}
		out = append(out, t)
	}
	return out
}

// axes draws grid, ticks and labels: values up the left, and along the base.
func (p plot) axes(up, along []tick) {
	for _, t := range up {
		y := p.y.at(t.at)
		p.stroke(rule, 1, nil, segment(p.x.from, y, p.x.to, y))
		p.write(text{at: Point{X: p.x.from - 6, Y: y + smallSize*0.36}, words: t.label, size: smallSize, anchor: end}, soft)
	}
	for _, t := range along {
		x, long := p.x.at(t.at), 3.0
		if t.label != "" {
			long = 5
		}
		p.stroke(edge, 1, nil, segment(x, p.y.from, x, p.y.from+long))
		p.write(text{at: Point{X: x, Y: p.y.from + 17}, words: t.label, size: smallSize, anchor: middle}, soft)
	}
	p.stroke(edge, 1.2, nil, segment(p.x.from, p.y.from, p.x.to, p.y.from))
}

// whisker is an upright error bar with caps.
func (d *Drawing) whisker(line paint, x, y0, y1 float64) { d.whiskerOf(line, 1.4, x, y0, y1) }

func (d *Drawing) whiskerOf(line paint, width, x, y0, y1 float64) {
	const cap = 3.5
	d.stroke(line, width, nil, segment(x, y0, x, y1), segment(x-cap, y0, x+cap, y0), segment(x-cap, y1, x+cap, y1))
}

// symbol is the shape of a point, so that series differ without colour.
type symbol int

const (
	circle symbol = iota
	square
	triangle
	diamond
)

// outline is the symbol about a point; r is about its radius. A circle has none:
// it is a dot.
func (s symbol) outline(at Point, r float64) []Point {
	switch s {
	case square:
		r *= 0.9
		return rectangle(at.X-r, at.Y-r, at.X+r, at.Y+r)
	case triangle:
		return []Point{{X: at.X, Y: at.Y - 1.2*r}, {X: at.X + 1.1*r, Y: at.Y + 0.8*r}, {X: at.X - 1.1*r, Y: at.Y + 0.8*r}}
	case diamond:
		r *= 1.25
		return []Point{{X: at.X, Y: at.Y - r}, {X: at.X + r, Y: at.Y}, {X: at.X, Y: at.Y + r}, {X: at.X - r, Y: at.Y}}
	}
	return nil
}

// put draws a symbol with a rim of the ground's colour.
func (d *Drawing) put(s symbol, at Point, r float64, fill paint) { d.putRimmed(s, at, r, fill, card) }

func (d *Drawing) putRimmed(s symbol, at Point, r float64, fill, around paint) {
	const rim = 0.7
	if s == circle {
		d.disc(around, at, r+rim)
		d.disc(fill, at, r-rim)
		return
	}
	d.add(mark{paths: [][]Point{s.outline(at, r)}, closed: true, fill: fill, line: around, width: 2 * rim})
}

// seamed draws a line of the jar in its seam.
func (d *Drawing) seamed(l look.Line, width float64, path []Point) {
	d.stroke(seam, width+2, nil, path)
	d.stroke(paint{own: l.Colour}, width, l.Dashes(width), path)
}

// seamedWhisker is a whisker in the colour of a line, in its seam.
func (d *Drawing) seamedWhisker(l look.Line, x, y0, y1 float64) {
	d.whiskerOf(seam, 3, x, y0, y1)
	d.whiskerOf(paint{own: l.Colour}, 1.4, x, y0, y1)
}

func (d *Drawing) disc(fill paint, at Point, r float64) {
	d.add(mark{paths: [][]Point{{at}}, dot: r, fill: fill})
}
