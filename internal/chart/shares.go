package chart

import (
	"math"
	"strings"

	"mudline/internal/look"
	"mudline/internal/raster"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// layer is a block of a stacked column.
type layer struct {
	part
	percent float64
	// other is the second kind of a layer of two that were not told apart.
	other *part
}

// rulerLayers are the layers by thickness, from the floor up; false where they
// were not measured.
func rulerLayers(s *reading.Shares, parts []part, o Options) ([]layer, bool) {
	if s == nil {
		return nil, false
	}
	var out []layer
	sum := 0.0
	add := func(v *float64, i int, other int) {
		if v == nil || !(*v >= 0 && *v <= 100) {
			return
		}
		l := layer{part: parts[i], percent: *v}
		if other > 0 {
			l.other = &parts[other]
			l.name = o.say("chart.both", words.Name("a", parts[i].name), words.Name("b", parts[other].name))
			l.letter = parts[i].letter + "+" + parts[other].letter
		}
		sum += *v
		out = append(out, l)
	}
	add(s.Sand, 0, 0)
	add(s.SandAndSilt, 0, 1)
	add(s.Silt, 1, 0)
	add(s.SiltAndClay, 1, 2)
	add(s.Clay, 2, 0)
	return out, math.Abs(sum-100) <= 1
}

// Shares draws what a ruler on the layers says beside what is corrected for
// settling and packing, as two columns, and the
// intervals of the corrected one.
func Shares(r reading.Reading, o Options) *Drawing {
	title := o.say("chart.shares-title")
	parts, ok := partsOf(r, o)
	if !ok {
		return nothing(o, title, o.say("chart.no-shares"))
	}
	d := newDrawing(o, math.Max(300, math.Min(0.75*o.width(), 420)), title)
	y := scale{lo: 0, hi: 100, from: d.Height - 40, to: 46}
	// Figures, the ruler's column, a gap, the corrected one, whiskers, figures.
	wide := (d.Width - 24) * 0.27
	leftX := 38.0
	rightX := leftX + wide + 0.11*d.Width
	ruler, told := rulerLayers(r.ByThickness, parts, o)
	var corrected []layer
	for _, p := range parts {
		corrected = append(corrected, layer{part: p, percent: p.e.Percent})
	}
	for _, t := range steps(100, 5) {
		d.stroke(rule, 1, nil, segment(leftX-5, y.at(t.at), rightX+wide+33, y.at(t.at)))
		d.write(text{at: Point{X: leftX - 8, Y: y.at(t.at) + 4}, words: t.label, size: smallSize, anchor: end}, soft)
	}
	d.heading(o.say("chart.ruler"), o.say("chart.by-height"), leftX, wide)
	d.heading(o.say("chart.corrected"), o.say("chart.by-weight-unit"), rightX, wide)
	if told {
		d.column(ruler, y, leftX, wide, o)
		d.links(ruler, corrected, y, leftX+wide, rightX)
	} else {
		d.add(mark{paths: [][]Point{rectangle(leftX, y.to, leftX+wide, y.from)}, closed: true, line: soft, width: 1, dash: []float64{4, 4}})
		for i, line := range wrap(o.say("chart.no-layers"), smallSize, wide-12) {
			d.write(text{at: Point{X: leftX + wide/2, Y: (y.from+y.to)/2 + 15*float64(i)}, words: line, size: smallSize, anchor: middle}, ink)
		}
	}
	d.column(corrected, y, rightX, wide, o)
	d.intervals(parts, y, rightX+wide, o)
	d.legend([]note{{o.say("chart.limit"), func(d *Drawing, at Point) {
		d.whisker(ink, at.X+keyWide/2, at.Y-6, at.Y+6)
		d.disc(ink, Point{X: at.X + keyWide/2, Y: at.Y}, 2.8)
	}}}, y.from+26)
	d.Desc = sharesWords(ruler, told, parts, o.Language.Say(r.Reason()), o)
	return d
}

func (d *Drawing) heading(name, unit string, x, wide float64) {
	d.write(text{at: Point{X: x, Y: 20}, words: fit(name, bodySize, wide+30), size: bodySize, bold: true}, ink)
	d.write(text{at: Point{X: x, Y: 36}, words: fit(unit, smallSize, wide+30), size: smallSize}, soft)
}

// column stacks layers from the floor up, a gap of the ground between them.
func (d *Drawing) column(layers []layer, y scale, x, wide float64, o Options) {
	from := 0.0
	for _, l := range layers {
		y0, y1 := y.at(from+l.percent), y.at(from)
		from += l.percent
		if y1-y0 < 0.05 {
			continue
		}
		lines := l.words(y1-y0, wide-8, o)
		half := 0.0
		for _, t := range lines {
			half = math.Max(half, widthOf(t, bodySize*heavy)/2)
		}
		const line = lineHeight
		mid, tall := (y0+y1)/2, line*float64(len(lines))
		free := box{x + wide/2 - half - 3, mid - tall/2 - 3, x + wide/2 + half + 3, mid + tall/2 + 3}
		if len(lines) == 0 {
			free = box{}
		}
		d.patterned(l.part, x, y0, x+wide, y1, free)
		if l.other != nil { // the upper half is the finer of the two
			d.patterned(*l.other, x, y0, x+wide, mid, free)
		}
		// Words stand on a plate of the layer's first colour.
		d.area(paint{own: l.Colour}, rectangle(free.x0, free.y0, free.x1, free.y1))
		for i, t := range lines {
			d.write(text{at: Point{X: x + wide/2, Y: mid - tall/2 + line*float64(i) + 11.5}, words: t, size: bodySize, bold: i < len(lines)-1 || len(lines) == 1, anchor: middle}, paint{own: look.InkOn(l.Colour)})
		}
		d.add(mark{paths: [][]Point{rectangle(x, y0, x+wide, y1)}, closed: true, line: card, width: 2})
		d.add(mark{paths: [][]Point{rectangle(x, y0+0.8, x+wide, y1-0.8)}, closed: true, line: soft, width: 1})
	}
}

// lineHeight is that of the words in a layer.
const lineHeight = 15

// words are the lines to write in a layer, as many as there is room for; the last
// is the figure.
func (l layer) words(tall, wide float64, o Options) []string {
	value := o.say("chart.percent-sign", words.Whole("v", l.percent))
	lines := append(wrap(l.name, bodySize*heavy, wide), value)
	if tall >= lineHeight*float64(len(lines))+4 {
		return lines
	}
	for _, name := range []string{l.name, l.letter} {
		if one := name + " " + value; tall >= lineHeight && widthOf(one, bodySize*heavy) <= wide {
			return []string{one}
		}
	}
	return nil
}

// links lead from each limit of one column to the same limit of the other.
func (d *Drawing) links(a, b []layer, y scale, x0, x1 float64) {
	limits := func(layers []layer) map[look.Pattern]float64 {
		out, sum := map[look.Pattern]float64{}, 0.0
		for _, l := range layers {
			sum += l.percent
			last := l.Pattern
			if l.other != nil {
				last = l.other.Pattern
			}
			out[last] = sum
		}
		return out
	}
	from, to := limits(a), limits(b)
	for _, p := range []look.Pattern{look.Dotted, look.Dashed} {
		u, okU := from[p]
		v, okV := to[p]
		if okU && okV {
			d.stroke(soft, 1, []float64{3, 3}, segment(x0+2, y.at(u), x1-2, y.at(v)))
		}
	}
}

// intervals draws, right of the column, where the limits between its layers may
// lie, and writes how much of each part there may be.
func (d *Drawing) intervals(parts []part, y scale, x float64, o Options) {
	sand, silt, clay := parts[0].e, parts[1].e, parts[2].e
	limit := func(x float64, at, low, high float64) {
		d.whisker(ink, x, y.at(low), y.at(high))
		d.disc(ink, Point{X: x, Y: y.at(at)}, 2.8)
	}
	limit(x+12, sand.Percent, sand.Low, sand.High)
	limit(x+25, 100-clay.Percent, 100-clay.High, 100-clay.Low)
	left := x + 40
	middles := []float64{y.at(sand.Percent / 2), y.at(sand.Percent + silt.Percent/2), y.at(100 - clay.Percent/2)}
	for i, mid := range raster.Spread(middles, 31, y.to+10, y.from-20) {
		d.write(text{at: Point{X: left, Y: mid}, words: fit(parts[i].name, smallSize*heavy, d.Width-left-4), size: smallSize, bold: true}, ink)
		span := o.say("chart.span", words.Whole("low", parts[i].e.Low), words.Whole("high", parts[i].e.High))
		if parts[i].e.High <= parts[i].e.Low {
			span = o.say("chart.percent-sign", words.Whole("v", parts[i].e.Percent))
		}
		d.write(text{at: Point{X: left, Y: mid + 14}, words: span, size: smallSize}, ink)
	}
}

func sharesWords(ruler []layer, told bool, parts []part, why string, o Options) string {
	out := o.say("chart.no-layers-words")
	if told {
		var list []string
		for _, l := range ruler {
			list = append(list, o.say("chart.part-percent", words.Name("part", l.name), words.Whole("v", l.percent)))
		}
		out = o.say("chart.by-thickness") + " " + strings.Join(list, ", ") + "."
	}
	out += " " + o.say("chart.corrected-words") + " " + partsWords(parts, o) + "."
	if why != "" {
		out += " " + fit(why, 1, 400)
	}
	return out
}
