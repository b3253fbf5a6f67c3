package chart

import (
	"math"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// grains is a curve of grain sizes and the ends of what the photos tell of it.
type grains struct {
	points           []reading.SizePoint
	finest, coarsest float64 // um
}

// grainsOf is that of a reading; nil where it has none that can be drawn.
func grainsOf(r reading.Reading) *grains {
	if r.GrainCurve == nil {
		return nil
	}
	g := &grains{sizePoints(r.GrainCurve.Points), r.GrainCurve.FinestUM, r.GrainCurve.CoarsestUM}
	if len(g.points) < 2 || !(g.finest >= 1e-3 && g.coarsest > g.finest && g.coarsest < 1e6) {
		return nil
	}
	return g
}

// blind says in words which sizes the photos do not tell apart.
func (g *grains) blind(o Options) []string { return Blind(g.finest, g.coarsest, o.Language) }

// Blind says in words that the photos do not tell apart the sizes over coarsestUM, nor
// those under finestUM.
func Blind(finestUM, coarsestUM float64, l *words.Language) []string {
	o := Options{Language: l}
	size := func(um float64) words.Arg { return words.Name("size", o.decimal(twoFigures(um))) }
	return []string{o.say("grains.blind-coarse", size(coarsestUM)), o.say("grains.blind-fine", size(finestUM))}
}

// twoFigures is as many as the ends are good for.
func twoFigures(v float64) string {
	if v <= 0 {
		return "0"
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return figure(math.Round(v/unit) * unit)
}

// between is the curve from one size to another, its ends found by straight lines in
// the logarithm of size.
func (g *grains) between(lo, hi float64) (out []reading.SizePoint) {
	at := func(a, b reading.SizePoint, um float64) reading.SizePoint {
		f := math.Log(um/a.SizeUM) / math.Log(b.SizeUM/a.SizeUM)
		mix := func(x, y float64) float64 { return x + f*(y-x) }
		return reading.SizePoint{SizeUM: um, Finer: mix(a.Finer, b.Finer), Low: mix(a.Low, b.Low), High: mix(a.High, b.High)}
	}
	for i, q := range g.points {
		if i > 0 {
			before := g.points[i-1]
			for _, end := range []float64{lo, hi} {
				if before.SizeUM < end && end < q.SizeUM {
					out = append(out, at(before, q, end))
				}
			}
		}
		if q.SizeUM >= lo && q.SizeUM <= hi {
			out = append(out, q)
		}
	}
	return out
}

// blindDash and blindAlpha make the curve fainter where it is not seen.
var blindDash = []float64{3, 4}

const blindAlpha = 0.45

func (p plot) grainBands(g *grains) {
	p.sizeBand(g.between(p.x.lo, g.finest), blindAlpha, blindDash)
	p.sizeBand(g.between(g.coarsest, p.x.hi), blindAlpha, blindDash)
	seen := g.between(g.finest, g.coarsest)
	p.sizeBand(seen, 1, nil)
}

// hatch marks sizes that are not seen: slanting lines from edge to edge of the plot.
func (p plot) hatch(lo, hi float64) {
	x0, x1 := p.x.at(lo), p.x.at(hi)
	if x1-x0 < 1 {
		return
	}
	p.hatched(x0, p.y.to, x1, p.y.from, 8)
}

// hatched fills a rectangle with slanting lines that lie step apart.
func (d *Drawing) hatched(x0, y0, x1, y1, step float64) {
	var lines [][]Point
	for c := x0 + y0 + step/2; c < x1+y1; c += step { // on a line x + y = c
		from, to := math.Max(x0, c-y1), math.Min(x1, c-y0)
		if to-from > 0.5 {
			lines = append(lines, segment(from, c-from, to, c-to))
		}
	}
	d.stroke(edge, 0.7, nil, lines...)
}

// opinions are the points of the tangents, with their doubt.
func (p plot) opinions(tangents []reading.SizePoint) {
	for _, q := range tangents {
		x := p.x.at(q.SizeUM)
		p.stroke(ink, 1, nil, segment(x, p.y.at(q.Low), x, p.y.at(q.High)))
		p.put(diamond, Point{X: x, Y: p.y.at(q.Finer)}, 3.4, ink)
	}
}

// grainLegend says what is what, and in full sentences what is not seen.
func (p plot) grainLegend(g *grains, tangents []reading.SizePoint, o Options) {
	notes := []note{{o.say("chart.grain-curve"), lineKey(cloud, nil)}}
	if len(tangents) > 0 {
		notes = append(notes, note{o.say("chart.tangents"), symbolKey(diamond, ink)})
	}
	p.legend(notes, p.y.from+56)
	y := p.Height + 4
	for _, sentence := range g.blind(o) {
		p.hatched(12, y-9, 12+keyWide, y+1, 5)
		for _, line := range wrap(sentence, smallSize, p.Width-24-keyWide-6) {
			p.write(text{at: Point{X: 12 + keyWide + 6, Y: y}, words: line, size: smallSize}, ink)
			y += 15
		}
		y += 3
	}
	p.grow(y)
}
