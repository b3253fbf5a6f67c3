package chart

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// sandLimitUM is where sand ends and gravel begins (Soil Survey Manual 2017).
const sandLimitUM = 2000

// clayLimitUM is where clay ends in all systems.
const clayLimitUM = 2

// systemOf is the system of a reading; USDA where it names none.
func systemOf(r reading.Reading) texture.System {
	s, err := texture.ParseSystem(r.System)
	if err != nil {
		return texture.USDA
	}
	return s
}

// SizeCurve draws the percent of the soil that is finer than each grain size,
// with its 90 % interval, and where clay, silt and sand end. Where many photos show the
// curve it is that of the whole inversion, with the sizes that they do not tell apart
// hatched and the tangents as points beside it; else it is that of the tangents.
func SizeCurve(r reading.Reading, o Options) *Drawing {
	title := o.say("chart.sizes-title")
	tangents := sizePoints(r.SizeCurve)
	points, grains := tangents, grainsOf(r)
	if grains != nil {
		points = grains.points
	}
	if len(points) < 2 {
		return nothing(o, title, o.say("chart.no-sizes"))
	}
	d := newDrawing(o, math.Max(240, 0.6*o.width()), title)
	lo, hi := math.Min(0.6, points[0].SizeUM), math.Max(sandLimitUM, points[len(points)-1].SizeUM)
	if n := len(tangents); n > 0 {
		lo, hi = math.Min(lo, tangents[0].SizeUM), math.Max(hi, tangents[n-1].SizeUM)
	}
	p := plot{d,
		scale{lo: lo, hi: hi, from: 40, to: d.Width - 22, log: true},
		scale{lo: 0, hi: 100, from: d.Height - 46, to: 60}}
	d.write(text{at: Point{X: 12, Y: 20}, words: o.say("chart.finer-axis"), size: smallSize}, soft)
	if grains != nil {
		p.hatch(lo, grains.finest)
		p.hatch(grains.coarsest, hi)
	}
	p.axes(steps(100, 5), p.x.room(o.decimals(sizes(lo, hi)), smallSize))
	silt := systemOf(r).SiltLimitUM()
	p.zones([]float64{clayLimitUM, silt, sandLimitUM}, o)
	d.write(text{at: Point{X: (p.x.from + p.x.to) / 2, Y: p.y.from + 35}, words: o.say("chart.size-axis"), size: smallSize, anchor: middle}, soft)
	var list []string
	for _, q := range points {
		list = append(list, o.say("chart.size", words.Name("size", o.decimal(figure(q.SizeUM))), words.Whole("v", q.Finer), words.Whole("low", q.Low), words.Whole("high", q.High)))
	}
	d.Desc = o.say("chart.sizes-words") + " " + strings.Join(list, "; ") + ". " +
		o.say("chart.size-limits", words.Name("silt", o.decimal(figure(silt))))
	if grains == nil {
		p.sizeBand(points, 1, nil)
		p.sizeMarks(points)
		return d
	}
	p.grainBands(grains)
	p.opinions(tangents)
	p.grainLegend(grains, tangents, o)
	d.Desc += " " + strings.Join(grains.blind(o), " ")
	return d
}

// sizePoints keeps points that can be drawn, in order of size.
func sizePoints(list []reading.SizePoint) []reading.SizePoint {
	var out []reading.SizePoint
	share := func(v float64) bool { return v >= -0.01 && v <= 100.01 }
	for _, q := range list {
		if q.SizeUM >= 1e-3 && q.SizeUM < 1e6 && share(q.Finer) && share(q.Low) && share(q.High) {
			out = append(out, q)
		}
	}
	slices.SortStableFunc(out, func(a, b reading.SizePoint) int { return cmp.Compare(a.SizeUM, b.SizeUM) })
	return out
}

// sizeBand draws the curve and its interval; pale makes that fainter.
func (p plot) sizeBand(points []reading.SizePoint, pale float64, dash []float64) {
	if len(points) < 2 {
		return
	}
	var upper, lower, line []Point
	for _, q := range points {
		x := p.x.at(q.SizeUM)
		upper = append(upper, Point{X: x, Y: p.y.at(q.High)})
		lower = append(lower, Point{X: x, Y: p.y.at(q.Low)})
		line = append(line, Point{X: x, Y: p.y.at(q.Finer)})
	}
	slices.Reverse(lower)
	p.add(mark{paths: [][]Point{append(upper, lower...)}, closed: true, fill: cloud, alpha: bandAlpha * pale})
	p.stroke(cloud, 2, dash, line)
}

func (p plot) sizeMarks(points []reading.SizePoint) {
	for _, q := range points {
		p.put(circle, Point{X: p.x.at(q.SizeUM), Y: p.y.at(q.Finer)}, 3.4, cloud)
	}
}

// zones marks the limits of clay, silt and sand, and names each above the plot.
func (p plot) zones(limits []float64, o Options) {
	parts := partsIn(reading.Fractions{}, o)
	slices.Reverse(parts)
	from := p.x.from
	for i, limit := range limits {
		to := p.x.at(limit)
		p.stroke(ink, 1.1, []float64{5, 3}, segment(to, p.y.to-18, to, p.y.from))
		p.patterned(parts[i], from, p.y.to-10, to, p.y.to, box{})
		p.write(text{at: Point{X: (from + to) / 2, Y: p.y.to - 15}, words: fit(parts[i].name, bodySize, to-from), size: bodySize, bold: true, anchor: middle}, ink)
		from = to
	}
}

// sizes are the ticks of a size axis: the limits first, then decades, then 2 and 5.
func sizes(lo, hi float64) []tick {
	out := []tick{{2, "2"}, {50, "50"}, {20, "20"}, {2000, "2000"}}
	for _, k := range []float64{1, 5, 2, 3, 4, 6, 7, 8, 9} {
		for unit := math.Pow(10, math.Floor(math.Log10(lo))); unit <= hi; unit *= 10 {
			t := tick{k * unit, figure(k * unit)}
			if k > 2 && k != 5 {
				t.label = ""
			}
			if !slices.ContainsFunc(out, func(u tick) bool { return math.Abs(u.at-t.at) < 1e-9*t.at }) {
				out = append(out, t)
			}
		}
	}
	return out
}

// figure writes a number with three figures at most, and none that say nothing.
func figure(v float64) string {
	if v >= 1000 {
		return strconv.FormatFloat(math.Round(v), 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}
